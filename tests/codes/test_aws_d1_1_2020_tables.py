"""AWS D1.1:2020, qualification by test: every row of its tables at its edges, one step outside, and not stated."""

from decimal import Decimal

import pytest

from codes.aws_d1_1.unit_sets import Units
from codes.aws_d1_1_2020 import limit_sets
from codes.aws_d1_1_2020.electrical import CURRENT, TRAVEL, VOLTAGE
from codes.aws_d1_1_2020.position import PIPE, PLATE
from codes.aws_d1_1_2020.thickness import CJP_PIPE, CJP_PLATE, PJP_PLATE
from codes.check import best
from codes.parse import BadField
from codes.verdict import Verdict
from tests.codes.aws_cases import demand_of, record_of

D = Decimal
STEP = Decimal("0.001")


def ask(base: str, record: str, demand: str = "", settings: dict[str, str] | None = None) -> Verdict:
    return best(demand_of(base, record, demand), limit_sets(record_of(base, record), settings or {}))


def outcome(base: str, record: str, demand: str = "", settings: dict[str, str] | None = None) -> str:
    return ask(base, record, demand, settings).outcome.value


@pytest.mark.parametrize("base", ["SMAW", "GMAW", "FCAW", "SAW", "GTAW"])
def test_a_joint_like_the_test_is_covered(base: str) -> None:
    verdict = ask(base, "")
    assert verdict.outcome.value == "covered", verdict.sentence


@pytest.mark.parametrize("product", ["plate", "pipe"])
@pytest.mark.parametrize("joint", ["F", "H", "V", "OH"])
def test_every_row_of_the_positions(product: str, joint: str) -> None:
    for test, served in {"plate": PLATE, "pipe": PIPE}[product].items():
        kind = "fillet" if test.endswith("F") else "butt_cjp"
        record = f"product={product}; aws_position={test}; weld_type={kind}; progression=uphill"
        record += "; diameter=10in; pipe_test=job_size; run_type=single_run; leg_z=1/4in"
        found = ask("GMAW", record, f"aws_position={joint}; weld_axis=girth")
        assert ("position" not in found.reasons) == (joint in served), f"{test}: {found.sentence}"


def test_two_pipe_positions_together_cover_all() -> None:
    record = "product=pipe; aws_position=2G|5G; progression=uphill; diameter=10in; pipe_test=job_size"
    for joint in ("F", "H", "V", "OH", "5G", "6G"):
        assert outcome("GMAW", record, f"aws_position={joint}; weld_axis=girth") == "covered"
    assert outcome("GMAW", record, "aws_position=6GR; weld_axis=girth") == "outside"


def test_a_position_that_the_table_does_not_name_is_not_judged() -> None:
    assert outcome("GMAW", "product=plate; aws_position=6G; progression=uphill", "aws_position=F") == "not stated"


@pytest.mark.parametrize("units", ["us", "si"])
def test_both_ends_of_every_thickness_row(units: str) -> None:
    set_ = Units(units)
    for rows, extra in ((CJP_PLATE, ""), (PJP_PLATE, "weld_type=butt_pjp; groove_depth=2; "),
                        (CJP_PIPE, "product=pipe; pipe_test=job_size; diameter=300; weld_axis=girth; ")):  # fmt: skip
        for row in rows:
            t = row.start.mm(set_) + (STEP if row.above else 0)
            if row.start is rows[0].start:
                t = row.end.mm(set_) if row.end else t
            record = f"unit_system={units}; {extra}parent_t={t}; steels=A572-50 / A572-50"
            least = row.least_times * t if row.least_times else (row.least.mm(set_) if row.least else D(0))
            assert outcome("GMAW", record, f"parent_t={least}") == "covered"
            assert outcome("GMAW", record, f"parent_t={least - STEP}") == "outside"
            if row.times is None:
                assert outcome("GMAW", record, "parent_t=999") == "covered"
            else:
                assert outcome("GMAW", record, f"parent_t={row.times * t}") == "covered"
                assert outcome("GMAW", record, f"parent_t={row.times * t + STEP}") == "outside"


