"""What falls due by a date, and what lapsed lately: a pure function over offers."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from codes.clauses import Clause
from codes.validity import Period
from qualifications.offers import CertificateOffer
from qualifications.periods import LEFT

WITHIN = (30, 60, 90, 180)
"""The horizons in days, nearest first."""

LOOK_BACK = 90
"""How many days ago a lapse is still shown."""

LAPSED = "lapsed"
END = "end of validity"


@dataclass(frozen=True, slots=True)
class DueItem:
    """One thing to do, or one lapse. `days` counts from the day asked about: 0 is that day, negative is past.

    `within` is the smallest horizon that holds it; 0 for a lapse.
    """

    certificate_id: int
    person_id: int
    person_name: str
    label: str
    kind: str
    act: str
    by: date
    days: int
    within: int
    because: str
    clause: Clause
    code: str = ""
    number: str = ""
    site: str = ""
    supervisor_id: int | None = None
    processes: tuple[str, ...] = ()

    @property
    def when(self) -> str:
        """How far off it is, in words. Example: "in 4 days", "today", "35 days ago"."""
        days = abs(self.days)
        if not days:
            return "today"
        said = f"{days} day{'s' if days > 1 else ''}"
        return f"{said} ago" if self.days < 0 else f"in {said}"

    @property
    def is_lapse(self) -> bool:
        """True for what has lapsed already."""
        return self.act == LAPSED


@dataclass(frozen=True, slots=True)
class Group:
    """The items of one horizon. Example: "within 31 to 60 days"."""

    title: str
    items: tuple[DueItem, ...]


def falls_due(
    offers: Iterable[CertificateOffer],
    on: date,
    within: Sequence[int] = WITHIN,
    back: int = LOOK_BACK,
) -> tuple[DueItem, ...]:
    """What falls due from the day asked about up to the last horizon, and what lapsed in the days before it.

    Both ends count: with 30 days asked about, what falls due on the thirtieth day is in. Earliest first.
    """
    found = [item for one in offers for item in (*_ahead(one, on, within), *_behind(one, on, back))]
    return tuple(sorted(found, key=lambda item: (item.by, item.person_name, item.label, item.act)))


def grouped(items: Iterable[DueItem], within: Sequence[int] = WITHIN) -> tuple[Group, ...]:
    """The items under their horizons, the lapsed first; a horizon without items stays, so that nothing due is said."""
    every = list(items)
    groups = [Group("Lapsed already", tuple(reversed([i for i in every if i.is_lapse])))]
    start = 0
    for horizon in within:
        title = f"Within {horizon} days" if start == 0 else f"In {start + 1} to {horizon} days"
        groups.append(Group(title, tuple(i for i in every if not i.is_lapse and i.within == horizon)))
        start = horizon
    return tuple(groups)


def _ahead(one: CertificateOffer, on: date, within: Sequence[int]) -> list[DueItem]:
    """The dues of the period that holds the day, and its end where no due names that day."""
    state = one.validity.state(on)
    if not state.valid:
        return []
    acts = [(due.act, due.by, state.because, due.clause) for due in state.dues]
    if state.until is not None and state.until not in {by for _, by, _, _ in acts}:
        ending = _period(one, on).ending
        acts.append((END, state.until, ending.because, ending.clause))
    return [
        _item(one, act, by, on, horizon, because, clause)
        for act, by, because, clause in acts
        if (horizon := _horizon((by - on).days, within)) is not None
    ]


def _behind(one: CertificateOffer, on: date, back: int) -> list[DueItem]:
    """The lapse that made the certificate invalid on the day, if it lies no longer back than asked."""
    if one.validity.state(on).valid:
        return []
    over = [p for p in one.validity.periods if p.end is not None and p.end < on]
    last = max(over, key=lambda p: p.end or on, default=None)
    if last is None or last.end is None or last.ending.reason == LEFT:
        return []
    if last.end < on - timedelta(days=back):
        return []
    return [_item(one, LAPSED, last.end, on, 0, last.ending.because, last.ending.clause)]


def _period(one: CertificateOffer, on: date) -> Period:
    return next(p for p in one.validity.periods if p.holds(on))


def _horizon(days: int, within: Sequence[int]) -> int | None:
    return next((horizon for horizon in within if 0 <= days <= horizon), None)


def _item(one: CertificateOffer, act: str, by: date, on: date, within: int, because: str, clause: Clause) -> DueItem:
    return DueItem(
        certificate_id=one.certificate_id,
        person_id=one.person_id,
        person_name=one.person_name,
        label=one.label,
        kind=one.kind,
        act=act,
        by=by,
        days=(by - on).days,
        within=within,
        because=because,
        clause=clause,
        code=one.code,
        number=one.number,
        site=one.site,
        supervisor_id=one.supervisor_id,
        processes=one.processes,
    )
