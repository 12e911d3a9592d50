"""The files that a sheet of a procedure may read: its style sheet and the register's fonts. Nothing else."""

from pathlib import Path

from register.base.pdf import FONTS, NamedFiles, url_of

FILES = {"sheet.css": (Path(__file__).resolve().parent / "sheet.css", "text/css"), **FONTS}
"""Name in the address to file and type."""


class OwnFiles(NamedFiles):
    """The fetcher of these files."""

    def __init__(self) -> None:
        super().__init__(FILES)


__all__ = ["FILES", "OwnFiles", "url_of"]
