"""The log of who welded what: its rows, and files of it from the controllers of cells."""
