"""What falls due, sent out: as a calendar at a private address, and by mail once for each deadline."""
