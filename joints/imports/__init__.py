"""Lists of welds in: read and judged whole, shown first, written in one go or not at all."""
