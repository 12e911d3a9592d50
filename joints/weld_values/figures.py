"""Figures and times of a log: read exactly, each spelling once."""

from collections.abc import Sequence
from datetime import datetime
from decimal import Decimal, InvalidOperation

from django.utils.translation import gettext

from codes.units import INCH_MM
from codes.values import Interval
from joints.imports.table import Refusal
from joints.weld_values.findings import HIGH, LOW

MOST_SPELLINGS = 200_000
ONE, INCH = Decimal(1), INCH_MM
Off = tuple[str, Decimal, Decimal, Decimal]
"""Side, limit, value, by how much."""
UNREAD, ARC_OFF = "unread", "arc off"
Answer = Off | str | None
"""None inside the range; how it lies outside; or unread, or arc off."""


MOST_DIGITS, HIGHEST = 40, 15
"""Signs of a figure, and the power of ten it begins with: a second of the year is one too. Written out, 1e-999999999 is
a text of a thousand million noughts.
"""


class Looked(dict[str, Answer]):
    """The spelling of a figure to what it means against a range; `off` is what a nought means, `factor` turns the
    figure into the unit on file, exactly.
    """

    def __init__(self, span: Interval | None, off: Answer = None, factor: Decimal = ONE) -> None:
        super().__init__()
        self._span, self._off, self._factor = span, off, factor

    def __missing__(self, text: str) -> Answer:
        if len(self) > MOST_SPELLINGS:
            self.clear()
        found = self[text] = self._judged(text)
        return found

    def _judged(self, text: str) -> Answer:
        value = figure(text)
        if value is None:
            return UNREAD
        value *= self._factor
        if self._off is not None and value == 0:
            return self._off
        span = self._span
        if span is None or span.holds(value):
            return None
        if span.lo is not None and value < span.lo:
            return LOW, span.lo, value, span.lo - value
        high = span.hi if span.hi is not None else value
        return HIGH, high, value, value - high


def figure(text: str) -> Decimal | None:
    """A figure, with point or comma; None for a blank cell. Raises Refusal for anything else."""
    plain = text.strip().replace(",", ".")
    if not plain:
        return None
    try:
        value = Decimal(plain if len(plain) <= MOST_DIGITS else "")
    except InvalidOperation:
        raise Refusal(gettext("“%(text)s” is not a figure") % {"text": text.strip()[:30]}) from None
    if not value.is_finite() or (value and not -MOST_DIGITS <= value.adjusted() <= HIGHEST):
        raise Refusal(gettext("“%(text)s” is not a figure") % {"text": text.strip()[:30]})
    return value


def micros(text: str) -> int:
    """A time in microseconds: seconds such as 12.345, or a date and time. Raises Refusal.

    Example: micros("1.5") is 1_500_000.
    """
    if ":" in text:
        return _moment(text.strip())
    value = figure(text)
    if value is None:
        raise Refusal(gettext("the time is blank"))
    found = value.scaleb(6)
    if found != found.to_integral_value():
        raise Refusal(gettext("“%(text)s” is finer than a microsecond") % {"text": text.strip()[:30]})
    return int(found)


def micros_of(texts: Sequence[str]) -> list[int]:
    """Many times at once; those that all have as many decimals as the first are read together."""
    if max(map(len, texts)) > MOST_DIGITS:
        return [micros(text) for text in texts]
    decimals = len(texts[0]) - texts[0].find(".") - 1 if "." in texts[0] else 0
    if 0 < decimals <= 6 and {text[-decimals - 1 : -decimals] for text in texts} == {"."}:
        joined = " ".join(texts)
        plain = joined.replace(".", "")
        if joined.count(".") == len(texts) and plain.isascii() and plain.replace(" ", "").isdigit():
            scale = 10 ** (6 - decimals)
            whole = list(map(int, plain.split(" ")))
            return whole if scale == 1 else [at * scale for at in whole]
    return [micros(text) for text in texts]


def _moment(text: str) -> int:
    try:
        moment = datetime.fromisoformat(text)
    except ValueError:
        raise Refusal(
            gettext("“%(text)s” is not a time: write seconds, or 2026-11-25T14:00:00.250") % {"text": text[:40]}
        ) from None
    whole = moment.toordinal() * 86_400 + moment.hour * 3600 + moment.minute * 60 + moment.second
    offset = moment.utcoffset()
    return whole * 1_000_000 + moment.microsecond - (int(offset.total_seconds()) * 1_000_000 if offset else 0)
