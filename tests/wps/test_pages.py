"""The pages of procedures and records: what they show, what they refuse, how many queries they cost."""

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from tests.conftest import SIGNED
from tests.wps.factory import RUN, approved, complete_draft, make_record
from tests.wps.iso import iso_record
from tests.wps.trial import KEY
from wps import workflow
from wps.models import Procedure, ProcedureRevision, ProcedureRun, Status, TestRecord

DAY = date(2026, 3, 2)
Clients = Callable[[str], Client]


def _text(response: Any) -> str:
    return " ".join(response.content.decode().split())


def test_list_as_of_a_date(in_force: ProcedureRevision, client_of: Clients) -> None:
    client = client_of("auditor")
    url = reverse("wps:procedure_list")
    assert "rev A since 2026-03-02" in _text(client.get(url, {"on": "2026-03-02"}))
    assert "rev A since" not in _text(client.get(url, {"on": "2026-03-01"}))


@pytest.mark.parametrize(("process", "found"), [("135", True), ("131", False), ("141", False)])
def test_list_by_process(in_force: ProcedureRevision, client_of: Clients, process: str, found: bool) -> None:
    response = client_of("auditor").get(reverse("wps:procedure_list"), {"process": process})
    assert ("WPS 001" in _text(response)) is found
    assert "---" not in _text(response) and ">any</option>" in _text(response)


def test_list_by_process_finds_one_term_and_a_list(draft: ProcedureRevision, client_of: Clients) -> None:
    draft.window |= {"process": "135"}
    draft.save()
    assert "WPS 001" in _text(client_of("auditor").get(reverse("wps:procedure_list"), {"process": "135"}))


@pytest.mark.parametrize(("process", "found"), [("135", True), ("141", False)])
def test_records_by_process(record: TestRecord, client_of: Clients, process: str, found: bool) -> None:
    response = client_of("auditor").get(reverse("wps:record_list"), {"process": process})
    assert ("WPQR 001" in _text(response)) is found


def test_whoever_prints_finds_the_sheets(in_force: ProcedureRevision, client_of: Clients) -> None:
    every, one = reverse("wps:all_sheets"), reverse("wps:revision_sheet", args=[in_force.pk])
    page = in_force.procedure.get_absolute_url()
    for name, prints in (("qa", True), ("auditor", False)):
        client = client_of(name)
        assert (every in _text(client.get(reverse("wps:procedure_list")))) is prints
        assert (one in _text(client.get(page))) is prints
    assert one not in _text(client_of("qa").get(page, {"on": "2026-03-01"}))


@pytest.mark.parametrize(("units", "paper"), [("si", "a4"), ("us", "letter")])
def test_all_sheets_are_offered_in_the_readers_units(client_of: Clients, db: None, units: str, paper: str) -> None:
    page = client_of("qa").get(reverse("wps:all_sheets"), {"units": units}).content.decode()
    assert f'<option value="{units}" selected>' in page
    assert f'<option value="{paper}" selected>' in page


@pytest.mark.parametrize("kind", ["csv", "xlsx"])
@pytest.mark.parametrize("name", ["wps:procedure_list", "wps:record_list"])
def test_lists_are_taken_away(in_force: ProcedureRevision, client_of: Clients, name: str, kind: str) -> None:
    response = client_of("auditor").get(reverse(name), {"export": kind})
    assert response.status_code == 200
    assert kind in response["Content-Disposition"]
    if kind == "csv":
        assert ("WPS 001" if "procedure" in name else "WPQR 001") in response.getvalue().decode()


@pytest.mark.parametrize(("name", "most"), [("wps:procedure_list", 8), ("wps:record_list", 7)])
def test_queries_of_lists(
    in_force: ProcedureRevision, record: TestRecord, coordinator: Any, client_of: Clients, name: str, most: int
) -> None:
    client, url = client_of("coordinator"), reverse(name)
    client.get(url)
    with CaptureQueriesContext(connection) as few:
        client.get(url)
    for at in range(2, 12):
        complete_draft(coordinator, [make_record(f"WPQR 1{at:02}")], number=f"WPS 1{at:02}")
    with CaptureQueriesContext(connection) as many:
        client.get(url)
    assert len(many) == len(few) <= most