def test_test_plate_thinner_than_the_scope_covers_nothing() -> None:
    assert "thickness" in ask("GMAW", "parent_t=1/16in", "parent_t=1/8in").reasons


def test_square_groove_without_backgouging_goes_no_thicker_than_tested() -> None:
    record = "groove_type=square; groove_angle=; parent_t=1/4in"
    assert outcome("GMAW", record, "parent_t=1/4in") == "covered"
    assert ask("GMAW", record, "parent_t=5/16in").reasons == ("thickness",)


@pytest.mark.parametrize(
    ("diameter", "wall", "joint", "answer"),
    [("2-3/8in", "0.218in", "3/4in", "covered"), ("2-3/8in", "0.218in", "0.749in", "outside"),
     ("2-3/8in", "0.218in", "4in", "covered"), ("3-1/2in", "0.216in", "4.001in", "outside"),
     ("6-5/8in", "0.562in", "4in", "covered"), ("8-5/8in", "0.5in", "3.999in", "outside"),
     ("10-3/4in", "0.5in", "10-3/4in", "not stated")],
)  # fmt: skip
def test_standard_test_pipes(diameter: str, wall: str, joint: str, answer: str) -> None:
    record = f"product=pipe; pipe_test=standard; diameter={diameter}; parent_t={wall}"
    assert outcome("GMAW", record, f"diameter={joint}; weld_axis=girth; parent_t=1/4in") == answer


def test_large_pipe_of_thin_and_of_thick_wall() -> None:
    thin = "product=pipe; pipe_test=job_size; diameter=30in; parent_t=3/8in; weld_axis=girth"
    assert outcome("GMAW", thin, "diameter=24in") == "outside"
    thick = thin.replace("3/8in", "1/2in")
    assert outcome("GMAW", thick, "diameter=24in") == "covered"
    assert outcome("GMAW", thick, "diameter=23.99in") == "outside"


def test_plate_test_serves_large_girth_welds_and_any_straight_one() -> None:
    assert outcome("GMAW", "", "product=pipe; weld_axis=girth; diameter=24in") == "covered"
    assert outcome("GMAW", "", "product=pipe; weld_axis=girth; diameter=23.99in") == "outside"
    assert outcome("GMAW", "", "product=pipe; weld_axis=straight; diameter=4in") == "covered"
    assert outcome("GMAW", "", "product=pipe; diameter=4in") == "not stated"


@pytest.mark.parametrize(("name", "table"), [("current", CURRENT), ("voltage", VOLTAGE), ("travel_speed", TRAVEL)])
def test_electrical_tolerances_at_both_ends(name: str, table: dict[str, object]) -> None:
    for base in ("SAW", "GMAW", "FCAW", "GTAW"):
        if base not in table:
            assert name not in {f.variable for f in ask(base, "").findings}
            continue
        percent = table[base]
        low, high = (D(200) * (100 + sign) / 100 for sign in (-percent.down, percent.up))  # type: ignore[attr-defined]
        record = f"{name}=200"
        for value, answer in ((low, "covered"), (low - STEP, "outside"), (high, "covered"), (high + STEP, "outside")):
            assert outcome(base, record, f"{name}={value}") == answer, f"{base} {name} {value}"
        assert outcome(base, record, f"{name}=") == "not stated"


def test_covered_electrodes_have_neither_volts_nor_speed_but_the_makers_range() -> None:
    assert outcome("SMAW", "", "in_makers_range=no") == "outside"
    assert outcome("SMAW", "", "in_makers_range=") == "not stated"
    assert outcome("SMAW", "", "current_type=AC") == "outside"
    assert outcome("SMAW", "", "current_type=AC; polarity_by_maker=yes") == "covered"


