"""The composite fonts of a PDF: embedded, as wide as said, and each glyph shown a letter that can be read aloud.

ISO 19005-3:2012, 6.2.11, clauses from memory.
"""

import io
import re
from collections.abc import Iterator
from typing import Any

from fontTools.ttLib import TTFont

WIDTH_TOLERANCE = 1
"""Widths in the dictionary and in the font program may differ by so many thousandths of an em (6.2.11.5)."""


class Font:
    """A composite font in use: what the file says of it, and the program in it."""

    def __init__(self, font: Any) -> None:
        self.font = font
        self.below = font["/DescendantFonts"][0].get_object() if "/DescendantFonts" in font else None

    def faults(self) -> Iterator[str]:
        """What is wrong with it as a whole."""
        name = self.font.get("/BaseFont")
        if self.below is None:
            yield f"6.2.11.2: {name} is a simple font, which this check does not know"
            return
        if self.font.get("/Encoding") not in ("/Identity-H", "/Identity-V"):
            yield f"6.2.11.3.3: {name}: the encoding is neither Identity-H nor embedded"
        if self.below.get("/Subtype") == "/CIDFontType2" and "/CIDToGIDMap" not in self.below:
            yield f"6.2.11.3.2: {name}: no CIDToGIDMap"
        held = self.below.get("/FontDescriptor", {})
        if not {"/FontFile2", "/FontFile3"} & set(held):
            yield f"6.2.11.4.1: {name} is not embedded"
        if "/ToUnicode" not in self.font:
            yield f"6.2.11.7.2: {name}: no way from glyphs to letters (ToUnicode)"

    def wrong(self, operands: Any) -> Iterator[str]:
        """What is wrong with the glyphs shown by one operator."""
        held = self.below.get("/FontDescriptor", {}) if self.below is not None else {}
        if "/ToUnicode" not in self.font or not {"/FontFile2", "/FontFile3"} & set(held):
            return
        name, widths, letters = self.font.get("/BaseFont"), self._widths(), self._letters()
        program = self._program()
        for glyph in _shown(operands):
            if glyph == 0:
                yield f"6.2.11.8: {name}: a letter that the font has not (.notdef) is shown"
            said = letters.get(glyph)
            if said is None:
                yield f"6.2.11.7.2: {name}: glyph {glyph} has no letter"
            elif not said or set(said) & {"\0", "\ufeff", "\ufffe"}:
                yield f"6.2.11.7.2: {name}: glyph {glyph} has no letter but U+0000, U+FEFF or U+FFFE"
            elif any("\ue000" <= one <= "\uf8ff" for one in said):
                yield f"6.2.11.7.3: {name}: glyph {glyph} is a letter of private use"
            if glyph >= len(program):
                yield f"6.2.11.4.1: {name}: glyph {glyph} is not in the program"
            elif abs(program[glyph] - widths.get(glyph, float(self.below.get("/DW", 1000)))) > WIDTH_TOLERANCE:
                yield f"6.2.11.5: {name}: glyph {glyph} is {program[glyph]:.1f} wide, said to be {widths.get(glyph)}"

    def _widths(self) -> dict[int, float]:
        found: dict[int, float] = {}
        given = [one.get_object() for one in self.below.get("/W", [])]
        while given:
            first, second = given[0], given[1]
            if isinstance(second, list):
                found |= {int(first) + n: float(one) for n, one in enumerate(second)}
                given = given[2:]
            else:
                found |= dict.fromkeys(range(int(first), int(second) + 1), float(given[2]))
                given = given[3:]
        return found

    def _letters(self) -> dict[int, str]:
        text = self.font["/ToUnicode"].get_object().get_data().decode("latin-1")
        found: dict[int, str] = {}
        for block in re.findall(r"beginbfchar(.*?)endbfchar", text, re.S):
            for code, letters in re.findall(r"<([0-9a-fA-F]+)>\s*<([0-9a-fA-F]*)>", block):
                found[int(code, 16)] = bytes.fromhex(letters).decode("utf-16-be")
        for block in re.findall(r"beginbfrange(.*?)endbfrange", text, re.S):
            for low, high, letters in re.findall(r"<(\w+)>\s*<(\w+)>\s*<(\w+)>", block):
                start = int(letters, 16)
                found |= {code: chr(start + n) for n, code in enumerate(range(int(low, 16), int(high, 16) + 1))}
        return found

    def _program(self) -> list[float]:
        held = self.below["/FontDescriptor"]
        data = (held.get("/FontFile2") or held["/FontFile3"]).get_object().get_data()
        font = TTFont(io.BytesIO(data))
        em, order = font["head"].unitsPerEm, font.getGlyphOrder()
        return [font["hmtx"][name][0] * 1000 / em for name in order]


def _shown(operands: Any) -> set[int]:
    """The glyph numbers that an operator shows, two bytes each."""
    parts = operands[0] if isinstance(operands[0], list) else [operands[-1]]
    found: set[int] = set()
    for part in parts:
        if isinstance(part, int | float):
            continue
        data = part if isinstance(part, bytes) else part.original_bytes
        found |= {int.from_bytes(data[n : n + 2], "big") for n in range(0, len(data), 2)}
    return found
