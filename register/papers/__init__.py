"""What is printed beside the sheets of procedures: kept by its hash, answered for when its code is scanned."""
