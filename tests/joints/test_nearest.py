"""Where nobody may weld a joint: which certificate comes nearest, and how it is said."""

from dataclasses import replace
from datetime import date

from codes.clauses import Clause, Mark
from codes.limits import Limit, OneOf, span
from codes.verdict import Finding, Outcome
from joints.answers import refusal
from joints.people import nearest_certificate
from tests.joints.makers import CODE, ON, RANGE, certificate, demand, validity

LAPSED = validity(end=date(2026, 10, 1))


def welder(name: str, process: str, pk: int, **facts: object):
    """Qualified for one process in every position."""
    rows = (Limit("process", OneOf((process,)), RANGE),)
    return certificate(name, *rows, pk=pk, **facts)


def named(*offers) -> str:
    found = nearest_certificate(offers, [demand()], "WPS 1", ON, CODE)
    assert found is not None
    return found.person_name


def test_an_edition_that_is_not_held_comes_last() -> None:
    unheld = replace(welder("Not held", "135", 1), sets=(), problem="not judged")
    assert named(unheld, welder("Another process", "111", 2)) == "Another process"
    assert named(unheld) == "Not held"


def test_nobody_without_any_certificate() -> None:
    assert nearest_certificate([], [demand()], "WPS 1", ON, CODE) is None


def test_a_lapse_is_said_with_its_reason() -> None:
    found = nearest_certificate([welder("Lapsed", "135", 2, valid=LAPSED)], [demand()], "WPS 1", ON, CODE)
    assert found is not None
    assert refusal(found.verdict.worst[0], "allows") == "not valid on 2026-11-25: not confirmed in six months"


def test_a_gate_speaks_for_itself() -> None:
    because = "a tack of 30 mm, below 50 mm, serves parts up to a quarter of it, 7.5 mm"
    allowed = str(span(None, None))
    clause = Clause("EN 1090-2:2018", "7.5.7", Mark.OWN)
    found = Finding(
        "parent_t", "Parent thickness", Outcome.OUTSIDE, "13 mm", allowed, clause, because, reason="tack_length"
    )
    assert refusal(found, "Cell R1 allows") == f"{because}; parent thickness 13 mm, allowed {allowed}"


def test_what_is_asked_for_and_not_allowed_is_said_without_yes_and_no() -> None:
    found = Finding("impact_required", "Impact requirement", Outcome.OUTSIDE, "yes", "no", RANGE)
    assert refusal(found, "WPS 011 rev A allows") == "impact requirement, WPS 011 rev A allows none"
