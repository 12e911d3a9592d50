"""The t8/5 of a revision over its whole window."""

from typing import Any

import pytest
from django.contrib.auth.models import User

from codes.calc.registry import calculate
from tests.wps.iso import iso_draft, iso_record
from wps.cooling_check import cooling_advice

pytestmark = pytest.mark.django_db


def steel(yield_mpa: str, group: str = "3.1") -> dict[str, Any]:
    one = {"group": group, "yield_mpa": yield_mpa, "grade": ""}
    return {"steels": [one, one]}


@pytest.mark.parametrize(("yield_mpa", "shown"), [("419.9", 0), ("420", 1)])
def test_for_fine_grain_steels_only(coordinator: User, yield_mpa: str, shown: int) -> None:
    assert len(cooling_advice(iso_draft(coordinator, [iso_record()], **steel(yield_mpa)))) == shown


def test_both_corners_are_those_of_the_calculation(coordinator: User) -> None:
    """Least: 0.586 kJ/mm, 20 °C, 24 mm; greatest: 0.999 kJ/mm, 180 °C, 6 mm; a fillet at a T-joint."""
    (found,) = cooling_advice(iso_draft(coordinator, [iso_record()], **steel("690")))
    form = {"form": "tee_fillet"}
    least = calculate("cooling_time", {"heat_input": "0.586", "preheat": "20", "thickness": "24", "f2": "0.45", **form})
    greatest = calculate("cooling_time", {"heat_input": "0.999", "preheat": "180", "thickness": "6", **form})
    assert f"t8/5 is {least.shown} to {greatest.shown} over all" in found.sentence
    assert "Annex D" in found.clause


def test_what_is_missing_is_named(coordinator: User) -> None:
    draft = iso_draft(coordinator, [iso_record()], **steel("690"))
    draft.runs.all().delete()
    del draft.window["interpass"]
    draft.save()
    (found,) = cooling_advice(type(draft).objects.get(pk=draft.pk))
    assert found.sentence == "t8/5 is not known: heat input, interpass not stated."


def test_on_the_page(coordinator: User, client_of: Any) -> None:
    draft = iso_draft(coordinator, [iso_record()], **steel("690"))
    said = client_of("auditor").get(draft.get_absolute_url()).content.decode()
    assert cooling_advice(draft)[0].sentence.split(";")[0] in said
