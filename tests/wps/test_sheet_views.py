"""Issued sheets are kept and served as they are; who may have which; what the public page says and does not say."""

import re
from collections.abc import Callable
from datetime import date
from typing import Any

import pytest
from django.core.exceptions import PermissionDenied
from django.db import IntegrityError, connection, transaction
from django.test import Client, override_settings
from django.urls import reverse

from register.api import rates
from register.models import AuditEntry
from tests.wps.pdfs import text
from tests.wps.sheet_samples import approve, people, revision
from wps import issued
from wps.models import IssuedSheet, ProcedureRevision, Status
from wps.sheets import Choice, SheetError

ClientOf = Callable[[str], Client]


@pytest.fixture
def approved(db: None) -> ProcedureRevision:
    return revision()


@pytest.fixture
def draft(db: None) -> ProcedureRevision:
    return revision(approved=False, records=[])


@pytest.fixture
def quick(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Layout left out where a test is about keeping and serving; the list holds the addresses for the QR code."""
    asked: list[str] = []

    def made(html: str, *args: Any, **kwargs: Any) -> tuple[bytes, int]:
        asked.append(html)
        return b"%PDF-1.7 " + str(len(asked)).encode(), 1

    monkeypatch.setattr("wps.sheets.pdf", made)
    return asked


def address(one: ProcedureRevision, **asked: str) -> str:
    url = reverse("wps:revision_sheet", args=[one.pk])
    return f"{url}?{'&'.join(f'{k}={v}' for k, v in asked.items())}" if asked else url


def end(one: ProcedureRevision, status: Status) -> None:
    one.status, one.ended_on, one.ended_reason = status, date(2026, 6, 1), "a secret reason"
    one.save()


class TestIssuing:
    def test_the_first_print_keeps_the_bytes_and_later_ones_get_them(
        self, approved: ProcedureRevision, client_of: ClientOf
    ) -> None:
        first = client_of("qa").get(address(approved))
        assert first.status_code == 200
        assert first.headers["Content-Type"] == "application/pdf"
        assert first.headers["Content-Disposition"] == 'inline; filename="WPS-014-rev-C-cell.pdf"'
        kept = IssuedSheet.objects.get()
        assert bytes(kept.pdf) == first.content
        assert (kept.issued_by, kept.sides, kept.state) == ("Qa", 1, "approved")
        assert "WPS 014 rev C" in text(first.content)
        assert client_of("coordinator").get(address(approved)).content == first.content
        assert IssuedSheet.objects.count() == 1

    def test_nothing_is_laid_out_a_second_time(
        self, approved: ProcedureRevision, client_of: ClientOf, quick: list[str]
    ) -> None:
        contents = {client_of("qa").get(address(approved)).content for _ in range(3)}
        assert len(quick) == 1
        assert contents == {b"%PDF-1.7 1"}

    def test_each_paper_unit_and_kind_is_a_sheet_of_its_own_under_one_code(
        self, approved: ProcedureRevision, client_of: ClientOf, quick: list[str]
    ) -> None:
        for asked in ({}, {"paper": "letter"}, {"units": "us"}, {"kind": "full"}):
            assert client_of("qa").get(address(approved, **asked)).status_code == 200
        assert IssuedSheet.objects.count() == 4
        assert IssuedSheet.objects.values("check_code").distinct().count() == 1

    def test_another_language_is_a_sheet_of_its_own_under_the_same_code(
        self, approved: ProcedureRevision, client_of: ClientOf, quick: list[str]
    ) -> None:
        client = client_of("qa")
        for kind in ("cell", "cell-de", "cell-fr"):
            assert client.get(address(approved, kind=kind)).status_code == 200
        english, german, french = quick
        assert "<h2>Preheat</h2>" in english and "<h2>Vorwärmen</h2>" in german and "<h2>Préchauffage</h2>" in french
        assert '<html lang="de">' in german
        assert "im Zweifel gilt das englische" in german and "in doubt the English" not in english
        assert len({sheet.check_code for sheet in IssuedSheet.objects.all()}) == 1
        assert {sheet.kind for sheet in IssuedSheet.objects.all()} == {"cell", "cell-de", "cell-fr"}
        assert client.get(address(approved, kind="cell-xx")).status_code == 400

    def test_it_is_written_to_the_log_once(
        self, approved: ProcedureRevision, client_of: ClientOf, quick: list[str]
    ) -> None:
        for _ in range(2):
            client_of("qa").get(address(approved))
        entry = AuditEntry.objects.get(act="issued a sheet")
        assert entry.user_name == "qa"
        assert entry.after["sha256"] == IssuedSheet.objects.get().sha256

    def test_a_browser_that_has_it_is_told_so(
        self, approved: ProcedureRevision, client_of: ClientOf, quick: list[str]
    ) -> None:
        client = client_of("qa")
        etag = client.get(address(approved)).headers["ETag"]
        assert etag == f'"{IssuedSheet.objects.get().sha256}"'
        assert client.get(address(approved), headers={"If-None-Match": etag}).status_code == 304
        assert client.get(address(approved), headers={"If-None-Match": '"other"'}).status_code == 200

    def test_a_superseded_one_gets_a_sheet_that_says_so(
        self, approved: ProcedureRevision, client_of: ClientOf, quick: list[str]
    ) -> None:
        client_of("qa").get(address(approved))
        end(approved, Status.SUPERSEDED)
        client_of("qa").get(address(approved))
        assert "SUPERSEDED" not in quick[0]
        assert "SUPERSEDED on 2026-06-01" in quick[1]
        assert sorted(IssuedSheet.objects.values_list("state", flat=True)) == ["approved", "superseded"]

    def test_kept_sheets_do_not_change_and_do_not_go(self, approved: ProcedureRevision, quick: list[str]) -> None:
        kept = issued.issue(approved, Choice(), _printer(), "https://register.example/{code}/")
        with pytest.raises(PermissionDenied):
            kept.save()
        with pytest.raises(PermissionDenied):
            kept.delete()
        with pytest.raises(IntegrityError), transaction.atomic():
            IssuedSheet.objects.update(pdf=b"other")
        with pytest.raises(IntegrityError), transaction.atomic():
            IssuedSheet.objects.all().delete()

    def test_a_draft_cannot_be_issued(self, draft: ProcedureRevision) -> None:
        with pytest.raises(SheetError, match="was never approved"):
            issued.issue(draft, Choice(), _printer(), "")

    def test_who_may_not_print_issues_nothing(self, approved: ProcedureRevision, auditor: Any) -> None:
        with pytest.raises(PermissionDenied):
            issued.issue(approved, Choice(), auditor, "")


def _printer() -> Any:
    from django.contrib.auth.models import Group

    printer = people()[0]
    printer.groups.add(Group.objects.get(name="qa"))
    return printer


class TestRoles:
    @pytest.mark.parametrize(
        ("name", "before", "after"),
        [
            ("coordinator", 200, 200),
            ("qa", 200, 200),
            ("supervisor", 403, 200),
            ("auditor", 403, 200),
            ("no_role", 403, 403),
            ("nobody", 302, 302),
        ],
    )
    def test_whoever_looks_reads_what_was_issued(
        self, name: str, before: int, after: int, approved: ProcedureRevision, client_of: ClientOf, quick: list[str]
    ) -> None:
        assert client_of(name).get(address(approved)).status_code == before
        client_of("qa").get(address(approved))
        assert client_of(name).get(address(approved)).status_code == after

    @pytest.mark.parametrize(
        ("name", "status"), [("coordinator", 200), ("qa", 200), ("supervisor", 403), ("auditor", 403)]
    )
    def test_a_draft_is_printed_by_whoever_may_print(
        self, name: str, status: int, draft: ProcedureRevision, client_of: ClientOf, quick: list[str]
    ) -> None:
        response = client_of(name).get(address(draft))
        assert response.status_code == status
        assert not IssuedSheet.objects.exists()
        if status == 200:
            assert response.headers["Cache-Control"] == "no-store"
            assert "DRAFT-WPS-014" in response.headers["Content-Disposition"]
            assert "DRAFT – not for production" in quick[0]
            assert "QR code" not in quick[0]

    def test_reading_takes_few_queries_and_no_writing(
        self, approved: ProcedureRevision, client_of: ClientOf, quick: list[str], django_assert_max_num_queries: Any
    ) -> None:
        client_of("qa").get(address(approved))
        client = client_of("auditor")
        with django_assert_max_num_queries(5):  # session, user, groups, revision, sheet
            client.get(address(approved))

    @pytest.mark.parametrize("asked", [{"kind": "x"}, {"paper": "a3"}, {"units": "furlong"}])
    def test_what_there_is_not_is_refused(
        self, asked: dict[str, str], approved: ProcedureRevision, client_of: ClientOf
    ) -> None:
        response = client_of("qa").get(address(approved, **asked))
        assert response.status_code == 400
        assert b"is not a sheet we make" in response.content


class TestPublicPage:
    @pytest.fixture
    def code(self, approved: ProcedureRevision, quick: list[str]) -> str:
        return issued.issue(approved, Choice(), _printer(), "https://register.example/{code}/").check_code

    def page(self, code: str, status: int = 200) -> str:
        response = Client().get(reverse("wps:sheet_status", args=[code]))
        assert response.status_code == status
        assert response.headers["Cache-Control"] == "no-store"
        assert response.headers["X-Robots-Tag"] == "noindex"
        return response.content.decode()

    def test_in_force(self, code: str) -> None:
        page = self.page(code)
        assert "In force" in page
        assert "message error" not in page
        assert "WPS 014 rev C" in page
        assert f"{code[:5]}-{code[5:]}" in page

    def test_it_tells_of_today_and_asks_nobody_for_a_date(self, code: str, client_of: ClientOf) -> None:
        said = client_of("qa").get(reverse("wps:sheet_status", args=[code]), {"on": "2025-01-01"}).content.decode()
        assert "In force" in said
        assert 'name="on"' not in said

    def test_read_as_it_is_typed(self, code: str) -> None:
        assert "In force" in self.page(f"{code[:5].lower()}-{code[5:].lower()}")

    def test_superseded_names_the_revision_in_force(self, code: str, approved: ProcedureRevision) -> None:
        end(approved, Status.SUPERSEDED)
        assert "no revision is in force now" in self.page(code)
        newer = revision(letter="D", approved=False)
        assert "no revision is in force now" in self.page(code)
        _, checker, approver = people()
        approve(newer, checker, approver)
        assert "Superseded by revision D" in self.page(code)

    def test_withdrawn(self, code: str, approved: ProcedureRevision) -> None:
        end(approved, Status.WITHDRAWN)
        page = self.page(code)
        assert "Withdrawn" in page
        assert "In force" not in page
        assert 'class="large message error"' in page

    def test_it_says_nothing_that_is_not_on_the_sheet(self, code: str, approved: ProcedureRevision) -> None:
        end(approved, Status.WITHDRAWN)
        # All but the list of what no line ends in, which every page bears alike.
        page = re.sub(r'data-untorn="[^"]*"', "", self.page(code))
        hidden = ("a secret reason", "2026-06-01", "Kowalczyk", "Feld", "WPQR", f"/procedures/{approved.procedure_id}/")
        assert not [word for word in hidden if word in page]

    def test_not_yet_in_force(self, code: str, approved: ProcedureRevision) -> None:
        found = issued.standing(code, date(2026, 3, 1))
        assert found is not None
        assert (found.word, found.sentence) == ("Not yet in force", "Approved, in force from 2026-03-02.")
        assert issued.standing(code, date(2026, 3, 2)).word == "In force"  # type: ignore[union-attr]

    @pytest.mark.parametrize("code", ["AAAAAAAAAA", "short", "ABCDE-FGHI1", "<b>"])
    def test_a_code_that_no_sheet_bears(self, code: str, db: None) -> None:
        page = self.page(code, 404)
        assert "No issued sheet bears" in page
        assert "<b>" not in page.split("<main", 1)[1]

    def test_the_code_of_a_draft_is_not_known(self, draft: ProcedureRevision, quick: list[str]) -> None:
        made = issued.preview(draft, Choice(), _printer(), date(2026, 11, 25))
        self.page(made.check_code, 404)

    def test_it_takes_nothing_in(self, code: str) -> None:
        assert Client().post(reverse("wps:sheet_status", args=[code])).status_code == 405

    def test_one_address_asks_so_often_in_a_minute(self, code: str, settings: Any, client: Client) -> None:
        settings.STATUS_PER_MINUTE = 2
        rates.looked_up.clear()
        url = reverse("wps:sheet_status", args=[code])
        answers = [client.get(url) for _ in range(3)]
        rates.looked_up.clear()
        assert [one.status_code for one in answers] == [200, 200, 429]
        assert 1 <= int(answers[-1].headers["Retry-After"]) <= 60
        assert "Try again in" in answers[-1].content.decode()

    def test_the_pdf_is_not_read_for_it(self, code: str) -> None:
        with connection.execute_wrapper(_refuse_pdf):
            self.page(code)


def _refuse_pdf(execute: Any, sql: str, params: Any, many: bool, context: Any) -> Any:
    assert '"pdf"' not in sql
    return execute(sql, params, many, context)


class TestAddress:
    def test_of_the_request(self, approved: ProcedureRevision, client_of: ClientOf, quick: list[str]) -> None:
        client_of("qa").get(address(approved))
        code = IssuedSheet.objects.get().check_code
        assert f"QR code: http://testserver/procedures/sheet/{code}/" in quick[0]

    @override_settings(PUBLIC_URL="https://register.example/")
    def test_of_the_settings(self, approved: ProcedureRevision, client_of: ClientOf, quick: list[str]) -> None:
        client_of("qa").get(address(approved))
        code = IssuedSheet.objects.get().check_code
        assert f"QR code: https://register.example/procedures/sheet/{code}/" in quick[0]
