"""Procedures judged by a real code: ISO 15614-1:2017 level 2."""

from datetime import date
from typing import Any

import pytest
from django.http import QueryDict
from django.urls import reverse

from codes.verdict import Outcome
from register.base.forms import version_of
from tests.wps.factory import approved
from tests.wps.iso import iso_draft, iso_record
from wps.completeness import missing
from wps.forms.record import RecordForm
from wps.judgement import judge
from wps.models import Status, TestRecord

DAY = date(2026, 3, 2)


def test_a_complete_procedure_is_approved(coordinator: Any, second_coordinator: Any) -> None:
    draft = iso_draft(coordinator, [iso_record()])
    assert missing(draft) == ()
    assert judge(draft, DAY).sentence == "Covered: everything this procedure states lies inside WPQR 012."
    assert approved(draft, second_coordinator, DAY).status == Status.APPROVED


@pytest.mark.parametrize(
    ("window", "told"),
    [
        ({"parent_t": {"min": "6", "max": "24.1"}}, "Parent thickness above 24 to 24.1 mm: no record covers it"),
        ({"parent_t": {"min": "2.9", "max": "24"}}, "Parent thickness 2.9 to below 3 mm: no record covers it"),
        ({"position": ["PB", "PG"]}, "Position PG · 3G / 3F down: no record covers it"),
        ({"transfer_mode": ["spray", "dip"]}, "Transfer mode dip (short circuit): no record covers it"),
        ({"mechanisation": ["partly_mechanised"]}, "Mechanisation partly mechanised: no record covers it"),
        ({"preheat": "19"}, "Preheat 19 °C: no record covers it; WPQR 012 misses by 1 °C"),
        ({"interpass": "181"}, "Interpass temperature 181 °C: no record covers it; WPQR 012 misses by 1 °C"),
    ],
)
def test_each_variable_outside_is_told_alone(coordinator: Any, window: dict[str, Any], told: str) -> None:
    found = judge(iso_draft(coordinator, [iso_record()], **window), DAY)
    assert found.outcome is Outcome.OUTSIDE
    assert len(found.gaps) == 1
    assert found.gaps[0].text.startswith(told)


def test_several_reasons_are_told_one_by_one(coordinator: Any) -> None:
    """Two thickness records, three uncovered terms: three sentences, not their products."""
    records = [iso_record(), iso_record("WPQR 013", parent_t=["40"], throat_a="8")]
    window = {"parent_t": {"min": "6", "max": "90"}, "position": ["PA", "PG"], "transfer_mode": ["spray", "dip"]}
    gaps = judge(iso_draft(coordinator, records, **window), DAY).gaps
    assert sorted(gap.text.split(":")[0] for gap in gaps) == [
        "Position PG · 3G / 3F down",
        "Transfer mode dip (short circuit)",
    ]


@pytest.mark.parametrize("lacking", ["mechanisation", "wire_system"])
def test_what_is_not_stated_is_never_covered(coordinator: Any, lacking: str) -> None:
    draft = iso_draft(coordinator, [iso_record()])
    del draft.window[lacking]
    draft.save()
    assert judge(draft, DAY).outcome is Outcome.NOT_STATED


def test_the_form_of_a_record_reads_back_what_it_shows(db: None) -> None:
    """What is on file, put into the form and saved, is the same again."""
    record = iso_record()
    data: dict[str, Any] = {"number": record.number, "route": record.route, "level": "2", "welded_on": "2024-05-06"}
    data |= {"piece_count": "1", "run_count": "0"}
    for name, value in record.pieces[0].items():
        if name == "steels":
            facts = {
                f"piece0_steels_0{side}_{k}": v
                for side, steel in zip("ab", value, strict=True)
                for k, v in steel.items()
            }
            data |= facts
        else:
            data[f"piece0_{name}"] = value
    for name in ("parent_t", "filler_diameter", "heat_input"):
        data[f"piece0_{name}"] = "; ".join(record.pieces[0][name])
    form = RecordForm(_querydict(data), instance=TestRecord.objects.get())
    assert form.is_valid(), form.errors
    saved = form.save()
    before, after = iso_record("WPQR 014").tested(), saved.tested()
    assert before == after


def _querydict(data: dict[str, Any]) -> Any:
    found = QueryDict(mutable=True)
    for name, value in data.items():
        found.setlist(name, value if isinstance(value, list) else [value])
    return found


@pytest.mark.parametrize("name", ["wps:procedure", "wps:revision", "wps:revision_edit"])
def test_pages_hold_the_real_code(coordinator: Any, client_of: Any, name: str) -> None:
    draft = iso_draft(coordinator, [iso_record()])
    pk = draft.procedure_id if name == "wps:procedure" else draft.pk
    page = client_of("coordinator").get(reverse(name, args=[pk])).content.decode()
    assert "WPQR 012" in page


def test_a_level_is_asked_of_a_record_with_levels(client_of: Any, db: None) -> None:
    record = iso_record()
    data = {
        "number": "WPQR 012",
        "route": "procedure_test",
        "welded_on": "2024-05-06",
        "seen_version": version_of(record),
    }
    page = client_of("coordinator").post(reverse("wps:record_edit", args=[record.pk]), data).content.decode()
    assert ">Level</a>: Missing; enter it." in page