def test_procedure_page_tells_the_story(
    in_force: ProcedureRevision, coordinator: Any, second_coordinator: Any, client_of: Clients
) -> None:
    following = workflow.start_revision(in_force.procedure, coordinator)
    following.window |= {"parent_t": {"min": "6", "max": "20"}}
    following.save()
    approved(following, second_coordinator, date(2026, 4, 1))
    page = _text(client_of("auditor").get(in_force.procedure.get_absolute_url(), {"on": "2026-04-01"}))
    assert "has been in force since 2026-04-01, approved by Second Coordinator" in page
    assert "superseded by revision B" in page
    assert "6 to 24 mm" in page
    assert "6 to 20 mm" in page
    older = _text(client_of("auditor").get(in_force.get_absolute_url()))
    assert "Not in force since 2026-04-01: revision B takes its place." in older
    assert "Not in force" not in _text(client_of("auditor").get(following.get_absolute_url()))
    before = _text(client_of("qa").get(in_force.procedure.get_absolute_url(), {"on": "2026-02-01"}))
    assert "No revision was in force on 2026-02-01" in before


def test_revision_page_judges(draft: ProcedureRevision, client_of: Clients) -> None:
    draft.window |= {"parent_t": {"min": "6", "max": "30"}}
    draft.save()
    page = _text(client_of("auditor").get(draft.get_absolute_url()))
    assert "Parent thickness above 24 to 30 mm: no record covers it; WPQR 001 misses by 6 mm." in page
    assert "misses by 6 mm" in page
    assert "Heat input, kJ/mm" in page
    assert "0.586–0.999" in page


def test_a_draft_says_what_is_missing(draft: ProcedureRevision, client_of: Clients) -> None:
    del draft.window["preheat"]
    draft.save()
    assert "Still to state before it can be checked" in _text(client_of("auditor").get(draft.get_absolute_url()))


@pytest.mark.parametrize(
    ("person", "buttons"), [("coordinator", True), ("qa", False), ("supervisor", False), ("auditor", False)]
)
def test_only_the_coordinator_gets_the_buttons(
    draft: ProcedureRevision, client_of: Clients, person: str, buttons: bool
) -> None:
    page = _text(client_of(person).get(draft.get_absolute_url()))
    assert (reverse("wps:revision_edit", args=[draft.pk]) in page) is buttons
    assert (reverse("wps:revision_withdraw", args=[draft.pk]) in page) is buttons


def test_record_page_shows_what_it_earned(record: TestRecord, in_force: ProcedureRevision, client_of: Clients) -> None:
    page = _text(client_of("auditor").get(record.get_absolute_url()))
    assert "6 to 24 mm" in page
    assert "2 × 12 mm = 24 mm" in page
    assert "impact toughness is required" in page
    assert "S355J2+N (group 1.2, 355 MPa)" in page
    assert "WPS 001 rev A" in page


def test_a_record_that_cannot_be_judged_says_why(record: TestRecord, client_of: Clients) -> None:
    TestRecord.objects.update(pieces=[{"parent_t": "thick"}])
    page = _text(client_of("auditor").get(record.get_absolute_url()))
    assert "earns nothing yet: piece 1, parent_t: “thick” is not a number" in page


# Acts


def test_a_record_out_of_use_says_so_before_all_else(client_of: Clients, db: None) -> None:
    """On the day it is taken out of use and later, whatever it earned."""
    record = iso_record()
    record.withdrawn_on = DAY
    record.save()
    client, page = client_of("auditor"), record.get_absolute_url()
    said, classes = "No longer used since 2026-03-02: no procedure can rest on it.", "Execution classes"
    before, since = (_text(client.get(page, {"on": day})) for day in ("2026-03-01", "2026-03-02"))
    assert (said in before, classes in before) == (False, True)
    assert (said in since, classes in since) == (True, False)


def test_check_and_approve_on_their_pages(draft: ProcedureRevision, client_of: Clients) -> None:
    client = client_of("second_coordinator")
    check, approve = (reverse(f"wps:revision_{act}", args=[draft.pk]) for act in ("check", "approve"))
    assert "Mark as checked" in _text(client.get(check))
    assert client.post(check).status_code == 302
    assert "comes into force today" in _text(client.get(approve))
    assert client.post(approve, SIGNED).status_code == 302
    draft.refresh_from_db()
    assert draft.status == Status.APPROVED


