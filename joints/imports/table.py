"""The table of a list of welds, as read from a file; shared with every other list that is sent in."""

from register.lists.table import MAX_BYTES, MAX_CELL, MAX_COLUMNS, MAX_ROWS, Cell, Refusal, Table, checked

__all__ = ["MAX_BYTES", "MAX_CELL", "MAX_COLUMNS", "MAX_ROWS", "Cell", "Refusal", "Table", "checked"]
