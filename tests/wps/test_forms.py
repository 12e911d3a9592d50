"""Entering records and drafts: what is kept, what is refused and in which words, what is judged while typing."""

import re
from collections.abc import Callable
from datetime import date
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from register.base.forms import version_of
from tests.wps.factory import KNOWN_CODE
from tests.wps.iso import PIECE as WHOLE
from tests.wps.trial import KEY, OTHER
from wps.forms.measured import MeasuredField
from wps.forms.rows import CELLS, RunForm
from wps.forms.widgets import Choices
from wps.models import ProcedureRevision, TestRecord

Clients = Callable[[str], Client]
PIECE = {
    "piece_count": "1", "run_count": "1", "piece0_process": "135", "piece0_parent_t": "12,5",
    "piece0_position": ["PA", "PB"], "piece0_steels_0a_grade": "S355J2+N", "piece0_heat_input": "1.2",
}  # fmt: skip
RECORD = {"number": "WPQR 050", "route": "procedure_test", "welded_on": "2026-01-15", **PIECE}
RUN = {
    "run0-layer": "root", "run0-process": "135", "run0-current_min_a": "200", "run0-current_max_a": "240",
    "run0-voltage_min_v": "24", "run0-voltage_max_v": "27", "run0-speed_min_mm_min": "300",
    "run0-speed_max_mm_min": "400", "run_count": "2",
}  # fmt: skip
DRAFT = {
    "serves_final": "on", "process": ["135"], "parent_t_min": "6", "parent_t_max": "24", "position": ["PA"],
    "steels_0a_grade": "S355J2", "preheat": "20", "prep_kind": "single_v", "prep_angle_deg": "60,0", **RUN,
}  # fmt: skip


def _text(response: Any) -> str:
    return " ".join(response.content.decode().split())


def _enter(client: Client, **changes: Any) -> Any:
    return client.post(f"{reverse('wps:record_new')}?code={KEY}", RECORD | changes)


def test_enter_a_record(client_of: Clients, db: None) -> None:
    response = _enter(
        client_of("coordinator"), **{"run0-run": "root", "run0-current_a": "180-200", "result_macro": "ok"}
    )
    assert response.status_code == 302, _text(response)
    made = TestRecord.objects.get()
    assert (made.code, made.welded_on) == (KEY, date(2026, 1, 15))
    steel = {"group": "1.2", "yield_mpa": "355", "grade": "S355J2+N"}
    assert made.pieces == [
        {"process": "135", "parent_t": "12.5", "position": ["PA", "PB"], "steels": [steel, steel], "heat_input": "1.2"}
    ]
    assert made.runs == [{"run": "root", "current_a": "180 to 200"}]
    assert made.results == {"macro": "ok"}
    assert len(made.limit_sets()) == 1
    assert made.history.get().history_user_name == "coordinator"


BAD_RECORDS = [
    ({"piece0_parent_t": "thick"}, "“thick” is not a number; write for example 12.5"),
    ({"piece0_parent_t": "-3"}, "-3 is negative; it must be 0 or more"),
    ({"piece0_parent_t": ""}, ">Parent thickness, mm</a>: Missing; enter it."),
    ({"piece0_process": "999"}, "“999” is not a known process; use one of"),
    ({"number": ""}, ">Number</a>: Missing; enter it."),
    ({"welded_on": "2026-02-30"}, "This is not a date"),
    ({"issued_on": "2026-01-14"}, "cannot have been issued before the test piece was welded"),
    ({"run0-current_a": "much"}, ">Run 1, current, A</a>: “much” is not a number"),
    ({"run0-current_a": "200-180"}, "180 lies below 200"),
    ({"run0-speed_mm_min": "1,200-1,500"}, "can be read in two ways; write 1.200 or 1200"),
    ({"piece0_parent_t": "12,700"}, "can be read in two ways; write 12.700 or 12700"),
    (
        {"piece0_steels_0a_yield_mpa": "strong"},
        "Yield strength: “strong” is not a number; write for example",
    ),
    ({"piece0_process": ""}, ">Process</a>: Missing; choose one."),
    ({"run0-current_a": "much"}, 'id="id_run0-current_a_error">Current, A: '),
    ({"run0-current_a": "1e999999"}, "is too large"),
    ({"piece0_parent_t": "1e999999 in"}, "is not a usable number"),
]


@pytest.mark.parametrize(
    ("typed", "unit", "kept"),
    [
        ("1-1/2 in", "mm", "38.1"),
        ("3/32 in", "mm", "2.38125"),
        ("1,2-1,6", "mm", "1.2 to 1.6"),
        ("8-10 in/min", "mm/min", "203.2 to 254"),
        ("180-200 A", "A", "180 to 200"),
    ],
)
def test_a_measured_range_is_no_fraction(typed: str, unit: str, kept: str) -> None:
    """An inch is 25.4 mm exactly; a hyphen before a fraction joins it to the whole number (common practice)."""
    assert MeasuredField(unit=unit).clean(typed) == kept


