"""How wide words are in the sheets' typeface, and into how many lines they break, without laying a sheet out."""

from collections.abc import Iterable
from functools import lru_cache
from typing import Any

from register.base.pdf import FONTS

_FILES = {False: "latin-400-normal.woff2", True: "latin-600-normal.woff2"}
UNKNOWN = 0.6
"""Width of a letter that the Latin files do not hold, in sizes of the type."""


@lru_cache(maxsize=2)
def _advances(bold: bool) -> dict[int, float]:
    """Code point -> width in sizes of the type, from the font's own table."""
    from fontTools.ttLib import TTFont

    font: Any = TTFont(FONTS[_FILES[bold]][0])
    widths, units = font["hmtx"].metrics, font["head"].unitsPerEm
    return {code: widths[name][0] / units for code, name in font.getBestCmap().items()}


@lru_cache(maxsize=4096)
def width(text: str, bold: bool = False) -> float:
    """The width of a text in sizes of its type, without kerning. Example: a space is 0.26 wide."""
    known = _advances(bold)
    return sum(known.get(ord(letter), UNKNOWN) for letter in text)


def lines(parts: Iterable[tuple[str, bool]], room: float, hanging: float = 0.0) -> int:
    """The lines that parts (text, bold) take up one behind the other, broken at blanks; at least one.

    `room` is the width of the first line, `hanging` how much narrower the others are, in sizes of the type.
    """
    count, used, limit = 1, 0.0, room
    for text, bold in parts:
        for word in text.split(" "):
            wide = width(word, bold)
            if used and used + wide > limit:
                count, used, limit = count + 1, 0.0, room - hanging
            used += wide + width(" ", bold)
    return count
