"""What the register holds of the codes: its tables with their marks, the firm's readings, the firm's ticks."""