def test_what_keeps_a_revision_from_approval_is_said_once(
    draft: ProcedureRevision, second_coordinator: Any, client_of: Clients
) -> None:
    draft.window |= {"parent_t": {"min": "6", "max": "30"}}
    draft.save()
    workflow.check_revision(draft, second_coordinator, DAY)
    client, url = client_of("second_coordinator"), reverse("wps:revision_approve", args=[draft.pk])
    assert _text(client.get(url)).count("misses by 6 mm") == 1
    in_inches = _text(client.get(f"{url}?units=us"))
    assert (in_inches.count("misses by 0.237 in"), in_inches.count("misses by")) == (1, 1)


def test_what_keeps_a_draft_from_its_check_is_a_list(draft: ProcedureRevision, client_of: Any) -> None:
    draft.records.clear()
    del draft.window["preheat"]
    draft.save()
    page = client_of("second_coordinator").get(reverse("wps:revision_check", args=[draft.pk])).content.decode()
    assert f"{draft} cannot be checked yet." in page and "does not state yet" not in page
    assert "<li>Preheat <span" in page and "<li>Records (WPQR) it rests on <span" in page
    own = client_of("coordinator").get(reverse("wps:revision_check", args=[draft.pk])).content.decode()
    assert "It is checked by somebody else." in own and "<li>Preheat" not in own


def test_the_author_is_told_why_not(draft: ProcedureRevision, client_of: Clients) -> None:
    client, url = client_of("coordinator"), reverse("wps:revision_check", args=[draft.pk])
    page = _text(client.get(url))
    assert "It is checked by somebody else" in page
    assert "Mark as checked" not in page
    assert client.post(url).status_code == 409
    draft.refresh_from_db()
    assert draft.status == Status.DRAFT


def test_withdraw_asks_for_a_reason(in_force: ProcedureRevision, client_of: Clients) -> None:
    client, url = client_of("second_coordinator"), reverse("wps:revision_withdraw", args=[in_force.pk])
    refused = client.post(url, SIGNED | {"reason": ""})
    assert refused.status_code == 422
    assert ">Why</a>: Missing; enter it." in _text(refused)
    assert client.post(url, SIGNED | {"reason": "the cell was rebuilt"}).status_code == 302
    in_force.refresh_from_db()
    assert (in_force.status, in_force.ended_reason) == (Status.WITHDRAWN, "the cell was rebuilt")


def test_next_revision_from_the_page(in_force: ProcedureRevision, client_of: Clients) -> None:
    response = client_of("coordinator").post(reverse("wps:revision_new", args=[in_force.procedure_id]))
    made = ProcedureRevision.objects.get(letter="B")
    assert response["Location"] == reverse("wps:revision_edit", args=[made.pk])


def test_start_a_procedure(client_of: Clients, db: None) -> None:
    client, url = client_of("coordinator"), reverse("wps:procedure_new")
    entered = {"number": "WPS 020", "title": "Base plates", "code": KEY}
    response = client.post(url, entered)
    made = ProcedureRevision.objects.get()
    assert response["Location"] == reverse("wps:revision_edit", args=[made.pk])
    again = client.post(url, entered)
    assert again.status_code == 422
    assert "WPS 020 is on file already; enter another." in _text(again)
    assert Procedure.objects.count() == 1


def test_the_standard_of_a_procedure_is_chosen(client_of: Clients, db: None) -> None:
    client, url = client_of("coordinator"), reverse("wps:procedure_new")
    assert "selected" not in _text(client.get(url)).partition('name="code"')[2].partition("</select>")[0].replace(
        '<option value="" selected>', ""
    )
    answer = client.post(url, {"number": "WPS 020", "title": "Base plates", "code": ""})
    assert answer.status_code == 422
    assert not Procedure.objects.exists()


def test_a_frozen_revision_is_not_written_in(in_force: ProcedureRevision, client_of: Clients) -> None:
    client, url = client_of("coordinator"), reverse("wps:revision_edit", args=[in_force.pk])
    for response in (client.get(url), client.post(url, {})):
        assert response.status_code == 400
        assert "start a new revision" in _text(response)
    assert ProcedureRun.objects.filter(revision=in_force).count() == 1


def test_runs_of_the_sheet_of_a_revision(in_force: ProcedureRevision, client_of: Clients) -> None:
    page = _text(client_of("qa").get(in_force.get_absolute_url()))
    assert RUN["layer"] in page
    assert "220–260" in page