def test_passes_are_averaged_or_taken_one_by_one() -> None:
    record = "current=200|300"
    assert outcome("GMAW", record, "current=275") == "covered"
    assert outcome("GMAW", record, "current=200") == "outside"
    each = {"aws_d1_1_pass_values": "lenient"}
    assert outcome("GMAW", record, "current=200", each) == "covered"
    assert outcome("GMAW", record, "current=250", each) == "outside"
    with pytest.raises(BadField, match="one for each pass"):
        limit_sets(record_of("GMAW", "current=200|300; voltage=27|28|29"), each)


def test_one_entry_for_each_filler_diameter() -> None:
    with pytest.raises(BadField, match="each filler diameter"):
        limit_sets(record_of("SMAW", "filler_diameter=3.2|4"), {})


@pytest.mark.parametrize(
    ("base", "record", "joint", "answer"),
    [
        ("SMAW", "unit_system=si; filler_diameter=3.2", "filler_diameter=4.0", "covered"),
        ("SMAW", "unit_system=si; filler_diameter=3.2", "filler_diameter=4.001", "outside"),
        ("SMAW", "unit_system=si; filler_diameter=3.2", "filler_diameter=1.6", "covered"),
        ("SAW", "unit_system=si; filler_diameter=4", "filler_diameter=4.001", "outside"),
        ("GTAW", "unit_system=si; filler_diameter=2.4", "filler_diameter=4.0", "covered"),
        ("GTAW", "unit_system=si; filler_diameter=2.4", "filler_diameter=0.8", "covered"),
        ("GTAW", "unit_system=si; filler_diameter=2.4", "filler_diameter=0.799", "outside"),
        ("GTAW", "preheat=225F", "preheat=125F", "covered"),
        ("GTAW", "preheat=225F", "preheat=124F", "outside"),
        ("GMAW", "unit_system=si; preheat=100", "preheat=85", "covered"),
        ("GMAW", "unit_system=si; preheat=100", "preheat=84.9", "outside"),
        ("GMAW", "preheat=150F; interpass_min=150F", "interpass_min=124F", "outside"),
        ("GMAW", "preheat=150F; interpass_min=150F", "interpass_min=125F", "covered"),
        ("GMAW", "gas_flow=40cfh", "gas_flow=60cfh", "covered"),
        ("GMAW", "gas_flow=40cfh", "gas_flow=60.01cfh", "outside"),
        ("GMAW", "gas_mixture=75Ar/25CO2", "gas_mixture=25% CO2 + 75% Ar", "covered"),
        ("GMAW", "gas_mixture=75Ar/25CO2", "gas_mixture=C25", "not stated"),
        ("GMAW", "transfer_mode=spray", "transfer_mode=dip", "outside"),
        ("GMAW", "power_output=cv", "power_output=cc", "outside"),
        ("GMAW", "electrodes=1", "electrodes=2", "outside"),
        ("GMAW", "process=135", "process=138", "outside"),
        ("SAW", "extra_filler=none", "extra_filler=powder", "outside"),
        ("GMAW", "groove_angle=45", "groove_angle=40", "covered"),
        ("GMAW", "groove_angle=45", "groove_angle=39.9", "outside"),
        ("GMAW", "root_opening=1/4in", "root_opening=3/16in", "covered"),
        ("GMAW", "root_opening=1/4in", "root_opening=0.187in", "outside"),
        ("GMAW", "root_face=1/16in", "root_face=1/8in", "covered"),
        ("GMAW", "root_face=1/16in", "root_face=0.126in", "outside"),
        ("GMAW", "weld_detail=bs; gouging=thermal; root_face=0", "root_face=1in", "covered"),
        ("GMAW", "weld_detail=bs; gouging=thermal", "gouging=none", "outside"),
        ("GMAW", "weld_detail=bs; gouging=thermal", "weld_detail=ss_mb", "covered"),
        ("GMAW", "weld_detail=ss_mb", "weld_detail=ss_fb; backing_material=ceramic", "outside"),
        ("GMAW", "groove_type=single_v", "groove_type=single_bevel", "outside"),
        ("GMAW", "groove_type=square; groove_angle=", "groove_type=single_v; groove_angle=60", "outside"),
        ("GMAW", "weld_type=butt_pjp; groove_depth=6", "weld_type=butt_cjp", "outside"),
        ("GMAW", "weld_type=butt_pjp; groove_depth=6", "weld_type=fillet; leg_z=6", "covered"),
        ("GMAW", "contractor=A", "contractor=B; engineer_acceptance=yes", "covered"),
        ("GMAW", "", "contractor=", "not stated"),
    ],
)
def test_both_sides_of_a_limit(base: str, record: str, joint: str, answer: str) -> None:
    verdict = ask(base, record, joint)
    assert verdict.outcome.value == answer, verdict.sentence


