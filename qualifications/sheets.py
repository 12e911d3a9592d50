"""A certificate made ready for a page: state in words, strip of time, range line by line, events, what may be done."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.utils.translation import gettext

from codes.confirmations import OPTION_C_FACTS
from codes.dates import add_months
from codes.editions import Tested
from codes.limits import Limit, LimitSet, Within
from codes.plain import in_short, plainly
from codes.readings import DEFAULTS, Settings
from codes.terms import both_names
from codes.validity import State, Validity
from codes.values import Interval, text
from codes.variables import VARIABLES, Kind, label_of, unit_of
from codes.words import listed
from qualifications.designations import written
from qualifications.events import may_confirm
from qualifications.methods import ALL, tests_not_shown
from qualifications.models import Certificate, CertificateEvent
from qualifications.offers import limits, tested
from qualifications.own_clocks import said_of
from qualifications.periods import is_judged, validity
from register.base.draw import Span
from register.own_units.words import typed_of
from register.plants.reach import current
from register.roles import Capability, can

BACK_MONTHS, AHEAD_MONTHS = 12, 24
"""How far a strip of time looks back and ahead of the day asked about."""


@dataclass(frozen=True, slots=True)
class RangeLine:
    """One line of a range of qualification: what is allowed of one variable, from which test value, by which clause."""

    label: str
    allowed: str
    because: str
    when: str
    clause: str
    mark: str
    readings: tuple[str, ...]
    interval: Interval | None
    needs: str = ""
    variable: str = ""
    typed: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Range:
    """One allowed combination of pieces, as lines."""

    label: str
    lines: tuple[RangeLine, ...]
    in_short: tuple[RangeLine, ...] = ()


@dataclass(frozen=True, slots=True)
class EventLine:
    """One event as the page shows it; `voided` holds the correction that took it out of the count."""

    event: CertificateEvent
    kind: str
    voided: CertificateEvent | None
    late_days: int
    may_correct: bool


@dataclass(frozen=True, slots=True)
class CertificateView:
    """All that a page says of one certificate on one day."""

    certificate: Certificate
    state: State
    outcome: str
    word: str
    sentence: str
    spans: tuple[Span, ...]
    strip_start: date
    strip_end: date
    ranges: tuple[Range, ...]
    problem: str
    events: tuple[EventLine, ...]
    tested: tuple[tuple[tuple[str, str], ...], ...]
    written: str
    results: tuple[tuple[str, str], ...]
    not_shown: tuple[str, ...]
    facts: tuple[tuple[str, str], ...]
    may_confirm: bool
    may_edit: bool


def certificate_view(certificate: Certificate, on: date, user: Any, settings: Settings = DEFAULTS) -> CertificateView:
    """The certificate on a day. Reads person and events only, so fetch both before a list."""
    found = validity(certificate, settings)
    state = found.state(on)
    sets, problem = limits(certificate, settings)
    judged = is_judged(certificate)
    pieces = _pieces(certificate)
    confirmable = may_confirm(user, certificate.person)
    editable = can(user, Capability.EDIT_PEOPLE) and current().holds(certificate.person.plant_id)
    return CertificateView(
        certificate=certificate,
        state=state,
        outcome=outcome(state, judged),
        word=word(state, judged),
        sentence=sentence(state),
        spans=_spans(found),
        strip_start=add_months(on, -BACK_MONTHS),
        strip_end=add_months(on, AHEAD_MONTHS),
        ranges=tuple(Range(one.label, range_lines(one), short_lines(one)) for one in sets),
        problem=problem,
        events=event_lines(certificate.events.all(), confirmable, editable),
        tested=tuple(tuple((name, said(name, piece[name])) for name in piece) for piece in pieces),
        written=written(certificate.code, pieces),
        results=_labelled(certificate.results, ALL),
        not_shown=tests_not_shown(certificate),
        facts=_labelled(certificate.facts, OPTION_C_FACTS),
        may_confirm=confirmable,
        may_edit=editable,
    )


def outcome(state: State, judged: bool) -> str:
    """The shape a state is shown with: that of covered, outside or not stated."""
    if not judged or state.missing:
        return "not stated"
    return "covered" if state.valid else "outside"


def word(state: State, judged: bool) -> str:
    """The one word beside the shape."""
    if not judged:
        return "Not judged"
    if state.missing:
        return "Not known"
    return "Valid" if state.valid else "Not valid"


def sentence(state: State) -> str:
    """The state in words. Example: "on 2026-11-25, until 2027-02-10; confirmation by 2026-12-01"."""
    if not state.valid:
        # The word beside the sentence says "not judged" already.
        because = state.because.removeprefix("not judged: ")
        return f"on {state.on.isoformat()}: {because} ({state.clause})."
    until = f"until {state.until.isoformat()}" if state.until else "without end"
    dues = "; ".join(f"{due.act} by {due.by.isoformat()}" for due in state.dues)
    return f"on {state.on.isoformat()}, {until}{f'. Next: {dues}' if dues else ''}."


def range_lines(one: LimitSet) -> tuple[RangeLine, ...]:
    """The lines of a limit set, in the order of the code's clauses as the set holds them."""
    return tuple(_range_line(limit) for limit in plainly(one.limits))


