"""The sketch beside the form follows what is typed, and saves nothing."""

from typing import Any

import pytest
from django.urls import reverse

from tests.wps.iso import iso_draft
from tests.wps.us import AWS, us_draft
from wps.models import ProcedureRevision


@pytest.fixture
def draft(coordinator: Any) -> ProcedureRevision:
    return iso_draft(coordinator, [])


def _sketch(client_of: Any, draft: ProcedureRevision, **sent: Any) -> str:
    base = {
        "weld_type": ["fillet"], "joint_type": ["tee"], "parent_t_min": "6", "parent_t_max": "24",
        "throat_a_min": "5", "throat_a_max": "8", "run_count": "0", "serves_final": "on",
    }  # fmt: skip
    answer = client_of("coordinator").post(reverse("wps:revision_sketch", args=[draft.pk]), base | sent)
    assert answer.status_code == 200
    return answer.content.decode()


@pytest.mark.parametrize("arrangement", ["", "end_plate", "stiffener", "cruciform", "tee", "lap", "corner"])
def test_each_arrangement_is_drawn(client_of: Any, draft: ProcedureRevision, arrangement: str) -> None:
    drawn = _sketch(client_of, draft, prep_arrangement=arrangement)
    assert "<svg" in drawn
    assert "Joint before welding" in drawn


def test_arrangement_sides_and_sizes_change_the_drawing(client_of: Any, draft: ProcedureRevision) -> None:
    plain = _sketch(client_of, draft)
    for change in ({"prep_arrangement": "end_plate"}, {"prep_sides": "2"}, {"prep_t1_mm": "8"}, {"prep_t2_mm": "30"}):
        assert _sketch(client_of, draft, **change) != plain


def test_the_order_of_runs_is_drawn_where_runs_are_stated(client_of: Any, draft: ProcedureRevision) -> None:
    runs = {"run_count": "1", "run0-process": "135", "run0-layer": "1"}
    assert "Order of runs" not in _sketch(client_of, draft)
    assert "Order of runs" in _sketch(client_of, draft, **runs)


@pytest.mark.parametrize(
    ("sent", "told"),
    [
        ({"prep_kind": "single_v"}, "two prepared edges"),
        ({"parent_t_min": "", "parent_t_max": ""}, "state the thickness"),
        ({"prep_kind": "single_bevel", "weld_type": ["butt_cjp"]}, "state the angle"),
    ],
)
def test_what_cannot_be_drawn_is_told(
    client_of: Any, draft: ProcedureRevision, sent: dict[str, Any], told: str
) -> None:
    drawn = _sketch(client_of, draft, **sent)
    assert told in drawn
    assert "<svg" not in drawn


def test_nothing_is_saved(client_of: Any, draft: ProcedureRevision) -> None:
    before = ProcedureRevision.objects.get(pk=draft.pk)
    _sketch(client_of, draft, prep_t1_mm="8")
    after = ProcedureRevision.objects.get(pk=draft.pk)
    assert (after.window, after.preparation, after.changed_at) == (
        before.window, before.preparation, before.changed_at,
    )  # fmt: skip


def test_it_is_drawn_in_the_units_of_the_reader(client_of: Any, coordinator: Any) -> None:
    draft, client = us_draft(coordinator, AWS, []), client_of("auditor")
    drawn = [client.get(f"{draft.get_absolute_url()}?units={one}").content.decode() for one in ("us", "si")]
    assert ["t 0.25–0.75 in" in page for page in drawn] == [True, False]
    assert "t 6.35–19.05 mm" in drawn[1]


def test_what_is_typed_is_kept(client_of: Any, draft: ProcedureRevision) -> None:
    sent = {
        "serves_final": "on", "run_count": "0", "seen_version": draft.changed_at.isoformat(), "process": ["135"],
        "prep_arrangement": "stiffener", "prep_sides": "2", "prep_t1_mm": "3/8 in", "prep_t2_mm": "20",
    }  # fmt: skip
    answer = client_of("coordinator").post(reverse("wps:revision_edit", args=[draft.pk]), sent)
    assert answer.status_code == 302
    draft.refresh_from_db()
    assert {name: draft.preparation[name] for name in ("arrangement", "sides", "t1_mm", "t2_mm")} == {
        "arrangement": "stiffener", "sides": "2", "t1_mm": "9.525", "t2_mm": "20",
    }  # fmt: skip


@pytest.mark.parametrize(("person", "status"), [("qa", 403), ("supervisor", 403), ("auditor", 403)])
def test_only_who_may_write_draws(client_of: Any, draft: ProcedureRevision, person: str, status: int) -> None:
    assert client_of(person).post(reverse("wps:revision_sketch", args=[draft.pk]), {}).status_code == status
