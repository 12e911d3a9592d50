"""What the weld log proposes for a certificate: the welds that speak for a signature today, and those ticked at first.

Nothing is signed here. Six-monthly certificates rest on welds of the last six months inside the range; those that
live on use, on every weld since the last one on file with which no gap is too long.
"""

from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from django.utils.translation import gettext_lazy as _

from codes.readings import DEFAULTS, Settings
from codes.validity import Event, State
from qualifications import events
from qualifications.clocks import Clock, clock_of, details_of_use
from qualifications.evidence import proposed, window
from qualifications.models import Certificate, CertificateEvent, WeldLogEntry
from qualifications.offers import limits, processes
from qualifications.own_clocks import lives
from qualifications.periods import is_judged, validity

AT_FIRST = 3
"""Welds ticked at first for a six-monthly confirmation, the latest ones."""
SHOWN = 8
"""Welds that stand open on the page; the others are folded in below them."""
NO_WELD = _("No weld inside its range in the log of the last six months.")
NO_USE = _("No weld in the log that would keep it alive.")


@dataclass(frozen=True, slots=True)
class Proposal:
    """A certificate that may be signed for today. `chosen`: the welds ticked at first; `problem`: why it may not.

    `ticked`: what whoever signs had ticked, where the page comes again because nothing was signed.
    """

    certificate: Certificate
    clock: Clock
    state: State
    by: date | None
    entries: tuple[WeldLogEntry, ...]
    chosen: tuple[WeldLogEntry, ...]
    problem: str
    ticked: tuple[WeldLogEntry, ...] | None = None

    @property
    def marked(self) -> tuple[WeldLogEntry, ...]:
        """The welds that stand ticked."""
        return self.chosen if self.ticked is None else self.ticked

    @property
    def shown(self) -> tuple[WeldLogEntry, ...]:
        """The welds to choose from: those ticked at first, and the latest others."""
        others = [e for e in self.entries if e not in self.chosen][: max(0, SHOWN - len(self.chosen))]
        return tuple(sorted((*self.chosen, *others), key=lambda e: (e.on, e.pk), reverse=True))

    @property
    def folded(self) -> tuple[WeldLogEntry, ...]:
        """The other welds that may be ticked as well, newest first."""
        shown = self.shown
        return tuple(entry for entry in self.entries if entry not in shown)

    @property
    def unfolded(self) -> bool:
        """True where one of those stands ticked, so that it is not hidden."""
        return any(entry in self.marked for entry in self.folded)


def since(certificates: Iterable[Certificate], today: date) -> date:
    """The first day of the log that can matter to one of the certificates."""
    days = [window(today)[0]]
    days += [one.welded_on for one in certificates if clock_of(one) is Clock.USED]
    return min(days)


def proposal(
    certificate: Certificate, log: Sequence[WeldLogEntry], today: date, settings: Settings = DEFAULTS
) -> Proposal:
    """What the log of the holder proposes for a signature today."""
    clock = clock_of(certificate)
    state = validity(certificate, settings).state(today)
    by = min((due.by for due in state.dues if due.act in SIGNED), default=None)
    if clock is Clock.USED:
        entries = uses(certificate, log, today, settings)
        chosen, lacking = entries, NO_USE
    else:
        entries = proposed(log, limits(certificate, settings)[0], certificate.person_id, today)
        chosen, lacking = entries[:AT_FIRST], NO_WELD
    problem = events.obstacle(certificate, today, today, settings) or ("" if entries else lacking)
    return Proposal(certificate, clock, state, by, entries, chosen, problem)


SIGNED = ("confirmation", "weld with the process")
"""The acts of a clock that a signature on welds does."""


def uses(
    certificate: Certificate, log: Sequence[WeldLogEntry], today: date, settings: Settings = DEFAULTS
) -> tuple[WeldLogEntry, ...]:
    """The welds not on file yet that keep the certificate alive, newest first: of each month the first and the last.

    Each is tried in order of date with those before it, as the gap after one may be closed by another.
    """
    if not is_judged(certificate):
        return ()
    last = _last_use(certificate)
    own = [e for e in log if e.person_id == certificate.person_id and last(e) < e.on <= today and not e.struck_out]
    kept: list[WeldLogEntry] = []
    known: tuple[Event, ...] = ()
    before = _life(certificate, known, settings)
    for entry in thinned(own):
        more = (*known, Event(USE, today, "", details_of_use(certificate, entry)))
        after = _life(certificate, more, settings)
        if after != before:
            kept, known, before = [*kept, entry], more, after
    return tuple(reversed(kept))


USE = CertificateEvent.Kind.USE
USE_KINDS = (USE, CertificateEvent.Kind.CONFIRMATION)


def _last_use(certificate: Certificate) -> Callable[[WeldLogEntry], date]:
    """The last use on file; for a certificate of several processes, each with a clock of its own, that of the entry."""
    on_file = [e for e in certificate.events.all() if e.kind in USE_KINDS]
    several = len(processes(certificate)) > 1

    def last(entry: WeldLogEntry) -> date:
        days = (_used_on(e) for e in on_file if not several or entry.process in _processes_of(e))
        return max(days, default=certificate.welded_on)

    return last


def _processes_of(event: CertificateEvent) -> list[str]:
    stated = str(event.details.get("process", "")) if isinstance(event.details, dict) else ""
    return [process.strip() for process in stated.split(",")]


def thinned(entries: Iterable[WeldLogEntry]) -> list[WeldLogEntry]:
    """Of each month, process and way of welding the first and the last, in order of date."""
    groups: dict[tuple[object, ...], list[WeldLogEntry]] = defaultdict(list)
    for entry in sorted(entries, key=lambda e: (e.on, e.pk)):
        groups[entry.on.year, entry.on.month, entry.process, entry.mechanisation].append(entry)
    ends = {e.pk: e for group in groups.values() for e in (group[0], group[-1])}
    return sorted(ends.values(), key=lambda e: (e.on, e.pk))


def _used_on(event: CertificateEvent) -> date:
    stated = event.details.get("used_on", "") if isinstance(event.details, dict) else ""
    try:
        return date.fromisoformat(stated) if stated else event.on
    except ValueError:
        return event.on


def _life(certificate: Certificate, extra: tuple[Event, ...], settings: Settings) -> list[object]:
    return [(p.end, p.dues) for one in lives(certificate, extra, settings) for p in one.periods]
