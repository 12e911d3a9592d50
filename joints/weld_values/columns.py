"""The head of a log: which column is which, by the words that controllers use, and how its cells are parted."""

import re
from collections.abc import Mapping, Sequence

from django.utils.translation import gettext

from joints.imports.table import Refusal

NAMES: Mapping[str, tuple[str, ...]] = {
    "time": ("time", "t", "timestamp", "time stamp", "zeit"),
    "joint": ("joint", "weld", "seam", "weld id", "joint id", "naht"),
    "run": ("run", "pass", "bead", "layer", "lage"),
    "current": ("current", "i", "amps", "welding current", "strom"),
    "voltage": ("voltage", "u", "volts", "arc voltage", "spannung"),
    "travel_speed": ("travel speed", "speed", "v", "welding speed", "geschwindigkeit"),
}
UNITS = {
    "time": ("s",),
    "current": ("a",),
    "voltage": ("v",),
    "travel_speed": ("mm/min", "in/min", "ipm"),
}
"""What may stand in brackets; another unit is refused, so that nothing is judged in the wrong one."""
INCHES = frozenset(("in/min", "ipm"))
"""Units of a column that are turned into those on file, by the exact factor."""
VALUES = ("current", "voltage", "travel_speed")
NEEDED = ("time", "run")
_HEAD = re.compile(r"^\s*(.*?)\s*(?:[\[(]\s*([^\])]*)\s*[\])])?\s*$")


def separator(head: str) -> str:
    """The sign between the cells, by what the head holds most of. Example: "time;joint" is parted by ";"."""
    return max(";\t,", key=head.count)


def places(cells: Sequence[str]) -> dict[str, int]:
    """Column name to its place. Raises Refusal where time, run, or every value is missing, or a unit is another."""
    found: dict[str, int] = {}
    for at, cell in enumerate(cells):
        match = _HEAD.match(cell)
        word, unit = _read(cell)
        name = next((n for n, words in NAMES.items() if word in words), None)
        if name is None:
            continue
        if name in found:
            raise Refusal(gettext("Two columns are headed %(name)s. Keep one.") % {"name": name.replace("_", " ")})
        if unit and unit not in UNITS.get(name, (unit,)):
            wanted = UNITS[name][0]
            raise Refusal(
                gettext("The column %(cell)s is in %(match)s: log it in %(wanted)s, or convert it.")
                % {"cell": cell.strip(), "match": match[2], "wanted": wanted}
            )  # type: ignore[index]
        found[name] = at
    missing = [name for name in NEEDED if name not in found]
    if missing or not set(VALUES) & set(found):
        wanted_words = " and ".join(missing) or "current, voltage or travel speed"
        raise Refusal(
            gettext(
                "The first line names no column for %(wanted_words)s. It needs time [s], joint, run, current "
                "[A], voltage [V], speed [mm/min] or [in/min]."
            )
            % {"wanted_words": wanted_words}
        )
    return found


def in_inches(cells: Sequence[str], found: Mapping[str, int]) -> frozenset[str]:
    """The columns found whose figures stand in inches. Example: "speed [in/min]" gives {"travel_speed"}."""
    return frozenset(name for name, at in found.items() if _read(cells[at])[1] in INCHES)


def _read(cell: str) -> tuple[str, str]:
    """The word and the unit of a heading."""
    match = _HEAD.match(cell)
    return (match[1].casefold(), (match[2] or "").casefold()) if match else ("", "")
