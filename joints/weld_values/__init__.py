"""What a cell's controller logged while it welded, held against the ranges of the procedure, run by run."""
