"""The files that a sheet may read: its style sheet and the register's fonts. Nothing else, from nowhere else."""

from pathlib import Path
from typing import Any

SCHEME = "sheet-file"
_TOP = Path(__file__).resolve().parent
_FONTS = _TOP.parent / "register" / "static" / "register" / "fonts"
FILES = {
    "sheet.css": (_TOP / "sheet.css", "text/css"),
    **{
        name: (_FONTS / f"ibm-plex-sans-{name}", "font/woff2")
        for name in (
            "latin-400-normal.woff2",
            "latin-600-normal.woff2",
            "latin-ext-400-normal.woff2",
            "latin-ext-600-normal.woff2",
        )
    },
}
"""Name in the address to file and type."""


def url_of(name: str) -> str:
    """The address by which a sheet asks for one of the files. Example: "sheet-file:sheet.css"."""
    return f"{SCHEME}:{name}"


class OwnFiles:
    """Gives WeasyPrint our own files and refuses every other address, also of this machine's files.

    `refused` lists what was asked for in vain; a sheet is not issued if there is anything.
    """

    _fail_on_errors = False

    def __init__(self) -> None:
        self.refused: list[str] = []

    def __call__(self, url: str) -> Any:
        return self.fetch(url)

    def fetch(self, url: str, headers: Any = None) -> Any:
        """The file behind an address. Raises ValueError for any that is not in FILES."""
        from weasyprint.urls import URLFetcherResponse

        scheme, _, name = url.partition(":")
        if scheme != SCHEME or name not in FILES:
            self.refused.append(url[:200])
            raise ValueError(f"a sheet reads its own files only, not {url[:200]}")
        file, kind = FILES[name]
        return URLFetcherResponse(url, file.read_bytes(), {"Content-Type": kind})
