"""Questions and answers as plain data: what `python -m codes` reads and prints."""
