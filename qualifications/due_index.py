"""What stands to be done on which days, sorted by month, so that any day is answered from a few buckets."""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from codes.clauses import Clause
from codes.validity import Due, Ending, Period, Question
from qualifications.offers import CertificateOffer
from qualifications.periods import LEFT

LAPSED = "lapsed"
DECISION = "decide whether to revoke it"
"""The act that an open question asks for: a test failed while the certificate is valid (codes.validity.Question)."""
END = "end of validity"
DAY = timedelta(days=1)
FOREVER = date.max

Month = tuple[int, int]


@dataclass(slots=True)
class Stretch:
    """Something to do by a day, and the days on which that is so; or a lapse, and from when to when it is one.

    `ending`: that of the period whose end it is. A decision has no last day: `by` is the day that it came up.
    """

    offer: CertificateOffer
    act: str
    by: date
    first: date
    last: date
    because: str
    clause: Clause
    ending: Ending | None = None


class DueIndex:
    """Stretches by the month of their day, and by certificate within it."""

    def __init__(self, offers: Iterable[CertificateOffer] = ()) -> None:
        self._months: dict[Month, dict[int, list[Stretch]]] = defaultdict(dict)
        self._asked: dict[int, list[Stretch]] = {}
        self._known: dict[int, tuple[CertificateOffer, set[Month]]] = {}
        self.answered: dict[object, object] = {}
        """Answers given since the last change, for whoever asks again; not more than a few."""
        self.update(offers)

    def update(self, offers: Iterable[CertificateOffer]) -> None:
        """Make the index that of these offers; only those that are not the same objects as before are looked at."""
        self.answered.clear()
        wanted = {one.certificate_id: one for one in offers}
        for pk in [pk for pk, (one, _) in self._known.items() if wanted.get(pk) is not one]:
            for month in self._known.pop(pk)[1]:
                del self._months[month][pk]
            self._asked.pop(pk, None)
        for pk, one in wanted.items():
            if pk not in self._known:
                self._add(pk, one)

    def _add(self, pk: int, one: CertificateOffer) -> None:
        by_month: dict[Month, list[Stretch]] = defaultdict(list)
        for stretch in stretches(one):
            by_month[stretch.by.year, stretch.by.month].append(stretch)
        for month, found in by_month.items():
            self._months[month][pk] = found
        self._known[pk] = (one, set(by_month))
        if asked := list(decisions(one)):
            self._asked[pk] = asked

    def between(self, first: date, last: date, on: date) -> Iterator[Stretch]:
        """The stretches that hold on a day and whose own day lies between two days, both included."""
        for month in _months(first, last):
            for found in self._months.get(month, {}).values():
                for one in found:
                    if first <= one.by <= last and one.first <= on <= one.last:
                        yield one

    def to_decide(self, on: date) -> Iterator[Stretch]:
        """The decisions that are open on a day, however long ago they came up."""
        return (one for found in self._asked.values() for one in found if one.first <= on <= one.last)


def decisions(one: CertificateOffer) -> Iterator[Stretch]:
    """What somebody must decide on while a certificate is valid, on whichever day; a question is asked once a day."""
    for period in one.validity.periods:
        yield from (_decision(one, period, asked) for asked in period.questions)


def _decision(one: CertificateOffer, period: Period, asked: Question) -> Stretch:
    """A question, on the days of its period on which it stands; none where it was settled before."""
    first = max(asked.on, period.start)
    last = min(asked.settled_on - DAY if asked.settled_on else FOREVER, period.end or FOREVER)
    ending = Ending("failed_renewal", asked.because, asked.clause, asked.told)
    return Stretch(one, DECISION, asked.on, first, last, asked.because, asked.clause, ending)


def stretches(one: CertificateOffer) -> Iterator[Stretch]:
    """All that the periods of one certificate ask for, on whichever day."""
    periods = one.validity.periods
    for at, period in enumerate(periods):
        dues = [stretch for due in period.dues if (stretch := _due(one, period, due)) is not None]
        yield from dues
        if period.end is None:
            continue
        yield from _end(one, period, dues)
        following = periods[at + 1].start - DAY if at + 1 < len(periods) else FOREVER
        if period.ending.reason != LEFT and following > period.end:
            yield _stretch(one, period, LAPSED, period.end + DAY, following)


def _due(one: CertificateOffer, period: Period, due: Due) -> Stretch | None:
    """A due, on the days of its period on which it stands."""
    first = max(due.since or period.start, period.start)
    last = min(due.by, due.done_on - DAY if due.done_on else FOREVER, period.end or FOREVER)
    return Stretch(one, due.act, due.by, first, last, period.opened, due.clause) if first <= last else None


def _end(one: CertificateOffer, period: Period, dues: Iterable[Stretch]) -> Iterator[Stretch]:
    """The end of a period, on the days on which no due names the same day."""
    assert period.end is not None
    first = period.start
    for due in sorted((due for due in dues if due.by == period.end), key=lambda due: due.first):
        if first < due.first:
            yield _stretch(one, period, END, first, due.first - DAY)
        first = max(first, due.last + DAY)
    if first <= period.end:
        yield _stretch(one, period, END, first, period.end)


def _stretch(one: CertificateOffer, period: Period, act: str, first: date, last: date) -> Stretch:
    assert period.end is not None
    return Stretch(one, act, period.end, first, last, period.ending.because, period.ending.clause, period.ending)


def _months(first: date, last: date) -> Iterator[Month]:
    year, month = first.year, first.month
    while (year, month) <= (last.year, last.month):
        yield year, month
        year, month = (year + 1, 1) if month == 12 else (year, month + 1)
