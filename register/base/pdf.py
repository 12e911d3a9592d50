"""PDFs by WeasyPrint from our own HTML: a fetcher that gives out named files and refuses every other address.

WeasyPrint is loaded on first use; it takes long and few requests need it.
"""

import logging
from collections.abc import Mapping
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

SCHEME = "sheet-file"
_FONTS = Path(__file__).resolve().parent.parent / "static" / "register" / "fonts"
FONTS: Mapping[str, tuple[Path, str]] = {
    name: (_FONTS / f"ibm-plex-sans-{name}", "font/woff2")
    for name in (
        "latin-400-normal.woff2",
        "latin-600-normal.woff2",
        "latin-ext-400-normal.woff2",
        "latin-ext-600-normal.woff2",
    )
}
"""Name in the address to file and type: the register's own typeface."""


class RefusedAddress(RuntimeError):
    """The HTML asked for something that is not ours. Nothing is rendered."""


def url_of(name: str) -> str:
    """The address by which a sheet asks for one of its files. Example: "sheet-file:sheet.css"."""
    return f"{SCHEME}:{name}"


class NamedFiles:
    """Gives WeasyPrint the named files and refuses every other address, also of this machine's files.

    `refused` lists what was asked for in vain; a sheet is not issued if there is anything.
    """

    _fail_on_errors = False

    def __init__(self, files: Mapping[str, tuple[Path, str]]) -> None:
        self.files = files
        self.refused: list[str] = []

    def __call__(self, url: str) -> Any:
        return self.fetch(url)

    def fetch(self, url: str, headers: Any = None) -> Any:
        """The file behind an address. Raises ValueError for any that is not among the files."""
        from weasyprint.urls import URLFetcherResponse

        scheme, _, name = url.partition(":")
        if scheme != SCHEME or name not in self.files:
            self.refused.append(url[:200])
            raise ValueError(f"a sheet reads its own files only, not {url[:200]}")
        file, kind = self.files[name]
        return URLFetcherResponse(url, file.read_bytes(), {"Content-Type": kind})


def pdf_of(html: str, css: Path, on: date) -> bytes:
    """The bytes of a plain sheet, the same every time. `on` is the date in the file. Raises RefusedAddress."""
    from weasyprint import CSS, HTML
    from weasyprint.text.fonts import FontConfiguration

    for chatty in ("weasyprint.progress", "fontTools"):
        logging.getLogger(chatty).setLevel(logging.WARNING)
    files, fonts = NamedFiles({**FONTS, css.name: (css, "text/css")}), FontConfiguration()
    style = CSS(url=url_of(css.name), url_fetcher=files, font_config=fonts)
    document = HTML(string=html, url_fetcher=files).render(font_config=fonts, stylesheets=[style], pdf_tags=True)
    moment = datetime(on.year, on.month, on.day, tzinfo=UTC).isoformat()
    document.metadata.created = document.metadata.modified = moment
    found: bytes = document.write_pdf(pdf_tags=True)
    if files.refused:
        raise RefusedAddress(f"The sheet asked for {', '.join(files.refused)}; it reads its own files only.")
    return found
