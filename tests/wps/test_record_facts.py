"""What a test record says whatever the words: each change of sense is another fact, no change of words is one."""

from collections.abc import Callable
from dataclasses import is_dataclass, replace
from datetime import date
from decimal import Decimal as D
from typing import Any

import pytest

from codes.facts import fact
from codes.units import System
from codes.values import Interval, Steel, SteelPair
from register.evidence.models import EvidenceFile
from register.papers.codes import canonical, check_code
from tests.wps.factory import approved
from tests.wps.iso import PIECE, iso_draft, iso_record
from tests.wps.us import us_record
from wps import limits_view, record_paper, window
from wps.models import TestRecord
from wps.record_paper import draft, facts_today

pytestmark = pytest.mark.django_db
ON = date(2026, 3, 2)


def record() -> TestRecord:
    made = iso_record()
    made.runs = [{"process": "135", "current": "260"}]
    made.results = {"vt": "accepted"}
    made.save()
    return made


def of(one: TestRecord, on: date = ON) -> dict[str, Any]:
    found = facts_today(str(one.pk), on)
    assert found is not None
    return found


def stating(**values: Any) -> Callable[[TestRecord], None]:
    def change(one: TestRecord) -> None:
        for name, value in values.items():
            setattr(one, name, value)
        one.save()

    return change


def scanned(one: TestRecord, **more: Any) -> None:
    EvidenceFile.objects.create(
        subject_type="wps.testrecord", subject_id=str(one.pk), sha256="a" * 64, size=1, kind="pdf", file_name="a.pdf",
        **more,
    )  # fmt: skip


CHANGES: dict[str, Callable[[TestRecord], None]] = {
    "number": stating(number="WPQR 013"),
    "code": stating(code="ISO 15614-1:2004"),
    "level": stating(level=1),
    "route": stating(route="pre_production"),
    "manufacturer": stating(manufacturer="Nordhalle"),
    "examiner": stating(examiner="E. Munk"),
    "welded on": stating(welded_on=date(2024, 5, 7)),
    "issued on": stating(issued_on=date(2024, 6, 1)),
    "last used on": stating(last_used_on=date(2025, 6, 1)),
    "out of use": stating(withdrawn_on=ON),
    "thickness tested": stating(pieces=[PIECE | {"parent_t": ["10"]}]),
    "heat input tested": stating(pieces=[PIECE | {"heat_input": ["0.84"]}]),
    "hardness found": stating(pieces=[PIECE | {"hardness_hv10": "320"}]),
    "one piece more": stating(pieces=[PIECE, PIECE | {"position": ["PF"]}]),
    "no piece": stating(pieces=[]),
    "run": stating(runs=[{"process": "135", "current": "261"}]),
    "result": stating(results={"vt": "rejected"}),
    "result gone": stating(results={}),
    "note": stating(notes="Welded outdoors."),
    "scan": scanned,
}


@pytest.mark.parametrize("change", CHANGES)
def test_a_record_that_says_something_else(change: str) -> None:
    one = record()
    before = of(one)
    CHANGES[change](one)
    assert canonical(of(one)) != canonical(before)


def test_a_procedure_that_comes_to_rest_on_it_is_another_fact(coordinator: Any, second_coordinator: Any) -> None:
    """The paper names the revisions in force that rest on the record."""
    one = record()
    before = of(one)
    approved(iso_draft(coordinator, [one]), second_coordinator, ON)
    assert before["supports"] == []
    assert of(one)["supports"] == [["WPS 014", "A"]]


def test_a_day_on_which_it_says_the_same_is_no_fact() -> None:
    one = record()
    stating(withdrawn_on=date(2026, 4, 1))(one)
    assert of(one) == of(one, date(2026, 3, 31))
    assert of(one, date(2026, 4, 1))["withdrawn"] == "2026-04-01"


def test_a_range_that_moves_by_less_than_is_shown(monkeypatch: pytest.MonkeyPatch) -> None:
    one = record()
    before, known = of(one), limits_view.limit_in

    def corrected(limit: Any, system: System) -> Any:
        found = known(limit, system)
        own = getattr(found.allowed, "interval", None)
        if found.variable != "parent_t" or own is None or own.hi is None:
            return found
        return replace(found, allowed=replace(found.allowed, interval=replace(own, hi=own.hi.next_plus())))

    monkeypatch.setattr(limits_view, "limit_in", corrected)
    assert of(one) != before


def test_other_words_change_the_code_and_no_fact(monkeypatch: pytest.MonkeyPatch) -> None:
    one = record()
    before, code = of(one), check_code(record_paper.content(str(one.pk), ON))
    monkeypatch.setattr(limits_view, "label_of", lambda name: f"the {name}")
    monkeypatch.setattr(limits_view, "sentence_in", lambda words, system, *beside, typed=(): words.upper())
    monkeypatch.setattr(record_paper, "label_of", lambda name: f"the {name}")
    assert check_code(record_paper.content(str(one.pk), ON)) != code
    assert of(one) == before


@pytest.mark.parametrize("make", [record, lambda: us_record("AWS D1.1:2020"), lambda: us_record("ASME IX:2021")])
def test_what_is_printed_has_the_facts_that_are_asked_for_later(make: Callable[[], TestRecord]) -> None:
    """In whichever units: the facts are those on file, as the content is."""
    one = make()
    scanned(one, note="both sides")
    printed = {system: draft(one, ON, system) for system in System}
    assert printed[System.SI].facts == printed[System.US].facts == of(one)
    assert of(one)["earned"]
    assert len({made.check_code for made in printed.values()}) == 1


def test_gone_is_gone() -> None:
    assert facts_today("999", ON) is None


def test_the_ranges_of_a_procedure_are_kept_by_name_too() -> None:
    """As tests/codes/test_facts.py: another name would call every paper that states them superseded."""
    found = [one for one in vars(window).values() if is_dataclass(one) and hasattr(one, "admits")]
    assert {one.__name__ for one in found if one.__module__ == "wps.window"} == {"AnyOf", "SteelsWithin"}
    assert fact(window.AnyOf((Interval(D(1), D(2), "mm"),)))["set"] == "AnyOf"
    pair = SteelPair(Steel("1.2"), Steel("1.1"))
    assert fact(window.SteelsWithin((pair,)))["pairs"] == [fact(pair)]
