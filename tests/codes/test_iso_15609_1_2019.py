"""The fields of a welding procedure specification: complete, conditional by process, optional."""

import pytest

from codes.iso_15609_1_2019 import FIELDS, Need, missing_fields
from codes.values import Value


def lacks(**stated: Value) -> set[str]:
    return {field.name for field in missing_fields(stated)}


def test_fields_are_named_once_and_cite_a_clause() -> None:
    assert len({field.name for field in FIELDS}) == len(FIELDS)
    assert all(field.ref.startswith("4.") and field.label for field in FIELDS)
    assert all(bool(field.when) is (field.need is Need.CONDITION) for field in FIELDS)


def test_nothing_stated_lacks_the_mandatory_fields_only() -> None:
    assert lacks() == {field.name for field in FIELDS if field.need is Need.ALWAYS}


@pytest.mark.parametrize(
    ("stated", "name"),
    [
        ({"process": "135"}, "gas"),
        ({"process": "141"}, "tungsten"),
        ({"process": "121"}, "flux_make"),
        ({"process": "15"}, "plasma_mode"),
        ({"process": "311"}, "fuel_gas"),
        ({"process": "111"}, "filler_handling"),
        ({"product": "pipe"}, "diameter"),
        ({"weld_type": "branch"}, "branch_angle"),
        ({"weld_type": "fillet"}, "throat_a"),
        ({"run_type": "multi_run"}, "interpass"),
        ({"pwht": "yes"}, "pwht_temperature"),
        ({"post_heat": "yes"}, "post_heat_minutes"),
        ({"process": "135", "mechanisation": "automatic"}, "wire_feed"),
        ({"process": "135", "impact_required": "yes"}, "heat_input"),
        ({"process": "135", "hardness_required": "yes"}, "travel_speed"),
        ({"status": "WPS"}, "records"),
    ],
)
def test_a_condition_makes_a_field_mandatory(stated: dict[str, Value], name: str) -> None:
    assert name in lacks(**stated)
    assert name not in lacks()
    assert name not in lacks(**stated, **{name: "stated"})


@pytest.mark.parametrize(
    ("stated", "name"),
    [
        ({"process": "111"}, "gas"),
        ({"process": "142"}, "filler_designation"),
        ({"process": "311", "impact_required": "yes"}, "heat_input"),
        ({"process": "311"}, "current"),
        ({"process": "111", "mechanisation": "manual"}, "wire_feed"),
        ({"run_type": "single_run"}, "interpass"),
        ({"status": "pWPS"}, "records"),
        ({"product": "plate"}, "diameter"),
    ],
)
def test_a_condition_that_does_not_hold_asks_nothing(stated: dict[str, Value], name: str) -> None:
    assert name not in lacks(**stated)