@pytest.mark.parametrize(("change", "message"), BAD_RECORDS)
def test_a_bad_entry_names_field_and_remedy(client_of: Clients, db: None, change: Any, message: str) -> None:
    response = _enter(client_of("coordinator"), **change)
    assert response.status_code == 422
    assert message in _text(response)
    assert not TestRecord.objects.exists()


def test_one_more_piece_saves_nothing_yet(client_of: Clients, db: None) -> None:
    response = _enter(client_of("coordinator"), add_piece="1", number="")
    assert response.status_code == 200
    page = _text(response)
    assert 'name="piece1_parent_t"' in page
    assert "12,5" in page
    assert "Not saved" not in page
    # Whoever types goes on in the new piece; before it, Enter anywhere saves the record and adds none.
    focus = page.index("data-focus")
    assert 'name="piece1_' in page[page.rindex("<input", 0, focus) : page.index(">", focus)]
    form = page[page.index('<form method="post" class="entry"') :]
    assert 'name="add_piece"' not in form[: form.index('type="submit"') + 40]
    assert not TestRecord.objects.exists()


def _enter_iso(client: Client, **changes: str) -> str:
    """What the page says of a whole record to ISO 15614-1:2017 with these entries."""
    single = {name: value[0] if name in ("parent_t", "filler_diameter", "heat_input") else value
              for name, value in WHOLE.items() if name != "steels"}  # fmt: skip
    typed = {f"piece0_{name}": value for name, value in single.items()} | {"number": "WPQR 7", "level": "2"}
    steels = {"piece0_steels_0a_grade": "S355J2+N", "piece0_steels_0b_grade": "S355J2+N"}
    counts = {"piece_count": "1", "run_count": "0", "route": "procedure_test", "welded_on": "2026-01-15"}
    return _text(client.post(f"{reverse('wps:record_new')}?code={KNOWN_CODE}", typed | steels | counts | changes))


def test_what_is_wrong_is_listed_in_the_order_of_the_page(client_of: Clients, db: None) -> None:
    page = _enter_iso(client_of("coordinator"), piece0_process="", piece0_weld_type="")
    assert page.index('<a href="#id_piece0_weld_type"') < page.index('<a href="#id_piece0_process"')


def test_a_level_that_the_standard_has_not_is_said_at_its_field(client_of: Clients, db: None) -> None:
    """ISO 15614-1:2017, clause 1, has levels 1 and 2 (from memory)."""
    page = _enter_iso(client_of("coordinator"), level="3")
    assert '<a href="#id_level">Level</a>: A procedure test is of level 1 or 2.' in page
    assert not TestRecord.objects.exists()


def test_a_range_is_sent_to_the_measured_runs(client_of: Clients, db: None) -> None:
    page = _enter_iso(client_of("coordinator"), piece0_current="250-270")
    assert "Current, A</a>: One figure here; a range goes into the measured runs." in page


def test_a_second_piece_is_asked_in_full(client_of: Clients, db: None) -> None:
    second = {"piece_count": "2", "piece1_process": "135", "piece1_parent_t": "30"}
    refused = _enter(client_of("coordinator"), **second)
    assert "This must be stated of every test piece" in _text(refused)
    whole = second | {"piece1_position": ["PF"], "piece1_steels_0a_grade": "S355J2"}
    assert _enter(client_of("coordinator"), **whole).status_code == 302
    assert [piece["parent_t"] for piece in TestRecord.objects.get().pieces] == ["12.5", "30"]


def test_an_unknown_code_is_refused(client_of: Clients, db: None) -> None:
    response = client_of("coordinator").get(reverse("wps:record_new"), {"code": "nothing"})
    assert response.status_code == 400
    assert "the register does not hold" in _text(response)


def test_the_standard_is_asked_for_first_and_remembered(client_of: Clients, db: None) -> None:
    browser = client_of("coordinator")
    assert "To which standard was it tested?" in _text(browser.get(reverse("wps:record_new")))
    assert _enter(browser).status_code == 302
    assert f"To {KEY}." in _text(browser.get(reverse("wps:record_new")))


def test_change_a_record_keeps_what_the_form_does_not_show(record: TestRecord, client_of: Clients) -> None:
    record.pieces[0]["travel_speed"] = "400"
    record.save()
    url = reverse("wps:record_edit", args=[record.pk])
    response = client_of("coordinator").post(url, RECORD | {"seen_version": version_of(record)})
    assert response.status_code == 302, _text(response)
    record.refresh_from_db()
    assert (record.number, record.pieces[0]["travel_speed"]) == ("WPQR 050", "400")


