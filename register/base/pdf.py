"""From the HTML of a sheet to the bytes of its PDF, the same bytes every time, from a closed set of files.

WeasyPrint is loaded on first use; it takes long and few requests need it. What it makes of a style sheet and of the
fonts is kept for the life of the process (`base.pdf_style`), drawings go beside the HTML (`base.pdf_drawings`).
"""

import gc
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

from register.base.pdf_claims import say_accessible
from register.base.pdf_drawings import asked_by, drawn_apart
from register.base.signs import in_print
from register.base.untorn import kept_whole

SCHEME = "sheet-file"
_FONTS = Path(__file__).resolve().parent.parent / "static" / "register" / "fonts"
FONTS = {
    name: (_FONTS / f"ibm-plex-sans-{name}", "font/woff2")
    for name in (
        "latin-400-normal.woff2",
        "latin-600-normal.woff2",
        "latin-ext-400-normal.woff2",
        "latin-ext-600-normal.woff2",
    )
}
"""Name in the address to file and type: the register's own typeface."""
SHARED = {name: (Path(__file__).with_name(name), "text/css") for name in ("fonts.css", "paper.css")}
"""Style sheets that others import."""
VARIANT = "pdf/a-3a"
"""Asked of WeasyPrint: tagged, fonts embedded, data attached. The tests ask each kind of paper by rules of ours; no
certified validator has."""
PAPERS = {"a4": ("A4", "210mm 297mm"), "letter": ("Letter", "8.5in 11in")}
"""Token to name and size."""
ORDINARY = "8pt"
"""The type of a sheet that may have many sides."""
NEW_OBJECTS = 100_000
"""So many new objects are let be before the next look for garbage: more than a sheet of one side is made of, few enough
that many sides do not fill the memory."""
OPTIONS: dict[str, Any] = {"pdf_variant": VARIANT, "pdf_tags": True}


class RefusedAddress(RuntimeError):
    """The HTML asked for something that is not ours. Nothing is rendered."""


@dataclass(frozen=True, slots=True)
class Attached:
    """Data that travels inside the PDF."""

    name: str
    description: str
    data: bytes


def url_of(name: str) -> str:
    """The address by which a sheet asks for one of its files. Example: "sheet-file:sheet.css"."""
    return f"{SCHEME}:{name}"


class OwnFiles:
    """Gives WeasyPrint one style sheet, our fonts and the sheet's own drawings, and refuses every other address, also
    of this machine's files.

    `refused` lists what was asked for in vain; a sheet is not issued if there is anything.
    """

    _fail_on_errors = False

    def __init__(self, stylesheet: Path) -> None:
        self.path, self.stylesheet = stylesheet, stylesheet.name
        self.files = {**SHARED, stylesheet.name: (stylesheet, "text/css"), **FONTS}
        self.drawings: dict[str, bytes] = {}
        self.refused: list[str] = []

    def __call__(self, url: str) -> Any:
        return self.fetch(url)

    def fetch(self, url: str, headers: Any = None) -> Any:
        """The file behind an address. Raises ValueError for any that is not among the files."""
        from weasyprint.urls import URLFetcherResponse

        scheme, _, name = url.partition(":")
        if scheme == SCHEME and name in self.drawings:
            return URLFetcherResponse(url, self.drawings[name], {"Content-Type": "image/svg+xml"})
        if scheme != SCHEME or name not in self.files:
            self.refused.append(url[:200])
            raise ValueError(f"a sheet reads its own files only, not {url[:200]}")
        file, kind = self.files[name]
        return URLFetcherResponse(url, file.read_bytes(), {"Content-Type": kind})


def render(
    html: str,
    files: OwnFiles,
    size: str,
    on: date,
    attached: Sequence[Attached] = (),
    sizes: Sequence[str] = (ORDINARY,),
    sides: int = 1,
) -> tuple[bytes, int]:
    """The bytes and the number of sides. `size`: of the paper. `on` is the date in the file, so that it does not
    depend on the clock.

    `sizes` of type are tried in turn until all fits on so many `sides`; where none helps, the largest is taken of those
    that need the fewest.
    Raises RefusedAddress.
    """
    from register.base import pdf_style

    apart, files.drawings = drawn_apart(html, SCHEME)
    files.refused += [address for drawing in files.drawings.values() for address in asked_by(drawing)]
    with pdf_style.LOCK, seldom_swept():
        found = _written(kept_whole(in_print(apart)), files, size, on, attached, sizes, sides)
    if files.refused:
        raise RefusedAddress(f"The sheet asked for {', '.join(files.refused)}; it reads its own files only.")
    return found


@contextmanager
def seldom_swept() -> Iterator[None]:
    """The interpreter looks for garbage after every 700 new objects, and from time to time goes through all it holds. A
    sheet is tens of thousands of objects that refer to each other until it is done: looking meanwhile finds nothing and
    took a third of the time. Whoever renders sweeps up what he made; one sheet at a time, under the lock.
    """
    usual = gc.get_threshold()
    gc.set_threshold(NEW_OBJECTS, *usual[1:])
    try:
        yield
    finally:
        gc.set_threshold(*usual)
        gc.collect(0)


def _written(
    apart: str, files: OwnFiles, size: str, on: date, attached: Sequence[Attached], sizes: Sequence[str], sides: int
) -> tuple[bytes, int]:
    """As `render`, from the HTML with its drawings apart. Nothing of the document outlives this call."""
    document = _fitted(apart, files, size, sizes, sides)
    _stamp(document.metadata, on, attached, files)
    return document.write_pdf(**OPTIONS), len(document.pages)


def _fitted(apart: str, files: OwnFiles, size: str, sizes: Sequence[str], sides: int) -> Any:
    """The document laid out with the type that `render` takes."""
    from register.base import pdf_style

    best: tuple[int, float, Any] | None = None
    for type_size in sizes:
        document = pdf_style.laid_out(apart, files, size, type_size, OPTIONS)
        found = len(document.pages), -float(type_size.removesuffix("pt")), document
        best = min(best, found, key=lambda one: one[:2]) if best else found
        if best[0] <= sides:
            break
    assert best is not None, "no size of type was given"
    return best[2]


def _stamp(metadata: Any, on: date, attached: Sequence[Attached], files: OwnFiles) -> None:
    """Dates and data of the file, and what it says of itself."""
    from weasyprint import Attachment

    say_accessible(metadata)
    moment = datetime(on.year, on.month, on.day, tzinfo=UTC)
    metadata.created = metadata.modified = moment.isoformat()
    for one in attached:
        metadata.attachments.append(
            Attachment(
                string=one.data,
                name=one.name,
                description=one.description,
                created=moment,
                modified=moment,
                relationship="Data",
                url_fetcher=files,
            )
        )
