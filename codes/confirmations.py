"""Certificates that live on six-monthly confirmations: ISO 9606-1 clause 9 and ISO 14732 clause 5, one algorithm.

The clock starts on the day the test piece was welded. Each confirmation gives six months from its own day; one that
comes late ends the validity and no later signature revives it (own strict reading: no grace is written). On top of
that stands the option chosen at issue: a, a new test after some years; b, two welds tested in the last six months of
a term; c, no end while the manufacturer keeps its conditions. The standards differ in clauses and years only.

Event kinds and their details: "confirmation"; "prolongation" with `weld_1`, `weld_2` (or `welds`, comma between),
`conditions_reproduced`, and where known `tested_by` and `reported_on`; "revocation" with `why`; and for option c
"manufacturer_changed", "iso_3834_lost", "quality_not_shown". Facts of option c: `same_manufacturer`, `iso_3834`
(part number), `quality_documented`.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from codes.clauses import Clause
from codes.dates import add_months, add_years
from codes.validity import Due, Ending, Event, Period, Validity, ValidityInput

MONTHS = 6
OPTIONS = ("a", "b", "c")
METHODS = ("RT", "UT", "DESTRUCTIVE")
FULL_QUALITY_PARTS = ("2", "3")
OPTION_C_FACTS = {
    "same_manufacturer": "the holder works for the manufacturer of the test",
    "iso_3834": "the part of ISO 3834 the manufacturer is verified to",
    "quality_documented": "the manufacturer has documented welds of acceptable quality",
}
OPTION_C_ENDS = {
    "manufacturer_changed": "the holder left the manufacturer of the test",
    "iso_3834_lost": "the manufacturer is no longer verified to ISO 3834-2 or -3",
    "quality_not_shown": "acceptable quality is no longer documented",
}
KINDS = ("confirmation", "prolongation", "revocation", *OPTION_C_ENDS)


@dataclass(frozen=True, slots=True)
class Scheme:
    """What one standard adds: its clauses, the years to a new test (option a) and the term of option b."""

    standard: str
    start: Clause
    confirm: Clause
    revalidate: Clause
    revoke: Clause
    new_test_years: int
    term_years: int


Refused = tuple[str, tuple[str, ...]]
"""Why an act on file does not count: in words, and what was stated of it."""
NOT_REFUSED: Refused = ("", ())


@dataclass(frozen=True, slots=True)
class _Stop:
    """A last day of validity (None: no end) and why. Of equal days the first made wins."""

    day: date | None
    ending: Ending


@dataclass(frozen=True, slots=True)
class _Term:
    """One term of option a or b: its last day, and the prolongation that lengthened it."""

    end: date
    prolonged_on: date | None = None


def confirmed_periods(given: ValidityInput, scheme: Scheme) -> Validity:
    """The validity of a certificate from its test, its option and its events; at most one period.

    Example: welded on 31 January 2025 and never confirmed, it is valid to 31 July 2025, that day included.
    """
    option = option_letter(given.option)
    missing = _missing(given, option)
    if missing:
        ending = Ending("missing_data", f"not stated: {missing}", scheme.revalidate, _stated(given))
        return Validity((), ending, missing)
    failing = _option_c_fails(given) if option == "c" else ""
    if failing:
        return Validity((), Ending("revalidation_option", failing, scheme.revalidate, _stated(given)))
    start = max(given.tested_on, given.results_on or given.tested_on)
    confirmed = _confirmed(given)
    terms, refused = _terms(given, option, scheme)
    stop = _first(_stops(given, option, scheme, confirmed, terms, refused))
    if stop.day is not None and stop.day < start:
        return Validity((), stop.ending)
    opened = "valid from the day the test piece was welded"
    if start > given.tested_on:
        opened = "valid from the day the test results were accepted"
    dues = (*_confirmation_dues(confirmed, terms, scheme), *_term_dues(given, option, terms, scheme))
    return Validity(
        (Period(start, stop.day, opened, stop.ending, dues),),
        Ending("validity_not_started", f"validity starts on {start}", scheme.start, (start.isoformat(),)),
    )


def _stated(given: ValidityInput) -> tuple[str, ...]:
    """The option with the facts that it needs, and the events of which nobody knows what they mean."""
    unknown = next((event for event in given.events if event.kind not in KINDS), None)
    if unknown is not None:
        return unknown.kind, unknown.on.isoformat()
    return option_letter(given.option), *(f"{fact}: {given.facts.get(fact, '').strip()}" for fact in OPTION_C_FACTS)


def option_letter(option: str) -> str:
    """The letter of an option as people write it, "" where it is none. Example: "9.3 b)" gives "b"."""
    letter = option.casefold().strip().rstrip(")").strip()[-1:]
    return letter if letter in OPTIONS else ""


def _missing(given: ValidityInput, option: str) -> str:
    unknown = [event for event in given.events if event.kind not in KINDS]
    if unknown:
        # It might be the end of the certificate, so nothing can be said before it is understood.
        return f'what the event "{unknown[0].kind}" of {unknown[0].on} means; known: {", ".join(KINDS)}'
    if not option:
        return "the revalidation option chosen at issue (a, b or c)"
    if option != "c":
        return ""
    return ", ".join(words for fact, words in OPTION_C_FACTS.items() if not given.facts.get(fact, "").strip())


def _option_c_fails(given: ValidityInput) -> str:
    if not _yes(given.facts["same_manufacturer"]):
        return "option c needs the manufacturer for whom the holder was tested"
    if given.facts["iso_3834"].strip()[-1:] not in FULL_QUALITY_PARTS:
        return f"option c needs ISO 3834-2 or ISO 3834-3, stated is part {given.facts['iso_3834'].strip()}"
    if not _yes(given.facts["quality_documented"]):
        return "option c needs documented welds of acceptable quality"
    return ""


def _yes(answer: str) -> bool:
    return answer.strip().casefold() in ("yes", "true", "y", "1")


def _events(given: ValidityInput, *kinds: str) -> list[Event]:
    return sorted((event for event in given.events if event.kind in kinds), key=lambda event: event.on)


def _confirmed(given: ValidityInput) -> tuple[date, ...]:
    """The days that start six months: the test, then every confirmation that came in time."""
    days = [given.tested_on]
    for event in _events(given, "confirmation"):
        if event.on > add_months(days[-1], MONTHS):
            break
        # A signature dated before the test confirms nothing.
        if event.on >= days[-1]:
            days.append(event.on)
    return tuple(days)


def _terms(given: ValidityInput, option: str, scheme: Scheme) -> tuple[tuple[_Term, ...], Refused]:
    """The terms of options a and b in order, and why a prolongation on file does not count."""
    printed = given.printed_until
    if option == "c":
        return ((_Term(printed),) if printed else ()), NOT_REFUSED
    years = scheme.new_test_years if option == "a" else scheme.term_years
    end = add_years(given.tested_on, years)
    # A printed date that is earlier wins; a later one lengthens nothing.
    terms = [_Term(min(end, printed) if printed else end)]
    refused = NOT_REFUSED
    for event in _events(given, "prolongation"):
        problem = "option a is renewed by a new test only" if option == "a" else _prolongation_problem(event, terms[-1])
        if problem:
            refused = f"; the prolongation of {event.on} does not count: {problem}", event.stated
            continue
        terms[-1] = _Term(terms[-1].end, event.on)
        terms.append(_Term(add_years(terms[-1].end, years)))
        refused = NOT_REFUSED
    return tuple(terms), refused


def _prolongation_problem(event: Event, term: _Term) -> str:
    """Why a prolongation does not lengthen the term, "" where it does."""
    opens = add_months(term.end, -MONTHS)
    if event.on >= term.end:
        return f"it must be signed before {term.end}"
    try:
        welds = [date.fromisoformat(text) for text in _welds(event)]
        reported = date.fromisoformat(event.details.get("reported_on") or event.on.isoformat())
    except ValueError:
        return "a date in it is not written as 2026-03-31"
    if len(welds) < 2:
        return "it names fewer than two welds"
    for weld in welds:
        if not opens <= weld <= min(term.end, event.on):
            return f"the weld of {weld} was not made between {opens} and {min(term.end, event.on)}"
    if reported >= term.end:
        return f"the tests were reported on {reported}, not before {term.end}"
    if not _yes(event.details.get("conditions_reproduced", "")):
        return "it does not state that the conditions of the test were reproduced"
    method = event.details.get("tested_by", "").strip().upper()
    if method and method not in METHODS:
        return f'the welds were tested by "{method}", not by RT, UT or destructively'
    return ""


def _welds(event: Event) -> list[str]:
    stated = [event.details.get("weld_1", ""), event.details.get("weld_2", "")]
    stated += event.details.get("welds", "").replace(";", ",").split(",")
    return [text.strip() for text in stated if text.strip()]


def _stops(
    given: ValidityInput,
    option: str,
    scheme: Scheme,
    confirmed: tuple[date, ...],
    terms: tuple[_Term, ...],
    refused: Refused,
) -> Iterator[_Stop]:
    for event in _events(given, "revocation"):
        why = event.details.get("why", "").rstrip(". ")
        text = f"revoked on {event.on}" + (f": {why}" if why else "")
        yield _Stop(event.on - timedelta(days=1), Ending("revoked", text, scheme.revoke, (event.on.isoformat(), why)))
    due = add_months(confirmed[-1], MONTHS)
    text = f"no confirmation between {confirmed[-1]} and {due}"
    told: tuple[str, ...] = (confirmed[-1].isoformat(), due.isoformat())
    yield _Stop(due, Ending("validity_confirmation", text, scheme.confirm, told))
    for term in terms[-1:]:
        text, told = f"option {option} ends on {term.end}{refused[0]}", (option, term.end.isoformat(), *refused[1])
        yield _Stop(term.end, Ending("validity_expiry", text, scheme.revalidate, told))
    for event in _events(given, *OPTION_C_ENDS) if option == "c" else ():
        text = f"option c ended on {event.on}: {OPTION_C_ENDS[event.kind]}"
        told = (event.kind, event.on.isoformat())
        yield _Stop(event.on - timedelta(days=1), Ending("revalidation_option", text, scheme.revalidate, told))


def _first(stops: Iterator[_Stop]) -> _Stop:
    """The earliest; where a term ends on the day on which a signature runs out, signing would have helped nothing."""
    return min(stops, key=lambda stop: (stop.day or date.max, stop.ending.reason == "validity_confirmation"))


def _confirmation_dues(confirmed: tuple[date, ...], terms: tuple[_Term, ...], scheme: Scheme) -> Iterator[Due]:
    """The signatures owed, none for the last day of the last term or later: then it ends, whoever signs."""
    for i, day in enumerate(confirmed):
        done = confirmed[i + 1] if i + 1 < len(confirmed) else None
        by = add_months(day, MONTHS)
        if done or not terms or by < terms[-1].end:
            yield Due("confirmation", by, scheme.confirm, since=day, done_on=done)


def _term_dues(given: ValidityInput, option: str, terms: tuple[_Term, ...], scheme: Scheme) -> Iterator[Due]:
    since = given.tested_on
    for term in terms:
        if option == "b":
            opens = add_months(term.end, -MONTHS)
            # Signed before the end: the last good day is the day before it.
            last = term.end - timedelta(days=1)
            act = f"two test welds made from {opens} on, tested and signed"
            yield Due(act, last, scheme.revalidate, since=since, done_on=term.prolonged_on)
        else:
            yield Due("new test", term.end, scheme.revalidate, since=since)
        since = term.prolonged_on or since