def test_the_form_of_a_record_shows_what_is_on_file(record: TestRecord, client_of: Clients) -> None:
    page = _text(client_of("coordinator").get(reverse("wps:record_edit", args=[record.pk])))
    assert 'value="S355J2+N"' in page
    assert 'value="12"' in page
    assert "GMAW" in page


# Drafts


def _save(client: Client, draft: ProcedureRevision, **changes: Any) -> Any:
    data = DRAFT | {"seen_version": version_of(draft)} | changes
    return client.post(reverse("wps:revision_edit", args=[draft.pk]), data)


def test_save_a_draft(draft: ProcedureRevision, record: TestRecord, client_of: Clients) -> None:
    response = _save(client_of("second_coordinator"), draft, records=[record.pk])
    assert response.status_code == 302, _text(response)
    draft.refresh_from_db()
    steel = {"group": "1.2", "yield_mpa": "355", "grade": "S355J2"}
    assert draft.window["parent_t"] == {"min": "6", "max": "24"}
    assert draft.window["steels"] == [steel, steel]
    assert (draft.window["position"], draft.window["preheat"]) == (["PA"], "20")
    assert draft.preparation == {"kind": "single_v", "angle_deg": "60"}
    assert [(run.order, run.layer, run.current_max_a) for run in draft.runs.all()] == [(1, "root", 240)]
    assert "second_coordinator" in draft.editors


def test_an_empty_draft_is_saved(draft: ProcedureRevision, client_of: Clients) -> None:
    client = client_of("coordinator")
    url = reverse("wps:revision_edit", args=[draft.pk])
    assert client.post(url, {"seen_version": version_of(draft), "run_count": "0"}).status_code == 302
    draft.refresh_from_db()
    assert draft.window == {}
    assert not draft.runs.exists()


BAD_DRAFTS = [
    ({"parent_t_min": "24", "parent_t_max": "6"}, "Min 24 lies above max 6"),
    ({"parent_t_min": "thin"}, "“thin” is not a number"),
    ({"position": ["PZ"]}, "“PZ” is not a known position; use one of"),
    ({"prep_angle_deg": "wide"}, "“wide” is not a number"),
    (
        {"run0-current_min_a": "250"},
        '#id_run0-current_max_a">Run 1, current to, A</a>: Current 240 lies below',
    ),
    (
        {"run0-voltage_min_v": "low"},
        ">Run 1, voltage from, V</a>: “low” is not a number; write for example 12.5",
    ),
    ({"records": ["999"]}, "is not one of the available choices"),
]


@pytest.mark.parametrize(("change", "message"), BAD_DRAFTS)
def test_a_bad_value_keeps_the_draft_as_it_was(
    draft: ProcedureRevision, client_of: Clients, change: Any, message: str
) -> None:
    response = _save(client_of("coordinator"), draft, **change)
    assert response.status_code == 422
    assert message in _text(response)
    kept = ProcedureRevision.objects.get(pk=draft.pk)
    assert (kept.window, kept.runs.get().layer) == (draft.window, "single run")


def test_two_people_saving_see_both_versions(draft: ProcedureRevision, client_of: Clients) -> None:
    seen = version_of(draft)
    assert _save(client_of("second_coordinator"), draft).status_code == 302
    response = _save(client_of("coordinator"), draft, seen_version=seen, parent_t_max="20")
    assert response.status_code == 409
    page = _text(response)
    assert "it changed while you were writing" in page
    assert "6 to 24 mm" in page
    assert "6 to 20 mm" in page
    draft.refresh_from_db()
    assert draft.window["parent_t"] == {"min": "6", "max": "24"}


def test_what_differs_by_process(draft: ProcedureRevision, client_of: Clients) -> None:
    assert _save(client_of("coordinator"), draft, process=["141", "135"]).status_code == 302
    draft.refresh_from_db()
    page = _text(client_of("coordinator").get(reverse("wps:revision_edit", args=[draft.pk])))
    assert "Only for 141 · GTAW, where it differs" in page
    changes = {"process": ["141", "135"], "p141_position": ["PF"]}
    assert _save(client_of("coordinator"), draft, **changes).status_code == 302
    draft.refresh_from_db()
    assert draft.process_windows == {"141": {"position": ["PF"]}}


