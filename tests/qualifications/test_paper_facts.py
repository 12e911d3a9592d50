"""What the papers of people say whatever the words: each change of sense is another fact, no change of words is one."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from codes.limits import Limit, LimitSet
from qualifications import due, due_index, methods, offers, sheets
from qualifications.models import Certificate
from qualifications.paper import facts, field_list, pdfs
from register.papers.codes import canonical, check_code
from register.plants.models import Plant
from tests.qualifications.make import FILLET, certificate, event, person

pytestmark = pytest.mark.django_db
ON = date(2025, 7, 1)


@pytest.fixture
def held() -> Certificate:
    holder = person("Ada Krol", identification="W07", employer="Nordhalle", born_on=date(1990, 2, 3), born_in="Aarhus")
    one = certificate(
        holder, examiner="E. Munk", job_knowledge="accepted", wps="014", employer_then="Nordhalle",
        results={"vt": "accepted", "fracture": "accepted"}, results_on=date(2025, 2, 3), issued_on=date(2025, 2, 4),
    )  # fmt: skip
    event(one, date(2025, 6, 20), evidence="joint B12/3, WPS 014", by_role="supervisor")
    return one


def of_certificate(one: Certificate, on: date = ON) -> dict[str, Any]:
    found = pdfs.facts_of_certificate(str(one.pk), on)
    assert found is not None
    return found


def of_card(one: Certificate, on: date = ON) -> dict[str, Any]:
    found = pdfs.facts_of_card(str(one.person_id), on)
    assert found is not None
    return found


def of_due(one: Certificate, on: date = ON) -> dict[str, Any]:
    found = pdfs.facts_of_due(str(Plant.objects.get().pk), on)
    assert found is not None
    return found


def stating(**values: Any) -> Callable[[Certificate], None]:
    """Written as a correction of what was typed would be."""

    def change(one: Certificate) -> None:
        for name, value in values.items():
            setattr(one, name, value)
        one.save()

    return change


def holder(**values: Any) -> Callable[[Certificate], None]:
    def change(one: Certificate) -> None:
        for name, value in values.items():
            setattr(one.person, name, value)
        one.person.save()

    return change


def piece(**values: str) -> Callable[[Certificate], None]:
    return stating(pieces=[FILLET | values])


def happened(on: date = date(2025, 6, 25), kind: str = "confirmation", **more: Any) -> Callable[[Certificate], None]:
    def change(one: Certificate) -> None:
        event(one, on, kind, **more)

    return change


def voided(one: Certificate) -> None:
    event(one, date(2025, 6, 26), "correction", voids=one.events.get(), reason="another welder")


def another_certificate(one: Certificate) -> None:
    certificate(one.person, number="W-2")


PRINTED_ON_ALL = {
    "name": holder(name="Ada Kroll"),
    "number": stating(number="W-1a"),
    "event": happened(),
    "event voided": voided,
}
ON_CERTIFICATE = PRINTED_ON_ALL | {
    "stamp": holder(identification="W08"),
    "born on": holder(born_on=date(1990, 2, 4)),
    "born in": holder(born_in="Odense"),
    "left": holder(active=False, left_on=date(2025, 6, 30)),
    "designation": stating(designation="ISO 9606-1 135 P FW"),
    "kind": stating(kind="tack_welder"),
    "code": stating(code="EN 287-1:2004"),
    "WPS": stating(wps="015"),
    "examiner": stating(examiner="E. Munck"),
    "examining body": stating(examining_body="Test House South"),
    "employer then": stating(employer_then="Sydhalle"),
    "welded on": stating(welded_on=date(2025, 1, 30)),
    "results on": stating(results_on=date(2025, 2, 2)),
    "issued on": stating(issued_on=date(2025, 2, 5)),
    "option": stating(option="b"),
    "printed until": stating(printed_until=date(2026, 1, 31)),
    "job knowledge": stating(job_knowledge="not tested"),
    "result": stating(results={"vt": "accepted", "fracture": "rejected"}),
    "result gone": stating(results={"vt": "accepted"}),
    "thickness tested": piece(parent_t="8"),
    "position tested": piece(position="PF"),
    "filler tested": piece(filler_type="M"),
    "piece gone": stating(pieces=[]),
    "revoked": happened(kind="revocation", reason="work in doubt"),
    "signed by another": happened(by_name="Ivo Lund"),
    "evidence": happened(evidence="joint B12/4"),
}
ON_A_CARD = PRINTED_ON_ALL | {
    "stamp": holder(identification="W08"),
    "employer": holder(employer="Sydhalle"),
    "designation": stating(designation="ISO 9606-1 135 P FW"),
    "one more": another_certificate,
    "position tested": piece(position="PF"),
    "thickness tested": piece(parent_t="1.5"),
    "revoked": happened(kind="revocation", reason="work in doubt"),
}
ON_THE_LIST = PRINTED_ON_ALL | {
    "place": holder(site="Hall 2"),
    "process": piece(process="111", transfer_mode=""),
    "one more": another_certificate,
    "revoked": happened(kind="revocation", reason="work in doubt"),
    "left": holder(active=False, left_on=date(2025, 6, 30)),
}


@pytest.mark.parametrize("change", ON_CERTIFICATE)
def test_a_certificate_that_says_something_else(held: Certificate, change: str) -> None:
    before = of_certificate(held)
    ON_CERTIFICATE[change](held)
    assert canonical(of_certificate(held)) != canonical(before)


@pytest.mark.parametrize("change", ON_A_CARD)
def test_a_card_that_says_something_else(held: Certificate, change: str) -> None:
    before = of_card(held)
    ON_A_CARD[change](held)
    assert canonical(of_card(held)) != canonical(before)


@pytest.mark.parametrize("change", ON_THE_LIST)
def test_a_list_of_what_falls_due_that_says_something_else(held: Certificate, change: str) -> None:
    before = of_due(held)
    assert before["due"]
    ON_THE_LIST[change](held)
    assert canonical(of_due(held)) != canonical(before)


@pytest.mark.parametrize("of", [of_certificate, of_card, of_due])
def test_another_day_is_another_fact(held: Certificate, of: Callable[..., dict[str, Any]]) -> None:
    assert canonical(of(held, date(2025, 7, 2))) != canonical(of(held))


def test_why_a_certificate_lapsed_is_a_fact_of_the_list(held: Certificate) -> None:
    """The list repeats what somebody gave as the reason of a revocation: entered anew, it is another."""
    told = []
    for reason in ("work in doubt", "fraud"):
        event(held, date(2025, 6, 25), "revocation", reason=reason)
        (lapse,) = [row for row in of_due(held)["due"] if row[1] == "lapsed"]
        told.append(lapse[2])
        last = held.events.filter(kind="revocation").latest("pk")
        event(held, date(2025, 6, 26), "correction", voids=last, reason="another welder")
    assert told == [["revoked", "2025-06-25", "work in doubt"], ["revoked", "2025-06-25", "fraud"]]


def test_what_is_not_on_the_card_leaves_it(held: Certificate) -> None:
    before = of_card(held)
    stating(examiner="E. Munck", wps="015")(held)
    assert canonical(of_card(held)) == canonical(before)


def test_a_range_that_moves_by_less_than_is_shown(held: Certificate, monkeypatch: pytest.MonkeyPatch) -> None:
    """From 3 mm to 2.9999 mm: a rule corrected in a later version."""
    before, known = (of_certificate(held), of_card(held)), offers.limits

    def corrected(one: Certificate, settings: Any) -> tuple[tuple[LimitSet, ...], str]:
        sets, problem = known(one, settings)
        return tuple(replace(each, limits=tuple(map(lower, each.limits))) for each in sets), problem

    def lower(limit: Limit) -> Limit:
        moved = getattr(limit.allowed, "interval", None)
        if limit.variable != "parent_t" or moved is None:
            return limit
        return replace(limit, allowed=replace(limit.allowed, interval=replace(moved, lo=moved.lo.next_minus())))  # type: ignore[type-var]

    monkeypatch.setattr(facts, "limits", corrected)
    assert of_certificate(held) != before[0]
    assert of_card(held) != before[1]


def other_words(monkeypatch: pytest.MonkeyPatch) -> None:
    """A later version that says everything otherwise."""
    for module in (field_list, sheets):
        monkeypatch.setattr(module, "label_of", lambda name: f"the {name}")
        monkeypatch.setattr(module, "said", lambda name, value: f"tested {name}")
    monkeypatch.setattr(field_list, "allowed_words", lambda name, allowed: f"as allowed: {name}")
    monkeypatch.setattr(sheets, "sentence", lambda state: "Another sentence.")
    monkeypatch.setattr(sheets, "word", lambda state, judged: "Good")
    monkeypatch.setattr(sheets, "_kind_said", lambda one: "signature")
    monkeypatch.setattr(sheets, "ALL", {name: label.upper() for name, label in methods.ALL.items()})
    for module in (due_index, due):
        monkeypatch.setattr(module, "LAPSED", "ran out")


def test_other_words_change_the_code_and_no_fact(held: Certificate, monkeypatch: pytest.MonkeyPatch) -> None:
    event(held, date(2025, 6, 25), "revocation", reason="work in doubt")
    other = certificate(held.person, number="W-2", results={"vt": "accepted"})
    event(other, date(2025, 6, 20))
    asked = {
        "certificate": (pdfs.certificate_content, of_certificate, str(other.pk), other),
        "card": (pdfs.card_content, of_card, str(other.person_id), other),
        "due": (pdfs.due_content, of_due, str(Plant.objects.get().pk), other),
    }
    before = {name: (check_code(content(pk, ON)), of(one)) for name, (content, of, pk, one) in asked.items()}
    other_words(monkeypatch)
    for name, (content, of, pk, one) in asked.items():
        assert check_code(content(pk, ON)) != before[name][0], name
        assert of(one) == before[name][1], name


def test_what_is_printed_has_the_facts_that_are_asked_for_later(held: Certificate) -> None:
    """The draft makes them from the view that it prints; the status page anew."""
    assert pdfs.certificate_draft(held, ON).facts == of_certificate(held)
    assert pdfs.card_draft(held.person, ON).facts == of_card(held)
    items = pdfs._falls_due(str(Plant.objects.get().pk), ON)
    assert pdfs.due_draft(Plant.objects.get(), [], ON, items=items).facts == of_due(held)


def test_a_certificate_that_cannot_be_judged_is_kept_as_it_stands(held: Certificate) -> None:
    stating(pieces=[{"parent_t": "thick"}])(held)
    found = of_certificate(held)
    assert (found["ranges"], found["pieces"]) == ([], [[{"parent_t": "thick"}]])
    stating(code="EN 287-1:2004")(held)
    assert of_certificate(held)["state"]["reason"] == "standard"


def test_gone_is_gone() -> None:
    assert pdfs.facts_of_certificate("999", ON) is None
    assert pdfs.facts_of_card("999", ON) is None
