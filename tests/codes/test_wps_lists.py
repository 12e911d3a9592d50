"""What a written procedure states under each code: the right list by code and road, and each need where it arises."""

import pytest

from codes import asme_ix_wps, aws_d1_1_wps, iso_15609_1_2019
from codes.aws_d1_1_2020.fields import DEMAND as BY_TEST
from codes.aws_d1_1_prequalified.fields import DEMAND as OWN
from codes.values import Value
from codes.variables import VARIABLES
from codes.wps_fields import Need, WpsField, missing_of
from codes.wps_lists import fields_of, list_name

AWS, OLD_AWS, ASME = "AWS D1.1:2020", "AWS D1.1:2015", "ASME IX:2021"
TESTED, PREQUALIFIED, PRESSURE = fields_of(AWS), fields_of(AWS, prequalified=True), fields_of(ASME)
TEXTS = {
    "manufacturer", "number", "records", "joint_sketch", "run_sequence", "peening", "preparation_method",
    "approved_by", "tungsten", "technique", "gas_nozzle", "stick_out",
}  # fmt: skip


def lacks(fields: tuple[WpsField, ...], **stated: Value) -> set[str]:
    return {field.name for field in missing_of(stated, fields)}


def test_each_code_has_its_own_list() -> None:
    assert fields_of("ISO 15614-1:2017") == iso_15609_1_2019.FIELDS
    assert fields_of("ISO 15614-1:2017", prequalified=True) == iso_15609_1_2019.FIELDS
    assert fields_of("no such code") == iso_15609_1_2019.FIELDS
    assert fields_of("AWS D1.1/D1.1M:2015") == aws_d1_1_wps.BY_TEST[OLD_AWS]
    assert fields_of(AWS, prequalified=True) == aws_d1_1_wps.PREQUALIFIED[AWS]
    assert fields_of("ASME BPVC IX:2023") == asme_ix_wps.FIELDS["ASME IX:2023"]
    assert [list_name(code) for code in ("ISO 15614-1:2017", AWS, ASME)] == ["ISO 15609-1:2019", AWS, ASME]


@pytest.mark.parametrize("fields", [TESTED, PREQUALIFIED, PRESSURE], ids=["by test", "prequalified", "ASME"])
def test_a_list_names_each_field_once_with_its_clause(fields: tuple[WpsField, ...]) -> None:
    assert len({field.name for field in fields}) == len(fields)
    assert all(field.ref and field.label for field in fields)
    assert all(bool(field.when) is (field.need is Need.CONDITION) for field in fields)
    assert {field.name for field in fields if field.name not in VARIABLES} <= TEXTS


def test_the_editions_of_aws_cite_their_own_numbers() -> None:
    cited = {code: {field.ref for field in fields_of(code, prequalified=True)} for code in (AWS, OLD_AWS)}
    assert "Table 5.2" in cited[AWS]
    assert "Table 3.7" in cited[OLD_AWS]
    assert "Table 5.2" not in cited[OLD_AWS]


def test_only_the_road_by_test_asks_for_records() -> None:
    assert "records" in lacks(TESTED)
    assert "records" not in lacks(PREQUALIFIED)
    assert "records" in lacks(PRESSURE)


def test_what_the_lists_ask_for_is_what_the_limits_look_at() -> None:
    for fields, demand in ((TESTED, BY_TEST), (PREQUALIFIED, OWN)):
        asked = {field.name for field in fields if field.name in VARIABLES}
        # Asked of every procedure because joints and the sheet need it.
        assert asked - set(demand) <= {"joint_type", "mechanisation", "wire_system", "product"}


CONDITIONS = [
    (TESTED, {"weld_type": "fillet"}, "leg_z"),
    (TESTED, {"weld_type": "butt_cjp"}, "root_opening"),
    (TESTED, {"weld_type": "butt_pjp"}, "groove_depth"),
    (TESTED, {"weld_type": "butt_cjp", "weld_detail": "bs"}, "gouging"),
    (TESTED, {"weld_type": "butt_cjp", "weld_detail": "ss_mb"}, "backing_material"),
    (TESTED, {"aws_position": "3G"}, "progression"),
    (TESTED, {"process": "135"}, "transfer_mode"),
    (TESTED, {"process": "136"}, "power_output"),
    (TESTED, {"process": "136"}, "gas_mixture"),
    (TESTED, {"process": "121"}, "electrode_angle_along"),
    (TESTED, {"process": "111"}, "in_makers_range"),
    (TESTED, {"run_type": "multi_run"}, "interpass_min"),
    (TESTED, {"impact_required": "yes"}, "heat_input"),
    (TESTED, {"product": "pipe"}, "diameter"),
    (PREQUALIFIED, {"weld_type": "butt_cjp"}, "joint_detail"),
    (PREQUALIFIED, {"run_type": "multi_run"}, "fill_pass_t"),
    (PREQUALIFIED, {"process": "121"}, "width_over_depth"),
    (PRESSURE, {"process": "135"}, "max_run_t"),
    (PRESSURE, {"process": "121"}, "flux_type"),
    (PRESSURE, {"process": "141"}, "tungsten"),
    (PRESSURE, {"process": "111", "position": "PF"}, "progression"),
    (PRESSURE, {"pwht": "yes"}, "pwht_condition"),
    (PRESSURE, {"impact_required": "yes"}, "heat_input"),
    (PRESSURE, {"weld_type": "butt_cjp"}, "deposit_t"),
]


@pytest.mark.parametrize(("fields", "stated", "name"), CONDITIONS)
def test_a_need_arises_where_its_condition_holds(
    fields: tuple[WpsField, ...], stated: dict[str, Value], name: str
) -> None:
    assert name not in lacks(fields)
    assert name in lacks(fields, **stated)


SPARED = [
    (TESTED, {"weld_type": "butt_cjp"}, "leg_z"),
    (TESTED, {"weld_type": "fillet"}, "root_opening"),
    (TESTED, {"weld_type": "butt_cjp", "groove_type": "square"}, "groove_angle"),
    (TESTED, {"aws_position": "1G"}, "progression"),
    (TESTED, {"process": "114"}, "gas_mixture"),
    (TESTED, {"process": "111"}, "voltage"),
    (PREQUALIFIED, {"process": "121"}, "in_makers_range"),
    (PRESSURE, {"process": "141"}, "max_run_t"),
    (PRESSURE, {"process": "121", "position": "PF"}, "progression"),
    (PRESSURE, {"process": "111"}, "gas"),
]


@pytest.mark.parametrize(("fields", "stated", "name"), SPARED)
def test_a_need_does_not_arise_elsewhere(fields: tuple[WpsField, ...], stated: dict[str, Value], name: str) -> None:
    assert name not in lacks(fields, **stated)
