"""A line at the foot of every side of a bound PDF, beside what the papers say of themselves.

Our own papers leave room for it under their foot. A scan has none to spare, so its side is made longer by a strip:
nothing that was sent in is covered.
"""

from collections.abc import Collection, Sequence
from io import BytesIO
from pathlib import Path
from typing import Any

from django.utils.html import format_html, format_html_join

from register.base.pdf import OwnFiles, seldom_swept

STYLE = Path(__file__).with_name("running.css")
MM = 72 / 25.4
WIDTH, HEIGHT = 100 * MM, 5 * MM
INSET = 10.5 * MM
"""From the right edge: where the foot of the papers ends."""
LOW = 3.2 * MM
"""From the lower edge; printers reach no lower than four millimetres, and the type stands above the middle."""
STRIP = 9 * MM
"""By so much the side of a scan grows."""
TYPE = "7.5pt"
TOGETHER = 250
"""So many lines are set at a time: more would take memory with the number of sides."""


def run_along(whole: Any, lines: Sequence[str], scans: Collection[int] = ()) -> None:
    """Put a line on each page of a pikepdf.Pdf; `scans`: the pages, from 0, that grow by a strip for it."""
    import pikepdf

    for first in range(0, len(lines), TOGETHER):
        # Stays open as long as the whole, which reads it when it is written.
        drawn = pikepdf.open(BytesIO(set_as_pages(lines[first : first + TOGETHER])))
        for at, line in enumerate(drawn.pages, start=first):
            page = whole.pages[at]
            if at in scans:
                _lengthen(page)
            page.add_overlay(line, pikepdf.Rectangle(*_place(page)))


def set_as_pages(lines: Sequence[str]) -> bytes:
    """Each line as a page of its own, as small as the line."""
    from register.base import pdf_style

    said = format_html_join("", "<p>{}</p>", ((line,) for line in lines))
    html = format_html("<html><head><title>{}</title></head><body>{}</body></html>", lines[0], said)
    size = f"{WIDTH:.2f}pt {HEIGHT:.2f}pt"
    with pdf_style.LOCK, seldom_swept():
        return bytes(pdf_style.laid_out(html, OwnFiles(STYLE), size, TYPE, {}).write_pdf())


def _turned(page: Any) -> int:
    return int(page.obj.get("/Rotate", 0)) % 360


def _lengthen(page: Any) -> None:
    """Add a strip under what is seen, whichever way the scanner has the side turned."""
    x0, y0, x1, y1 = (float(edge) for edge in page.cropbox)
    grown = {
        0: (x0, y0 - STRIP, x1, y1),
        90: (x0, y0, x1 + STRIP, y1),
        180: (x0, y0, x1, y1 + STRIP),
        270: (x0 - STRIP, y0, x1, y1),
    }
    page.mediabox = page.cropbox = list(grown[_turned(page)])


def _place(page: Any) -> tuple[float, float, float, float]:
    """Where the line goes, in the co-ordinates of the page: low and to the right as it is seen."""
    x0, y0, x1, y1 = (float(edge) for edge in page.cropbox)
    turned = _turned(page)
    across = x1 - x0 if turned in (0, 180) else y1 - y0
    inset = min(INSET, across / 20)
    width = min(WIDTH, across - 2 * inset)
    return {
        0: (x1 - inset - width, y0 + LOW, x1 - inset, y0 + LOW + HEIGHT),
        90: (x1 - LOW - HEIGHT, y1 - inset - width, x1 - LOW, y1 - inset),
        180: (x0 + inset, y1 - LOW - HEIGHT, x0 + inset + width, y1 - LOW),
        270: (x0 + LOW, y0 + inset, x0 + LOW + HEIGHT, y0 + inset + width),
    }[turned]