@pytest.mark.parametrize(
    ("tested", "thick", "joint", "answer"),
    [
        ("A36 / A36", "1/2in", "A53 Gr B / A500 Gr C", "covered"),
        ("A36 / A36", "1in", "A992 / A992", "covered"),
        ("A992 / A36", "1/2in", "A36 / A53-B", "covered"),
        ("A992 / A36", "1/2in", "A992 / A36", "covered"),
        ("A992 / A36", "1/2in", "A992 / A53-B", "outside"),
        ("A992 / A36", "1/2in", "A992 / A992", "outside"),
        ("A572-65 / A572-50", "1/2in", "A572 Grade 65 / A36", "covered"),
        ("A572-65 / A572-50", "1/2in", "A572-65 / A572-65", "outside"),
        ("A572-65 / A36", "1/2in", "A572-65 / A992", "outside"),
        ("A913-70 / A36", "1/2in", "A913-70 / A53-B", "outside"),
        ("A913-70 / A36", "1/2in", "A36 / A913-70", "covered"),
        ("S355J2 / S355J2", "1/2in", "S355J2 / S355J2", "covered"),
        ("S355J2 / S355J2", "1/2in", "A36 / A36", "outside"),
        ("A36 / A36", "1/2in", " / A36", "not stated"),
    ],
)
def test_base_metals(tested: str, thick: str, joint: str, answer: str) -> None:
    verdict = ask("GMAW", f"steels={tested}; parent_t={thick}", f"steels={joint}; parent_t=1/2in")
    assert verdict.outcome.value == answer, verdict.sentence


def test_a36_changes_its_group_at_three_quarters_of_an_inch_and_at_20_mm() -> None:
    us, si = "steels=A36 / A36; parent_t=1/2in", "unit_system=si; steels=A36 / A36; parent_t=12"
    assert outcome("GMAW", us, "parent_t=3/4in") == "covered"
    assert outcome("GMAW", us, "parent_t=20") == "outside"
    assert outcome("GMAW", si, "parent_t=20") == "covered"
    assert outcome("GMAW", si, "parent_t=20.1") == "outside"
    found = ask("GMAW", us, "parent_t=1in")
    assert "A36 of the joint's thickness is Group II" in found.sentence
    assert "or A36 to A36" not in found.sentence
    assert outcome("GMAW", us, "parent_t=1in", {"aws_d1_1_grade_across_groups": "lenient"}) == "covered"


def test_the_grade_of_a_cvn_test_by_both_readings() -> None:
    tested = "steels=A36 / A36; parent_t=1in; impact_tested=yes; heat_input=40kJ/in"
    joint = "parent_t=5/8in; impact_required=yes; waveform_controlled=no"
    assert ask("GMAW", tested, joint).reasons == ("base_metal",)
    assert outcome("GMAW", tested, joint, {"aws_d1_1_grade_across_groups": "lenient"}) == "covered"


