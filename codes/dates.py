"""Calendar arithmetic, stated once.

A period of n months ends on the same day of the month, that day included; where the month has no such day, on its
last day. Convention of this register (own rule), after Regulation (EEC, Euratom) 1182/71, Article 3 (from memory):
the welding standards themselves give no rule.
"""

from calendar import monthrange
from datetime import date
from functools import lru_cache


@lru_cache(maxsize=32_768)
def add_months(start: date, months: int) -> date:
    """The day n months later (earlier if negative). Example: 31 August plus 6 months is 28 or 29 February.

    Beyond the end of the calendar it is the last day there is (or the first), so that no slip of a year
    stops an answer.
    """
    index = start.year * 12 + start.month - 1 + months
    year, month = divmod(index, 12)
    if not date.min.year <= year <= date.max.year:
        return date.max if months > 0 else date.min
    return date(year, month + 1, min(start.day, monthrange(year, month + 1)[1]))


def add_years(start: date, years: int) -> date:
    """The day n years later. Example: 29 February plus 1 year is 28 February."""
    return add_months(start, 12 * years)
