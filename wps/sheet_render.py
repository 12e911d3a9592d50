"""From the HTML of a sheet to the bytes of its PDF, the same bytes every time. WeasyPrint is loaded on first use."""

import logging
from dataclasses import dataclass
from datetime import UTC, date, datetime
from typing import Any

from wps.sheet_files import OwnFiles, url_of

VARIANT = "pdf/a-3a"
"""Asked of WeasyPrint: tagged, fonts embedded, data attached. No validator has confirmed it; nothing claims it."""
PAPERS = {"a4": ("A4", "210mm 297mm"), "letter": ("Letter", "8.5in 11in")}
"""Token to name and size."""
TYPE_SIZES = ("8.7pt", "8.2pt", "7.6pt", "6.9pt")
"""Sizes of the smaller type, tried in turn until a sheet fits on one side. Below the last it cannot be read."""
MANY_SIDES = "8pt"


class RefusedAddress(RuntimeError):
    """The HTML asked for something that is not ours. Nothing is rendered."""


@dataclass(frozen=True, slots=True)
class Attached:
    """Data that travels inside the PDF."""

    name: str
    description: str
    data: bytes


def pdf(html: str, paper: str, on: date, attached: Attached, one_side: bool) -> tuple[bytes, int]:
    """The bytes and the number of sides. `on` is the date in the file, so that it does not depend on the clock.

    Where `one_side` is wished, the largest type with which it comes about is taken; where none helps, it has more.
    Raises RefusedAddress.
    """
    files = OwnFiles()
    for size in (*(TYPE_SIZES if one_side else ()), MANY_SIDES):
        document = _laid_out(html, paper, files, f"html {{ font-size: {size}; }}")
        if len(document.pages) == 1:
            break
    _stamp(document.metadata, on, attached)
    found = document.write_pdf(**_OPTIONS)
    if files.refused:
        raise RefusedAddress(f"The sheet asked for {', '.join(files.refused)}; it reads its own files only.")
    return found, len(document.pages)


_OPTIONS: dict[str, Any] = {"pdf_variant": VARIANT, "pdf_tags": True}


def _laid_out(html: str, paper: str, files: OwnFiles, more: str) -> Any:
    from weasyprint import CSS, HTML
    from weasyprint.text.fonts import FontConfiguration

    for chatty in ("weasyprint.progress", "fontTools"):
        logging.getLogger(chatty).setLevel(logging.WARNING)
    fonts = FontConfiguration()
    page = f"@page {{ size: {PAPERS[paper][1]}; }} {more}"
    sheets = [CSS(url=url_of("sheet.css"), url_fetcher=files, font_config=fonts), CSS(string=page, url_fetcher=files)]
    return HTML(string=html, url_fetcher=files).render(font_config=fonts, stylesheets=sheets, **_OPTIONS)


def _stamp(metadata: Any, on: date, attached: Attached) -> None:
    """Dates and data of the file."""
    from weasyprint import Attachment

    moment = datetime(on.year, on.month, on.day, tzinfo=UTC)
    metadata.created = metadata.modified = moment.isoformat()
    metadata.attachments.append(
        Attachment(
            string=attached.data,
            name=attached.name,
            description=attached.description,
            created=moment,
            modified=moment,
            relationship="Data",
            url_fetcher=OwnFiles(),
        )
    )