def test_group_pair_by_the_wider_reading() -> None:
    wide = {"aws_d1_1_group_pair": "lenient"}
    assert outcome("GMAW", "steels=A992 / A36", "steels=A992 / A53-B", wide) == "covered"
    assert outcome("GMAW", "steels=A992 / A36", "steels=A992 / A992", wide) == "outside"


def test_filler_class_by_both_readings() -> None:
    wide = {"aws_d1_1_filler_class": "lenient"}
    assert ask("SMAW", "", "filler_designation=E7016").reasons == ("filler_class",)
    assert outcome("SMAW", "", "filler_designation=E7016", wide) == "covered"
    assert outcome("SMAW", "", "filler_designation=E6010", wide) == "outside"
    assert outcome("FCAW", "", "filler_designation=E71T-8", wide) == "covered"
    assert outcome("GMAW", "", "filler_designation=ER70S-3", wide) == "outside"
    assert outcome("GMAW", "filler_designation=ER80S-D2", "filler_designation=ER70S-6", wide) == "covered"
    assert outcome("SMAW", "", "filler_designation=E 42 4 B 42 H5") == "not stated"


@pytest.mark.parametrize(
    ("base", "tested", "joint", "answer"),
    [
        ("SMAW", "E8018-C3", "E7018", "covered"),
        ("SMAW", "E7018", "E8018-C3", "outside"),
        ("SMAW", "E8018-C3", "E7010-A1", "outside"),
        ("FCAW", "E81T1-Ni1C", "E71T-1C", "covered"),
        ("GMAW", "ER80S-D2", "ER70S-6", "covered"),
        ("GMAW", "ER70S-6", "ER80S-D2", "outside"),
        ("GMAW", "ER70S-6", "ER70S-3", "outside"),
        ("GTAW", "ER80S-D2", "ER70S-2", "covered"),
        ("SAW", "F8A2-EM12K", "F7A2-EM12K", "covered"),
        ("SAW", "F7A2-EM12K", "F8A2-EM12K", "outside"),
        ("SAW", "F7A2-EM12K", "F7A2-EL12", "outside"),
    ],
)
def test_a_lower_strength_of_the_filler_needs_no_test(base: str, tested: str, joint: str, answer: str) -> None:
    assert outcome(base, f"filler_designation={tested}", f"filler_designation={joint}") == answer


def test_saw_speed_by_both_readings() -> None:
    assert outcome("SAW", "travel_speed=400", "travel_speed=460") == "covered"
    assert outcome("SAW", "travel_speed=400", "travel_speed=461") == "outside"
    assert outcome("SAW", "travel_speed=400", "travel_speed=500", {"aws_d1_1_saw_speed": "lenient"}) == "covered"


def test_setting_of_several_electrodes() -> None:
    record = "electrodes=2; arc_spacing_along=20; arc_spacing_across=40; electrode_angle_between=15"
    assert outcome("SAW", record, "arc_spacing_along=23.175") == "covered"
    assert outcome("SAW", record, "arc_spacing_along=23.176") == "outside"
    assert outcome("SAW", record, "arc_spacing_across=44") == "covered"
    assert outcome("SAW", record, "arc_spacing_across=44.1") == "outside"
    assert outcome("SAW", record, "electrode_angle_between=25") == "covered"
    assert outcome("SAW", record, "electrode_angle_between=25.1") == "outside"
    assert outcome("SAW", "", "electrode_angle_along=3.1") == "outside"
    assert outcome("SAW", "electrodes=2") == "not stated"


def test_one_electrode_has_no_spacing_and_several_have() -> None:
    """Table 6.5, lines 22 and 23: the spacing of arcs binds tests with several electrodes only."""
    for electrodes, bound in (("", False), ("1", False), ("2", True)):
        sets = limit_sets(record_of("SAW", f"electrodes={electrodes}"), {})
        assert any(limit.variable == "arc_spacing_along" for limits in sets for limit in limits.limits) is bound
