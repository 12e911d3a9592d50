"""Many sheets at once: what is issued already stays, the rest is rendered, one ZIP holds them all."""

import zipfile
from pathlib import Path
from typing import Any

import pytest
from django.core.exceptions import PermissionDenied
from django.utils.module_loading import import_string

from register.background.models import State, Work
from register.base.pdf_many import FEW, ToRender, render_many, render_one
from register.papers import made
from tests.wps.sheet_samples import revision
from wps import issued
from wps.models import IssuedSheet, ProcedureRevision, Status
from wps.sheet_batch import all_sheets, issue_many
from wps.sheet_files import STYLESHEET
from wps.sheets import Choice, Sheet, SheetError, before_rendering, sheet

pytestmark = pytest.mark.django_db


def test_each_sheet_is_the_one_that_is_rendered_alone(qa: Any) -> None:
    first, second = revision("WPS 014"), revision("WPS 015")
    choices = (Choice(), Choice("full"))
    found = {(one.revision_id, one.kind): one for one in issue_many((first, second), choices, qa, "")}
    assert len(found) == 4
    alone = sheet(first, Choice(), first.approved_on)
    assert bytes(found[first.pk, "cell"].pdf) == alone.pdf
    assert found[first.pk, "cell"].check_code == alone.check_code
    again = list(issue_many((first, second), choices, qa, ""))
    assert {one.pk for one in again} == {one.pk for one in found.values()}
    assert IssuedSheet.objects.count() == 4


def test_other_processes_render_the_same_bytes() -> None:
    one = revision()
    ready = before_rendering(one, Choice(), one.approved_on, "")
    sheets = [
        ToRender(at, ready.html, STYLESHEET, "210mm 297mm", ready.day, (ready.attached,), ready.sizes)
        for at in range(FEW)
    ]
    found = sorted(render_many(sheets, processes=2), key=lambda made: made.key)
    assert [made.key for made in found] == list(range(FEW))
    assert {made.pdf for made in found} == {render_one(sheets[0]).pdf}


def test_drafts_are_not_issued(qa: Any, auditor: Any) -> None:
    draft = revision(approved=False)
    with pytest.raises(SheetError, match="never approved"):
        list(issue_many((draft,), (Choice(),), qa, ""))
    with pytest.raises(PermissionDenied):
        list(issue_many((draft,), (Choice(),), auditor, ""))


def test_all_sheets_in_force_come_in_one_zip(qa: Any, tmp_path: Path, settings: Any) -> None:
    settings.MADE_DIR = str(tmp_path)
    revision("WPS 014"), revision("WPS 015"), revision("WPS 016", approved=False)
    work = all_sheets.start(qa, "all sheets", small=True, kind="cell", paper="a4", units="si")
    work = Work.objects.get(pk=work.pk)
    assert work.state == State.DONE, work.message
    with zipfile.ZipFile(made.path_of(work.pk, "sheets-cell-a4-si.zip")) as found:
        assert found.namelist() == ["manifest.json", "WPS-014-rev-C-cell.pdf", "WPS-015-rev-C-cell.pdf"]


def test_a_revision_that_ends_while_it_is_rendered_gets_no_sheet_that_says_approved(
    qa: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    ended, stays = revision("WPS 014"), revision("WPS 015")
    alone = revision("WPS 016")
    _end_while_rendering(monkeypatch, "wps.sheet_batch.render_many", ended)
    found = {one.revision_id: one.state for one in issue_many((ended, stays), (Choice(),), qa, "")}
    assert found == {ended.pk: Status.SUPERSEDED, stays.pk: Status.APPROVED}
    _end_while_rendering(monkeypatch, "wps.issued.sheet", alone)
    assert issued.issue(alone, Choice(), qa, "").state == Status.SUPERSEDED
    assert set(IssuedSheet.objects.values_list("revision__procedure__number", "state")) == {
        ("WPS 014", "superseded"), ("WPS 015", "approved"), ("WPS 016", "superseded"),
    }  # fmt: skip


def test_what_is_no_longer_in_force_is_left_out_of_the_zip_and_named(
    qa: Any, tmp_path: Path, settings: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    settings.MADE_DIR = str(tmp_path)
    _end_while_rendering(monkeypatch, "wps.sheet_batch.render_many", revision("WPS 014"))
    revision("WPS 015")
    work = Work.objects.get(pk=all_sheets.start(qa, "all sheets", small=True, kind="cell", paper="a4", units="si").pk)
    with zipfile.ZipFile(made.path_of(work.pk, "sheets-cell-a4-si.zip")) as found:
        assert found.namelist() == ["manifest.json", "WPS-015-rev-C-cell.pdf"]
    assert "1 sheet is ready." in work.message and "WPS 014 rev C" in work.message


def _end_while_rendering(monkeypatch: pytest.MonkeyPatch, renderer: str, ended: ProcedureRevision) -> None:
    """Somebody else supersedes the revision when its sheet has been rendered and not been kept yet."""
    render = import_string(renderer)

    def ending(*args: Any) -> Any:
        rendered = render(*args)
        rendered = rendered if isinstance(rendered, Sheet) else list(rendered)
        in_force = ProcedureRevision.objects.filter(pk=ended.pk, status=Status.APPROVED)
        in_force.update(status=Status.SUPERSEDED, ended_on=ended.approved_on)
        return rendered

    monkeypatch.setattr(renderer, ending)