@pytest.mark.parametrize(
    ("ticked", "kept"),
    [
        (["135", "141"], ["141", "135"]),
        (["111", "135", "141"], ["141", "135", "111"]),
        (["111", "135"], ["135", "111"]),
    ],
)
def test_the_process_of_the_root_stays_first(
    draft: ProcedureRevision, client_of: Clients, ticked: list[str], kept: list[str]
) -> None:
    """The browser sends ticks in the order of the list."""
    ProcedureRevision.objects.filter(pk=draft.pk).update(window=draft.window | {"process": ["141", "135"]})
    draft.refresh_from_db()
    assert _save(client_of("coordinator"), draft, process=ticked).status_code == 302
    draft.refresh_from_db()
    assert draft.window["process"] == kept


def test_only_records_of_the_same_code_are_offered(draft: ProcedureRevision, client_of: Clients) -> None:
    TestRecord.objects.create(number="WPQR other", code=OTHER.key, welded_on=date(2024, 1, 1))
    page = _text(client_of("coordinator").get(reverse("wps:revision_edit", args=[draft.pk])))
    assert "WPQR 001" in page
    assert "WPQR other" not in page


# While typing


def _live(client: Client, draft: ProcedureRevision, field: str, **changes: Any) -> str:
    url = f"{reverse('wps:revision_live', args=[draft.pk])}?field={field}"
    return _text(client.post(url, DRAFT | changes))


def test_a_value_is_judged_before_it_is_saved(draft: ProcedureRevision, record: TestRecord, client_of: Clients) -> None:
    client, window = client_of("coordinator"), draft.window
    good = _live(client, draft, "parent_t", records=[record.pk])
    assert "WPQR 001" in good and "6 to 24 mm" in good and "at its limit" in good
    bad = _live(client, draft, "parent_t", records=[record.pk], parent_t_max="26")
    assert "misses by 2 mm" in bad and "is-outside" in bad
    assert "is not a number" in _live(client, draft, "parent_t", parent_t_max="much")
    draft.refresh_from_db()
    assert draft.window == window


def test_without_a_record_it_says_that_the_records_set_the_limit(
    draft: ProcedureRevision, record: TestRecord, client_of: Clients
) -> None:
    answer = _live(client_of("coordinator"), draft, "parent_t")
    assert "Tick the supporting records above" in answer


def test_a_blank_is_nothing(draft: ProcedureRevision, record: TestRecord, client_of: Clients) -> None:
    answer = _live(client_of("coordinator"), draft, "gas_he", gas_he=" ", records=[record.pk])
    assert "is not a number" not in answer


def test_what_no_record_limits_says_so(draft: ProcedureRevision, record: TestRecord, client_of: Clients) -> None:
    answer = _live(client_of("coordinator"), draft, "preheat", records=[record.pk])
    assert "No supporting record limits this" in answer


def test_the_choice_of_records_is_judged_as_a_whole(
    draft: ProcedureRevision, record: TestRecord, client_of: Clients
) -> None:
    client = client_of("coordinator")
    assert "pWPS" in _live(client, draft, "records")
    assert "lies inside WPQR 001" in _live(client, draft, "records", records=[record.pk], impact_required=["no"])


def test_heat_input_while_typing(draft: ProcedureRevision, client_of: Clients) -> None:
    client = client_of("coordinator")
    assert "root: <b>0.576–1.037 kJ/mm</b>" in _live(client, draft, "runs")
    assert "no heat input yet" in _live(client, draft, "runs", **{"run0-voltage_max_v": ""})
    assert "is not a number" in _live(client, draft, "runs", **{"run0-voltage_max_v": "high"})


def test_two_people_saving_a_record_see_what_differs_in_its_piece(client_of: Clients, db: None) -> None:
    _enter(client_of("coordinator"))
    made = TestRecord.objects.get()
    url = reverse("wps:record_edit", args=[made.pk])
    sent = RECORD | {"seen_version": version_of(made)}
    assert client_of("second_coordinator").post(url, sent | {"piece0_parent_t": "14"}).status_code == 302
    told = client_of("coordinator").post(url, sent)
    assert told.status_code == 409
    clash = told.context["clash"]
    assert clash.rows == (("Parent thickness, mm", "14", "12.5"),)


def test_what_is_ticked_in_a_long_list_stands_first() -> None:
    """A frame of boxes scrolls: what is ticked must be seen without it. A short one keeps its order."""
    letters = [(letter, letter) for letter in "abcdef"]
    long = Choices("Letters", letters).render("letter", ["e", "c"])
    assert re.findall(r'value="(\w)"', long) == list("ceabdf")
    assert re.findall(r'value="(\w)"', Choices("Letters", letters[:2]).render("letter", ["b"])) == ["a", "b"]


def test_every_field_of_a_run_has_its_column() -> None:
    """Own rule: two to a column, none left out and none twice."""
    names = [name for _, _, pair in CELLS for name in pair]
    assert sorted(names) == sorted(RunForm().fields)
