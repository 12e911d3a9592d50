"""What a file is, by its content and never by its name: PDF, JPEG or PNG, whole and without anything that runs."""

import io
import re
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from threading import Lock

from django.utils.translation import gettext

from register.evidence import inside

MAX_BYTES = 10 * 1024 * 1024
MAX_PIXELS = 40_000_000
"""An A4 page at 600 dots per inch has 35 million."""
MAX_SCANS, SCAN = 60, b"\xff\xda"
"""How often a JPEG may go over the whole picture, refining it; a dozen is usual. Each takes a moment and no space."""
TAIL = 2048


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of file that is taken."""

    token: str
    words: str
    mime: str
    ending: str
    magic: bytes


PDF = Kind("pdf", "PDF", "application/pdf", "pdf", b"%PDF-")
JPEG = Kind("jpeg", "JPEG", "image/jpeg", "jpg", b"\xff\xd8\xff")
PNG = Kind("png", "PNG", "image/png", "png", b"\x89PNG\r\n\x1a\n")
KINDS = (PDF, JPEG, PNG)
_SWITCH = Lock()


class BadFile(ValueError):
    """The file is not taken; the message says why and what to do. Nothing was kept."""


def kind_of(data: bytes) -> Kind:
    """The kind of a file. Raises BadFile for one that is empty, too large, damaged, or none of the three.

    Example: exactly 10 MB are taken, one byte more is refused.
    """
    if not data:
        raise BadFile(gettext("The file is empty."))
    if len(data) > MAX_BYTES:
        raise BadFile(
            gettext("The file is larger than %(max_bytes)s MB. Scan it at 300 dots per inch, or page by page.")
            % {"max_bytes": MAX_BYTES // 1024**2}
        )
    found = next((kind for kind in KINDS if data.startswith(kind.magic)), None)
    if found is None:
        raise BadFile(
            gettext("The file is none of PDF, JPEG and PNG, whatever its name says. Scan it into one of these.")
        )
    _check_pdf(data) if found is PDF else _check_picture(data, found)
    return found


def _check_pdf(data: bytes) -> None:
    if not re.match(rb"%PDF-[12]\.\d", data) or b"%%EOF" not in data[-TAIL:] or b"startxref" not in data[-TAIL:]:
        raise BadFile(gettext("The PDF is damaged or cut off. Scan or print it again."))
    if inside.is_locked(data):
        raise BadFile(
            gettext("The PDF is protected by a password or rights; evidence must stay readable. Save it without.")
        )
    try:
        runs = inside.runs(data)
    except inside.Unpackable:
        raise BadFile(
            gettext("The PDF packs its parts in a way that is not read here. Print it into a plain PDF.")
        ) from None
    if runs:
        raise BadFile(gettext("The PDF holds a program or further files. Print it into a plain PDF and attach that."))


def _check_picture(data: bytes, kind: Kind) -> None:
    from PIL import Image, UnidentifiedImageError

    if kind is JPEG and data.count(SCAN) > MAX_SCANS:
        raise BadFile(gettext("The JPEG picture is built up in far too many steps. Save it again as a plain JPEG."))
    try:
        with Image.open(io.BytesIO(data), formats=[kind.words]) as picture:
            width, height = picture.size
            if width * height > MAX_PIXELS:
                raise BadFile(
                    gettext("The picture has %(width)s by %(height)s points; at most 40 million in all are taken.")
                    % {"width": width, "height": height}
                )
            # A JPEG is read at an eighth of its size: enough to find it whole.
            picture.draft("L", (max(1, width // 8), max(1, height // 8)))
            with _whole_pictures_only():
                picture.load()
    except Image.DecompressionBombError:
        raise BadFile(
            gettext("The picture has far more than the 40 million points that are taken. Scan it at 300 dots per inch.")
        ) from None
    except (OSError, SyntaxError, ValueError, UnidentifiedImageError) as problem:
        if isinstance(problem, BadFile):
            raise
        raise BadFile(
            gettext("The %(words)s picture is damaged or cut off. Take or scan it again.") % {"words": kind.words}
        ) from None


@contextmanager
def _whole_pictures_only() -> Iterator[None]:
    """The library's own switch, which the renderer of sheets leaves on "take what there is" for everybody."""
    from PIL import ImageFile

    with _SWITCH:
        before = ImageFile.LOAD_TRUNCATED_IMAGES
        ImageFile.LOAD_TRUNCATED_IMAGES = False
        try:
            yield
        finally:
            ImageFile.LOAD_TRUNCATED_IMAGES = before


def safe_name(name: str, kind: Kind) -> str:
    """A file name with nothing in it but a name, and the ending of what it is. Example: "a/b.html" -> "b.pdf"."""
    bare = re.split(r"[\\/]", name)[-1]
    stem = re.sub(r"\.[A-Za-z0-9]{1,5}$", "", "".join(ch for ch in bare if ch.isprintable())).strip(" .")
    return f"{stem[:120] or 'evidence'}.{kind.ending}"
