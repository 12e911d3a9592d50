"""CSV as cells; the reader is shared with every other list that is sent in."""

from register.lists.text import NO_LIST, decode, read_csv

__all__ = ["NO_LIST", "decode", "read_csv"]
