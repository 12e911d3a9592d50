"""A sentence as a reader in US units sees it: every figure in it that has an SI unit is turned over, by the steps of
codes.units, so that a sentence and the finding below it say the same figure.

The ends of a range are rounded inwards, a figure that is such an end reads like it, and one that only rounding would
make equal to another gets one digit more. A difference (of temperatures) is turned over as one.
"""

import re
from collections.abc import Callable, Iterable
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from functools import cache, partial

from codes.units import CONVERSIONS, Conversion, System
from codes.values import number

_FIGURE = r"-?\d+(?:\.\d+)?"
_LEAST, _MOST = ("from", "above", "at least"), ("up to", "below", "at most")
_US_ALREADY = re.compile(r"\d ?(?:in|°F|ksi|lb|kJ/in|ft³|kip)\b")
_DIFFERENCE_AFTER = ("less", "more", "off", "short", "over", "to spare", "apart", "too")


@cache
def _amounts() -> re.Pattern[str]:
    units = "|".join(sorted(map(re.escape, CONVERSIONS), key=len, reverse=True))
    before = "|".join(("by", *_LEAST, *_MOST))
    after = "|".join(_DIFFERENCE_AFTER)
    return re.compile(
        rf"(?<![\w.])(?:(?P<before>{before}) )?(?P<low>{_FIGURE})(?: to (?P<open>below )?(?P<high>{_FIGURE}))? "
        rf"(?P<unit>{units})(?![\w/²³·])(?= (?P<after>{after})\b)?"
    )


def sentence_in(text: str, system: System) -> str:
    """The sentence in the reader's units; one that states US units already is left as it is.

    Example: "parent thickness 19 mm, WPS 2 allows 6 to 16 mm" gives "parent thickness 0.748 in, WPS 2 allows 0.237 to
    0.629 in".
    """
    if system is System.SI or _US_ALREADY.search(text):
        return text
    found = list(_amounts().finditer(text))
    ends = {(one["unit"], value): shown for one in found for value, shown in _ends(one)}
    singles = {(one["unit"], Decimal(one["low"])) for one in found if one["high"] is None}
    return _amounts().sub(partial(_turned, ends=ends, figures=singles | ends.keys()), text)


Figure = tuple[str, Decimal]


def _ends(found: re.Match[str]) -> Iterable[tuple[Decimal, Decimal]]:
    """The ends of a range with the figures shown for them."""
    row, low = CONVERSIONS[found["unit"]], Decimal(found["low"])
    if found["high"] is not None:
        high = Decimal(found["high"])
        yield low, row.shown(low, ROUND_CEILING)
        yield high, row.shown(high, ROUND_FLOOR)
    elif found["before"] in _LEAST:
        yield low, row.shown(low, ROUND_CEILING)
    elif found["before"] in _MOST:
        yield low, row.shown(low, ROUND_FLOOR)


def _turned(found: re.Match[str], ends: dict[Figure, Decimal], figures: Iterable[Figure]) -> str:
    row, unit, low = CONVERSIONS[found["unit"]], found["unit"], Decimal(found["low"])
    before = f"{found['before']} " if found["before"] else ""
    if found["high"] is not None:
        high = ends[unit, Decimal(found["high"])]
        return f"{before}{number(ends[unit, low])} to {found['open'] or ''}{number(high)} {row.us}"
    if found["before"] == "by" or found["after"]:
        return f"{before}{number(row.difference(low))} {row.us}"
    shown = ends.get((unit, low))
    others = (value for of, value in figures if of == unit and value != low)
    return f"{before}{number(_apart(row, low, others) if shown is None else shown)} {row.us}"


def _apart(row: Conversion, value: Decimal, others: Iterable[Decimal]) -> Decimal:
    """To the nearest step, or a tenth of it where another figure would read the same."""
    shown: Callable[[Decimal], Decimal] = row.shown
    if all(shown(other) != shown(value) for other in others):
        return shown(value)
    return row.to_us(value).quantize(row.step / 10)
