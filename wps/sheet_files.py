"""The files that a sheet of a procedure may read: its style sheet and the register's fonts. Nothing else."""

from pathlib import Path

from register.base import pdf
from register.base.pdf import url_of

__all__ = ["OwnFiles", "url_of"]

STYLESHEET = Path(__file__).resolve().parent / "sheet.css"


class OwnFiles(pdf.OwnFiles):
    """What the renderer may read for a sheet of a procedure."""

    def __init__(self) -> None:
        super().__init__(STYLESHEET)
