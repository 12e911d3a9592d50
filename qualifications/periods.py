"""A certificate and its dated events to periods of validity; nothing of it is stored.

The rule is the code's own (`codes.editions.Edition.periods`). Added here: entries voided by a correction do not
count, a person's certificates end with their last day of work, and an edition that the register does not hold is
recorded but never judged.
"""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date
from functools import lru_cache
from types import MappingProxyType
from typing import Any

from codes.clauses import Clause, Mark
from codes.editions import Edition, UnknownEdition, edition
from codes.readings import DEFAULTS, Settings
from codes.validity import Ending, Event, Period, State, Validity, ValidityInput
from qualifications.models import Certificate, CertificateEvent
from register.languages import in_own_language

NOT_JUDGED = "standard"
BAD_RECORD = "missing_data"
LEFT = "left"


@lru_cache(maxsize=256)
def edition_of(code: str) -> Edition | None:
    """The edition of a certificate, or None where the register does not hold it."""
    try:
        return edition(code)
    except UnknownEdition:
        return None


def is_judged(certificate: Certificate) -> bool:
    """True where the register holds the edition, it has certificates of this kind, and it states their clock."""
    known = edition_of(certificate.code)
    return known is not None and certificate.kind in known.kinds and known.periods is not None


def validity(
    certificate: Certificate,
    settings: Settings = DEFAULTS,
    extra: tuple[Event, ...] = (),
    events: Iterable[Any] | None = None,
) -> Validity:
    """All periods of a certificate. Reads person and events, so fetch them with the certificates of a list.

    `extra`: events as if they were on file, to see what one would change before it is written. `events`: those on
    file, where they were read already.
    """
    known = edition_of(certificate.code)
    if not is_judged(certificate) or known is None or known.periods is None:
        return _not_judged(certificate)
    try:
        found = known.periods(validity_input(certificate, extra, events), settings)
    except (ValueError, KeyError) as problem:
        return _unreadable(certificate, str(problem))
    left_on = certificate.person.left_on
    return found if left_on is None else cut(found, left_on)


def state(certificate: Certificate, on: date, settings: Settings = DEFAULTS, extra: tuple[Event, ...] = ()) -> State:
    """The state of a certificate on a day, past or future; `extra`: events as if they were on file."""
    return validity(certificate, settings, extra).state(on)


def validity_input(
    certificate: Certificate, extra: tuple[Event, ...] = (), events: Iterable[Any] | None = None
) -> ValidityInput:
    """What the certificate and its counted events say, in the words of `codes`."""
    rows = certificate.events.all() if events is None else events
    return ValidityInput(
        tested_on=certificate.welded_on,
        option=certificate.option,
        results_on=certificate.results_on,
        printed_until=certificate.printed_until,
        events=(*(plain_event(event) for event in counted(rows)), *extra),
        facts=_of_the_test(certificate) | _as_text(certificate.facts),
    )


def _of_the_test(certificate: Certificate) -> dict[str, str]:
    """What the clocks that run on use ask of the test: process, transfer mode, employer."""
    pieces = certificate.pieces if isinstance(certificate.pieces, list) else []
    stated = [piece for piece in pieces if isinstance(piece, dict)]
    first = stated[0] if stated else {}
    # Each process of a test has its own clock: several are named with commas between, each with its mode.
    welded = dict.fromkeys((_word(one, "process"), _word(one, "transfer_mode")) for one in stated)
    named = [pair for pair in welded if pair[0]]
    said = {
        "process": ",".join(process for process, _ in named),
        "transfer_mode": ",".join(mode for _, mode in named),
        "employer": _word(first, "contractor") or certificate.employer_then,
    }
    return {name: value for name, value in said.items() if value.strip(",")}


def _word(piece: Mapping[str, object], name: str) -> str:
    value = piece.get(name)
    return value if isinstance(value, str) else ""


def plain_event(event: Any) -> Event:
    """An event in the words of `codes`."""
    if not event.details and not event.reason:
        return Event(event.kind, event.on, event.by_name, NO_DETAILS)
    details = _as_text(event.details) | ({"why": event.reason} if event.reason else {})
    return Event(event.kind, event.on, event.by_name, details)


NO_DETAILS: Mapping[str, str] = MappingProxyType({})


def counted(events: Iterable[Any]) -> tuple[Any, ...]:
    """The events that count, in order of date: neither voided nor themselves corrections.

    Model instances, or rows with the same names (qualifications.reading.EventRow).
    """
    every = list(events)
    voided = {event.voids_id for event in every if event.voids_id is not None}
    kept = [e for e in every if e.kind != CertificateEvent.Kind.CORRECTION and e.pk not in voided]
    return tuple(sorted(kept, key=lambda e: e.on))


def cut(found: Validity, last_day: date) -> Validity:
    """The periods up to and including a last day of work.

    Example: a period of 1 March to 31 August, cut on 15 June, holds 15 June and not 16 June.
    """
    ending = Ending(LEFT, f"the last day of work was {last_day.isoformat()}", _OWN, (last_day.isoformat(),))
    kept: list[Period] = []
    for period in found.periods:
        if period.start > last_day:
            continue
        if period.end is None or period.end > last_day:
            dues = tuple(due for due in period.dues if due.by <= last_day)
            period = replace(period, end=last_day, ending=ending, dues=dues)
        kept.append(period)
    before = found.before if kept else ending
    return replace(found, periods=tuple(kept), before=before)


_OWN = Clause("This register", "last day of work", Mark.OWN)


@in_own_language
def _not_judged(certificate: Certificate) -> Validity:
    reason = f"the register does not hold {certificate.code} for a {certificate.get_kind_display()}"
    because = f"not judged: {reason}"
    return Validity((), Ending(NOT_JUDGED, because, Clause(certificate.code, "", Mark.OWN)), because)


def _unreadable(certificate: Certificate, problem: str) -> Validity:
    because = f"not judged: what is on file cannot be read ({problem})"
    return Validity((), Ending(BAD_RECORD, because, Clause(certificate.code, "", Mark.OWN)), because)


def _as_text(plain: object) -> dict[str, str]:
    """A mapping with text values; what is no mapping counts as nothing said."""
    return {str(key): str(value) for key, value in plain.items()} if isinstance(plain, dict) else {}
