"""Questions and answers as plain data: what `python3 -m codes` reads and prints."""
