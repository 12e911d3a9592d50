"""Sheets on the page of a revision: who may open which, and the sheet of a superseded revision."""

from datetime import date
from typing import Any

import pytest
from django.urls import reverse

from codes.units import System
from register.held.firm import check_clause
from tests.wps import sheet_samples
from tests.wps.pdfs import text
from tests.wps.us import AWS, us_draft
from wps import issued
from wps.models import IssuedSheet, ProcedureRevision, Status
from wps.sheet_data import basis
from wps.sheet_links import sheet_choice
from wps.sheets import Choice


@pytest.fixture
def revision(db: None) -> ProcedureRevision:
    return sheet_samples.revision()


def _page(client: Any, revision: ProcedureRevision) -> str:
    return " ".join(client.get(revision.get_absolute_url()).content.decode().split())


@pytest.mark.parametrize(
    ("person", "chooses"), [("coordinator", True), ("qa", True), ("supervisor", False), ("auditor", False)]
)
def test_who_may_choose_a_sheet(revision: ProcedureRevision, client_of: Any, person: str, chooses: bool) -> None:
    assert ('name="paper"' in _page(client_of(person), revision)) is chooses


@pytest.mark.parametrize("person", ["supervisor", "auditor"])
def test_who_may_look_opens_what_was_issued(revision: ProcedureRevision, client_of: Any, qa: Any, person: str) -> None:
    kept = issued.issue(revision, Choice(), qa, "")
    url = f"{reverse('wps:revision_sheet', args=[revision.pk])}?kind=cell&amp;paper=a4&amp;units=si"
    page = _page(client_of(person), revision)
    assert url in page
    assert "Sheet for the cell, A4, SI units" in page
    assert client_of(person).get(url.replace("&amp;", "&")).content == bytes(kept.pdf)


def test_a_superseded_revision_hands_out_its_superseded_sheet_only(
    revision: ProcedureRevision, qa: Any, client_of: Any
) -> None:
    before = issued.issue(revision, Choice(), qa, "")
    revision.status, revision.ended_on, revision.ended_reason = Status.SUPERSEDED, date(2026, 6, 1), "by revision D"
    revision.save()
    (line,) = sheet_choice(revision, may_print=False).issued
    assert (line.url, line.state) == ("", "approved")
    assert "no longer handed out" in _page(client_of("auditor"), revision)
    answer = client_of("qa").get(reverse("wps:revision_sheet", args=[revision.pk]))
    assert "SUPERSEDED on 2026-06-01. Not for production." in text(answer.content)
    assert answer.content != bytes(before.pdf)
    after = IssuedSheet.objects.get(state="superseded")
    assert after.check_code == before.check_code
    assert {one.url != "": one.state for one in sheet_choice(revision, may_print=False).issued} == {
        False: "approved",
        True: "superseded",
    }


def test_a_draft_is_printed_by_whoever_may_print(coordinator: Any, client_of: Any) -> None:
    draft = us_draft(coordinator, AWS, [])
    assert "Print the draft" in _page(client_of("qa"), draft)
    assert '<h2 id="sheets-heading">' not in _page(client_of("auditor"), draft)


def test_the_units_of_the_reader_are_offered_first(coordinator: Any, client_of: Any) -> None:
    """Whatever the procedure is written in: this one is in US units."""
    draft = us_draft(coordinator, AWS, [])
    us, si = (sheet_choice(draft, True, system) for system in (System.US, System.SI))
    assert (us.units, us.paper) == ("us", "letter")
    assert (si.units, si.paper) == ("si", "a4")
    client = client_of("coordinator")
    offered = [client.get(f"{draft.get_absolute_url()}{asked}").content.decode() for asked in ("", "?units=us", "")]
    assert ['<option value="us" selected>' in page for page in offered] == [False, True, True]


def test_the_basis_leaves_out_what_the_firm_ticked(revision: ProcedureRevision, coordinator: Any) -> None:
    day = date(2026, 3, 2)
    before = basis(revision, day)
    assert "ISO 15614-1:2017" in before
    from wps.judgement import judge

    clauses = judge(revision, day).unconfirmed
    check_clause(coordinator, clauses[0], agrees=True)
    first = clauses[0].partition(", ")[2]
    assert first in before
    assert basis(revision, day) != before
    for clause in clauses[1:]:
        check_clause(coordinator, clause, agrees=True)
    assert basis(revision, day) == ""
    check_clause(coordinator, clauses[0], agrees=False)
    assert first in basis(revision, day)


def test_the_page_names_what_nobody_ticked(revision: ProcedureRevision, client_of: Any) -> None:
    assert "nobody checked yet against your own copy" in _page(client_of("auditor"), revision)
