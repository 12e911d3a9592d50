"""What falls due by a date, and what lapsed lately: a pure function over offers."""

from bisect import bisect_left
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from django.utils.translation import gettext

from codes.clauses import Clause
from codes.readings import DEFAULTS, Settings
from codes.validity import Ending
from qualifications.due_index import DECISION, END, LAPSED, DueIndex, Stretch
from qualifications.offers import CertificateOffer
from qualifications.reading import index_of

__all__ = ["CONFIRMATION", "DECISION", "END", "LAPSED", "WITHIN", "DueItem", "Group", "falls_due", "grouped"]

CONFIRMATION = "confirmation"
"""The act of a signature that a supervisor or the coordinator owes (codes.confirmations)."""

WITHIN = (30, 60, 90, 180)
"""The horizons in days, nearest first."""

LOOK_BACK = 90
"""How many days ago a lapse is still shown."""


@dataclass(slots=True)
class DueItem:
    """One thing to do or to decide, or one lapse. `days` counts from the day asked about: negative is past.

    `within` is the smallest horizon that holds it; 0 for a lapse and a decision. `ending`: that of the period which
    ends or ended; of a decision, what it is about.
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
    plant_id: int | None = None
    ending: Ending | None = None

    @property
    def when(self) -> str:
        """How far off it is, in words. Example: "in 4 days", "today", "35 days ago"."""
        days = abs(self.days)
        if not days:
            return gettext("today")
        said = f"{days} day{'s' if days > 1 else ''}"
        return gettext("%(said)s ago") % {"said": said} if self.days < 0 else gettext("in %(said)s") % {"said": said}

    @property
    def what(self) -> str:
        """What is to be done, to be decided, or no longer valid, and why. "no longer valid: revoked on ..."."""
        if self.is_lapse:
            return f"no longer valid: {self.because}"
        return f"decide whether to revoke it: {self.because}" if self.is_decision else self.act

    @property
    def is_lapse(self) -> bool:
        """True for what has lapsed already."""
        return self.act == LAPSED

    @property
    def is_decision(self) -> bool:
        """True for what waits for a decision; its day is that on which it came up."""
        return self.act == DECISION

    @property
    def is_ahead(self) -> bool:
        """True for what is to be done by a day that is still to come."""
        return not (self.is_lapse or self.is_decision)


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
    settings: Settings = DEFAULTS,
) -> tuple[DueItem, ...]:
    """What falls due from the day asked about up to the last horizon, what lapsed in the days before it, and what waits
    for a decision, however long.

    Both ends count: with 30 days asked about, what falls due on the thirtieth day is in. Earliest first.
    """
    index = index_of(offers, settings)
    question = (on, tuple(within), back)
    known = index.answered.get(question)
    if known is None:
        if len(index.answered) >= KEPT:
            index.answered.clear()
        known = index.answered[question] = _found(index, on, within, back)
    return known  # type: ignore[return-value]


KEPT = 8


def _found(index: DueIndex, on: date, within: Sequence[int], back: int) -> tuple[DueItem, ...]:
    within = sorted(within)
    ahead = index.between(on, on + timedelta(days=within[-1]), on)
    behind = index.between(on - timedelta(days=back), on - timedelta(days=1), on)
    found = [_item(one, on, within) for found in (ahead, behind, index.to_decide(on)) for one in found]
    return tuple(sorted(found, key=lambda item: (item.by, item.person_name, item.label, item.act)))


def grouped(items: Iterable[DueItem], within: Sequence[int] = WITHIN) -> tuple[Group, ...]:
    """The items under their horizons, after what is to be decided and the lapsed; a horizon without items stays, so
    that nothing due is said.
    """
    every = list(items)
    asked = tuple(item for item in every if item.is_decision)
    groups = [Group(gettext("To be decided now"), asked)] if asked else []
    groups.append(Group(gettext("No longer valid"), tuple(reversed([i for i in every if i.is_lapse]))))
    ahead: dict[int, list[DueItem]] = defaultdict(list)
    for item in every:
        if item.is_ahead:
            ahead[item.within].append(item)
    start = 0
    for horizon in within:
        title = (
            gettext("Within %(days)s days") % {"days": horizon}
            if start == 0
            else gettext("In %(first)s to %(last)s days") % {"first": start + 1, "last": horizon}
        )
        groups.append(Group(title, tuple(ahead[horizon])))
        start = horizon
    return tuple(groups)


def _item(one: Stretch, on: date, within: Sequence[int]) -> DueItem:
    offer = one.offer
    days = (one.by - on).days
    return DueItem(
        certificate_id=offer.certificate_id,
        person_id=offer.person_id,
        person_name=offer.person_name,
        label=offer.label,
        kind=offer.kind,
        act=one.act,
        by=one.by,
        days=days,
        within=within[bisect_left(within, days)] if 0 <= days <= within[-1] and one.act != DECISION else 0,
        because=one.because,
        clause=one.clause,
        ending=one.ending,
        code=offer.code,
        number=offer.number,
        site=offer.site,
        plant_id=offer.plant_id,
        supervisor_id=offer.supervisor_id,
        processes=offer.processes,
    )
