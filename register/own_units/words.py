"""A sentence as a reader in US units sees it: every figure in it that has an SI unit is turned over, by the steps of
codes.units, so that a sentence and the finding below it say the same figure.

The ends of a range are rounded inwards, and a figure stays on its side of the range that follows it. A difference (of
temperatures) is turned over as one.
"""

import re
from dataclasses import replace
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from functools import cache

from codes.units import CONVERSIONS, System, interval_in
from codes.values import Interval, number
from register.own_units.findings import figure_held_to

_FIGURE = r"-?\d+(?:\.\d+)?"
_LEAST, _MOST = ("from", "above", "at least"), ("up to", "below", "at most")
_US_ALREADY = re.compile(r"\d ?(?:in|°F|ksi|lb|kJ/in|ft³|kip)\b")
_DIFFERENCE_AFTER = ("less", "more", "lower", "higher", "off", "short", "over", "to spare", "apart", "too")


@cache
def _amounts() -> re.Pattern[str]:
    units = "|".join(sorted(map(re.escape, CONVERSIONS), key=len, reverse=True))
    before = "|".join(("by", *_LEAST, *_MOST))
    after = "|".join(_DIFFERENCE_AFTER)
    return re.compile(
        rf"(?<![\w.])(?:(?P<before>{before}) )?(?P<low>{_FIGURE})(?: to (?P<open>below )?(?P<high>{_FIGURE}))? "
        rf"(?P<unit>{units})(?![\w/²³·])(?= (?P<after>{after})\b)?"
    )


def sentence_in(text: str, system: System, finer: bool = False) -> str:
    """The sentence in the reader's units; one that states US units already is left as it is.

    `finer`: what a limit rests on. Its figures have one place more, since the limit beside them is rounded inwards: 1.2
    kJ/mm is 30.48 kJ/in, and the most that it allows 30.4.

    Example: "parent thickness 19 mm, WPS 2 allows 6 to 16 mm" gives "parent thickness 0.748 in, WPS 2 allows 0.237 to
    0.629 in".
    """
    if system is System.SI or _US_ALREADY.search(text):
        return text
    found = list(_amounts().finditer(text))
    ranges = [(one.start(), one["unit"], *_range(one)) for one in found]
    said, at = [], 0
    for one in found:
        limits = (Interval(lo, hi, unit) for start, unit, lo, hi in ranges if start > one.start())
        own = (limit for limit in limits if limit.unit == one["unit"] and (limit.lo, limit.hi) != (None, None))
        said += [text[at : one.start()], _turned(one, next(own, None), finer)]
        at = one.end()
    return "".join((*said, text[at:]))


def _range(found: re.Match[str]) -> tuple[Decimal | None, Decimal | None]:
    """The ends that an amount states: both, one, or none for a single figure."""
    low = Decimal(found["low"])
    if found["high"] is not None:
        return low, Decimal(found["high"])
    return (low if found["before"] in _LEAST else None), (low if found["before"] in _MOST else None)


def _turned(found: re.Match[str], allowed: Interval | None, finer: bool = False) -> str:
    """The amount in US units; `allowed` is the range that follows it in the sentence, against which it is held."""
    row, low = CONVERSIONS[found["unit"]], Decimal(found["low"])
    before = f"{found['before']} " if found["before"] else ""
    lo, hi = _range(found)
    if found["high"] is not None:
        span = interval_in(Interval(lo, hi, row.si), row.si, System.US)
        return f"{before}{number(span.lo or low)} to {found['open'] or ''}{number(span.hi or low)} {row.us}"
    if lo is not None or hi is not None:
        shown = row.shown(low, ROUND_FLOOR if lo is None else ROUND_CEILING)
    elif found["before"] == "by" or found["after"]:
        shown = row.difference(low)
    elif finer:
        shown = replace(row, step=row.step / 10).shown(low)
    else:
        shown = figure_held_to(low, allowed, row) if allowed is not None else row.shown(low)
    return f"{before}{number(shown)} {row.us}"
