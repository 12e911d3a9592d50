"""Many sheets at once: what is issued already stays, the rest is rendered, one ZIP holds them all."""

import zipfile
from pathlib import Path
from typing import Any

import pytest
from django.core.exceptions import PermissionDenied

from register.background.models import State, Work
from register.base.pdf_many import FEW, ToRender, render_many, render_one
from register.papers import made
from tests.wps.sheet_samples import revision
from wps.models import IssuedSheet
from wps.sheet_batch import all_sheets, issue_many
from wps.sheet_files import STYLESHEET
from wps.sheets import Choice, SheetError, before_rendering, sheet

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
