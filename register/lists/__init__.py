"""Lists that people send in as files: cells out of text, each cell to a value, a message for each that is wrong."""