def short_lines(one: LimitSet) -> tuple[RangeLine, ...]:
    """The same for little room: what is allowed whatever else holds comes first of its variable, in one line."""
    return tuple(_range_line(limit) for limit in in_short(one.limits))


def _range_line(limit: Limit) -> RangeLine:
    span = limit.allowed.interval if isinstance(limit.allowed, Within) else None
    bounded = span is not None and (span.lo is not None or span.hi is not None)
    return RangeLine(
        label=label_of(limit.variable),
        allowed=f"not {limit.ruled_out}" if limit.ruled_out else limit.words,
        because=limit.because,
        when="" if limit.ruled_out else "; ".join(str(when) for when in limit.when),
        clause=str(limit.clause),
        mark=limit.clause.mark.value,
        readings=limit.readings,
        interval=span if bounded else None,
        needs=limit.needs,
        variable=limit.variable,
        typed=typed_of(limit.variable, limit.words, limit.tested),
    )


def event_lines(
    events: Iterable[CertificateEvent], confirmable: bool = False, editable: bool = False
) -> tuple[EventLine, ...]:
    """The events, newest first, each with the correction that voids it."""
    every = list(events)
    voids = {e.voids_id: e for e in every if e.voids_id is not None}
    lines = [_event_line(e, voids.get(e.pk), confirmable, editable) for e in every]
    return tuple(sorted(lines, key=lambda line: (line.event.on, line.event.recorded_at), reverse=True))


def _event_line(
    event: CertificateEvent, voided: CertificateEvent | None, confirmable: bool, editable: bool
) -> EventLine:
    kind = CertificateEvent.Kind
    may = editable or (confirmable and event.kind == kind.CONFIRMATION)
    late = (event.recorded_at.date() - event.on).days
    return EventLine(
        event=event,
        kind=_kind_said(event),
        voided=voided,
        late_days=max(late, 0) if event.kind != kind.CORRECTION else 0,
        may_correct=may and voided is None and event.kind != kind.CORRECTION,
    )


def _kind_said(event: CertificateEvent) -> str:
    """What it is; where it was stated, for which processes. A logged weld says that in its evidence."""
    said, details = str(event.get_kind_display()), event.details if isinstance(event.details, dict) else {}
    if event.kind == CertificateEvent.Kind.PROLONGATION and details.get("weld_1"):
        return gettext("%(said)s: welds of %(weld_1)s and %(weld_2)s, %(tested_by)s, reported %(reported_on)s") % (
            {"said": said, "weld_2": "–", "tested_by": "–", "reported_on": "–"} | details
        )
    stated = said_of(details) if event.kind != CertificateEvent.Kind.USE else ""
    return f"{said}: {stated}" if stated else said


def _spans(found: Validity) -> tuple[Span, ...]:
    return tuple(Span(p.start, p.end or date(2149, 12, 31), "valid") for p in found.periods)


def _pieces(certificate: Certificate) -> tuple[Tested, ...]:
    """The test pieces as typed values; none where they cannot be read, which the range then says."""
    try:
        return tested(certificate)
    except ValueError:
        return ()


def _labelled(stored: Any, labels: Mapping[str, str]) -> tuple[tuple[str, str], ...]:
    """Stored words under their labels, in the order of the labels; a name without one stands as it is."""
    known = stored if isinstance(stored, dict) else {}
    names = [*(name for name in labels if name in known), *(name for name in known if name not in labels)]
    return tuple((_capital(labels.get(name, name.replace("_", " "))), str(known[name])) for name in names)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def said(name: str, value: Any) -> str:
    """A tested value in words, a term with both its names."""
    known = VARIABLES.get(name)
    parts = value if isinstance(value, tuple) else (value,)
    if known is not None and known.kind is Kind.TERM:
        return listed([both_names(known.vocabulary, str(part)) for part in parts])
    return text(value, unit_of(name))
