"""With which size of type a sheet for the cell will fit on one side, before it is laid out.

Laying out is what takes long, and each size tried in vain costs it once more. This counts the lines that the words
break into, and adds the heights of `sheet.css`. It only says where to begin: what does not fit is tried one size
smaller, so an estimate that is wrong makes a sheet slower, or its type one size smaller than it might be.
"""

from collections.abc import Callable, Iterable, Sequence

from register.base.pdf_text import lines
from wps.sheet_cautions import DEFERENCE
from wps.sheet_data import Line, SheetData
from wps.sheet_runs import LARGE, SMALLER

MM_PER_PT = 25.4 / 72
PRINTED = {"a4": (210 - 22, 297 - 22), "letter": (215.9 - 22, 279.4 - 22)}
"""Paper to width and height of what is printed on [mm], as the margins of the style sheet leave it."""
SKETCHES, FIXED, NOTES, BANNER = 61.7, 17.6, 1.9, 4.3
"""The sketches, and the gaps and rules between the sections [mm]: they do not grow with the type."""
PICTURE = 11.3
PICTURES = 2.2
POSITION = 24.6
CODE, CHECK = 23, 40.7
"""The code to scan, and what stands beside it with the white around [mm]."""
HANGING = 2.5
SUPPLIES = 1.22


def first_size(
    sheet: SheetData, prepared: Sequence[Line], paper: str, sizes: Sequence[str], said: Callable[[str], str] = str
) -> int:
    """Which of the sizes to begin with, largest first. Example: 0 for a sheet with little on it.

    `said`: the words as they will be printed, in whatever language; the table of runs must have room for its heads.
    """
    needs = sheet.runs.needs(said)
    for index, size in enumerate(sizes):
        high = estimated_height(sheet, prepared, paper, float(size.removesuffix("pt")))
        if high <= PRINTED[paper][1] and needs <= room(paper, size):
            return index
    return len(sizes) - 1


def room(paper: str, size: str) -> float:
    """How wide a sheet is printed, in sizes of its type."""
    return PRINTED[paper][0] / (float(size.removesuffix("pt")) * MM_PER_PT)


def estimated_height(sheet: SheetData, prepared: Sequence[Line], paper: str, size_pt: float) -> float:
    """How high the sheet will be in mm, to a line or two."""
    em = size_pt * MM_PER_PT
    whole = PRINTED[paper][0] / em
    texts = (
        max(_head(sheet, whole - (CODE + CHECK) / em), (CODE + 1.7) / em + (2.1 if sheet.banner else 0))
        + _runs(sheet, whole)
        + 1.3
        * max(
            _listed(each, (whole / 3 - 3.5 / em) / size, em * size) * size for each, size in _columns(sheet, prepared)
        )
        + (1.3 * (1 + _broken(sheet.notes, whole)) if sheet.notes else 0)
        + 1.2
        + 1.153 * (_cautions(sheet, whole / 0.93) + lines([(DEFERENCE, False)], whole / 0.93))
        + 1.3 * max(3 if any(step.on for step in sheet.steps) else 2, _records(sheet, whole * 0.4))
        + 1.12 * lines([(f"{sheet.basis_brief} {sheet.converted}", False)], whole / 0.86)
    )
    fixed = (
        FIXED + SKETCHES * bool(sheet.sketches.preparation) + NOTES * bool(sheet.notes) + BANNER * bool(sheet.banner)
    )
    return fixed + _big(sheet, PRINTED[paper][0], em) + texts * em


def _columns(sheet: SheetData, prepared: Sequence[Line]) -> tuple[tuple[Sequence[Line], float], ...]:
    """Each column and the size of its values."""
    return (sheet.facts, 1), (sheet.consumables, SUPPLIES), ((*prepared, *sheet.tacks), 1)


def _head(sheet: SheetData, room: float) -> float:
    """Name, title and what it serves; the banner below them."""
    served = " · ".join(part for part in (sheet.serves, sheet.where, sheet.code) if part)
    title = lines([(sheet.title, False)], room / 1.6)
    return 1.3 + 3.74 + 1.92 * title + 1.3 * lines([(served, False)], room) + (2.1 if sheet.banner else 0)


def _big(sheet: SheetData, whole: float, em: float) -> float:
    """Processes, pictures of the positions and temperatures, side by side [mm]."""
    room = whole * 0.37 / em
    process = sum(
        2.88 * lines([(one.name, True)], room / 2.5) + 1.3 * lines([(f"{one.words}; {one.mechanisation}", False)], room)
        for one in sheet.processes
    )
    across = max(1, int(whole * 0.4 / POSITION))
    pictures = -(-len(sheet.positions) // across) * (PICTURE + 1.6 * em)
    heat = whole * 0.23 / em / 2.1
    temperatures = 2.4 * (lines([(sheet.preheat, True)], heat) + lines([(sheet.interpass, True)], heat))
    return max((process + 1.2) * em, pictures + 1.2 * em + PICTURES, (temperatures + 2.4) * em)


def _runs(sheet: SheetData, whole: float) -> float:
    """Two lines of heads, then a row for each run, as high as the words that break most."""
    size = SMALLER if sheet.runs.is_wide else LARGE
    shares = sheet.runs.shares(whole)
    broken = [
        max(lines([(cell, False)], share * whole / 100 / size) for cell, share in zip(row, shares, strict=True))
        for row in sheet.runs.rows
    ]
    return 3.1 + sum(1.15 * size * each + 0.62 for each in broken)


def _listed(listed: Iterable[Line], room: float, em: float) -> float:
    return 1 + sum(
        lines([(f"{one.label}: ", False), (one.said, True)], room, HANGING / em) + 0.35 / em / 1.3 for one in listed
    )


def _cautions(sheet: SheetData, room: float) -> int:
    return lines([part for head, said in sheet.cautions for part in ((f"{head}.", True), (said, False))], room)


def _records(sheet: SheetData, room: float) -> int:
    return 1 + lines([("; ".join(sheet.records), False)], room)


def _broken(text: str, room: float) -> int:
    return sum(lines([(line, False)], room) for line in text.splitlines() or [""])
