"""AWS D1.1:2020, prequalified: every cell of its tables at its edge, one step outside, and not stated."""

from decimal import Decimal

import pytest

from codes.aws_d1_1.base_metal_rows import BY_TEST
from codes.aws_d1_1.base_metals import entries, entry_of
from codes.aws_d1_1.fillers import classify
from codes.aws_d1_1.unit_sets import Units
from codes.aws_d1_1_prequalified import EDITIONS, limit_sets, minimum_preheat, prequalified
from codes.aws_d1_1_prequalified.detail_rows import (
    BACKED,
    DETAILED_ANGLE,
    DETAILED_OPENING,
    DETAILS,
    FIT_UP_OPENING,
    GOUGED,
    Detail,
    Opening,
)
from codes.aws_d1_1_prequalified.preheat_rows import A, B, C, D
from codes.aws_d1_1_prequalified.table_5_1 import (
    CURRENTS,
    ELECTRODES,
    FILL_PASS,
    LAYER_WIDTH,
    ROOT_PASS,
    SINGLE_PASS_FILLET,
    SMAW,
    WIRE,
)
from codes.check import best
from codes.editions import edition, editions_of
from codes.values import Interval, Steel, SteelPair
from codes.verdict import Verdict
from tests.codes.aws_cases import changes, values
from tests.codes.aws_written import BASES

STEP = Decimal("0.001")
GROOVE_OF = {SMAW: "SMAW groove", WIRE: "FCAW groove", "SAW single": "SAW groove", "SAW twin": "SAW groove",
             "SAW tandem": "SAW groove"}  # fmt: skip
UPHILL = "; progression=uphill"


def ask(base: str, text: str = "", settings: dict[str, str] | None = None) -> Verdict:
    return prequalified(values(BASES[base] | changes(text)), settings=settings or {})


def fails(base: str, text: str, reason: str) -> bool:
    return reason in {f.reason for f in ask(base, text).findings if f.outcome.value == "outside"}


def column(name: str) -> str:
    return f"; wire_system={name.split()[1]}" if " " in name else ""


@pytest.mark.parametrize("base", BASES)
@pytest.mark.parametrize("units", ["us", "si"])
def test_the_bases_are_prequalified(base: str, units: str) -> None:
    plain = BASES[base] | {"unit_system": units}
    if units == "si":
        plain |= {"parent_t": 6, "preheat": 10, "root_opening": 6 if plain.get("root_opening") else ""}
        plain |= {"filler_diameter": "1.2", "leg_z": 6 if plain.get("leg_z") else ""}
        plain |= {"root_opening": 0} if base in ("SMAW PJP", "FCAW PJP", "SAW groove") else {}
    verdict = prequalified(values(plain))
    assert verdict.outcome.value == "covered", verdict.sentence


@pytest.mark.parametrize("units", ["us", "si"])
@pytest.mark.parametrize("row", ELECTRODES, ids=lambda row: f"{row.position} {row.weld}")
def test_every_electrode_cell(row: object, units: str) -> None:
    for name, size in row.sizes.items():  # type: ignore[attr-defined]
        kind = "fillet" if row.weld == "fillet" else "groove"  # type: ignore[attr-defined]
        base = f"{GROOVE_OF[name].split()[0]} {kind}"
        filler = "; filler_designation=E6010" if name == SMAW else ""
        text = f"unit_system={units}; aws_position={row.position}; weld_pass={row.passes[0]}"  # type: ignore[attr-defined]
        text += column(name) + filler + UPHILL
        most = size.mm(Units(units))
        assert not fails(base, f"{text}; filler_diameter={most}", "filler_diameter")
        assert fails(base, f"{text}; filler_diameter={most + STEP}", "filler_diameter")


@pytest.mark.parametrize("units", ["us", "si"])
@pytest.mark.parametrize(("table", "name"), [(ROOT_PASS, "root_pass_t"), (SINGLE_PASS_FILLET, "leg_z"),
                                             (LAYER_WIDTH, "layer_width")])  # fmt: skip
def test_every_cell_by_position(table: dict[str, dict[str, object]], name: str, units: str) -> None:
    reason = "single_pass_size" if name == "leg_z" else name
    for position, cells in table.items():
        for col, size in cells.items():
            base = GROOVE_OF[col].replace("groove", "fillet") if name == "leg_z" else GROOVE_OF[col]
            text = f"unit_system={units}; aws_position={position}{column(col)}{UPHILL}; {name}="
            if size is None:
                assert not fails(base, f"{text}99", reason)
                continue
            most = size.mm(Units(units))  # type: ignore[attr-defined]
            assert not fails(base, f"{text}{most}", reason)
            assert fails(base, f"{text}{most + STEP}", reason)
            if name == "layer_width":
                assert not fails(base, f"{text}{most + STEP}; split_layers=yes", reason)


@pytest.mark.parametrize("units", ["us", "si"])
def test_every_fill_pass(units: str) -> None:
    for col, size in FILL_PASS.items():
        text = f"unit_system={units}{column(col)}; fill_pass_t="
        most = size.mm(Units(units)) if size else Decimal(99)
        assert not fails(GROOVE_OF[col], f"{text}{most}", "fill_pass_t")
        assert fails(GROOVE_OF[col], f"{text}{most + STEP}", "fill_pass_t") == (size is not None)


def test_every_current_of_submerged_arc() -> None:
    for row in CURRENTS:
        for col, most in row.amperes.items():
            base = f"SAW {row.weld}"
            opening = f"; root_opening={1 if row.root_open else 0}" if row.root_open is not None else ""
            text = f"weld_pass={row.passes[0]}{column(col)}{opening}; current="
            at = most if most is not None else Decimal(5000)
            assert not fails(base, f"{text}{at}", "current")
            assert fails(base, f"{text}{at + STEP}", "current") == (most is not None)


def test_submerged_arc_stays_in_its_positions() -> None:
    assert fails("SAW fillet", "aws_position=3F", "position")
    assert not fails("SAW fillet", "aws_position=2F", "position")
    assert fails("SAW groove", "aws_position=2G", "position")


def test_a_cell_whose_position_or_pass_is_not_stated_is_not_passed_over() -> None:
    assert ask("SMAW fillet", "aws_position=").outcome.value == "not stated"
    assert ask("SAW groove", "weld_pass=; current=1100").outcome.value == "not stated"
    assert ask("SAW fillet", "wire_system=").outcome.value == "not stated"
    assert ask("SMAW groove", "root_pass_t=").outcome.value == "not stated"


@pytest.mark.parametrize("base", BASES)
def test_a_procedure_that_leaves_a_value_out_is_never_prequalified(base: str) -> None:
    whole = values(BASES[base])
    free = {"contractor", "product", "interpass", "mechanisation", "electrodes", "extra_filler", "gas_flow", "current",
            "voltage", "travel_speed", "current_type", "pwht", "cyclic_load", "impact_required", "gouging",
            "electrode_angle_along", "electrode_angle_across", "weld_pass", "layer_width", "fill_pass_t",
            "root_pass_t", "wire_system", "backing_material", "transfer_mode", "weld_detail", "joint_type"}  # fmt: skip
    free |= {"power_output"} if base.startswith("SAW") else set()
    for name in set(whole) - free:
        rest = {key: value for key, value in whole.items() if key != name}
        judged = any(f.variable == name for f in prequalified(whole).findings)
        assert not judged or prequalified(rest).outcome.value != "covered", name


def cases_of_details() -> list[tuple[Detail, Opening]]:
    return [(detail, opening) for detail in DETAILS.values() for opening in detail.openings if not detail.not_entered]


def detailed(detail: Detail, opening: Opening, units: Units) -> dict[str, object]:
    family = {"GMAW": "FCAW"}.get(detail.processes[0], detail.processes[0])
    base = BASES[f"{family} {'groove' if detail.cjp else 'PJP'}"]
    t = detail.thickest.mm(units) if detail.thickest else Decimal(20)
    root = {"T": t, "T/2": t / 2}.get(opening.of_thickness, opening.lo.mm(units))
    face = detail.face[0].mm(units) if detail.face[0] else 0
    support = {BACKED: "ss_mb", GOUGED: "bs"}.get(detail.support, "ss_nb")
    plain: dict[str, object] = {
        "unit_system": units.value, "joint_detail": detail.name, "parent_t": t, "groove_type": detail.groove[0],
        "joint_type": detail.joints[0], "root_opening": root, "weld_detail": support, "steels": "A992 / A992",
        "gouging": "thermal" if support == "bs" else "none", "root_face": face,
        "backing_material": "steel" if support == "ss_mb" else "none", "aws_position": (opening.positions or ("F",))[0],
        "groove_angle": opening.angle or "", "preheat": 150, "groove_depth": 20, "deposit_t": 12,
    }  # fmt: skip
    return base | plain


@pytest.mark.parametrize("units", list(Units))
@pytest.mark.parametrize(("detail", "opening"), cases_of_details(), ids=lambda one: getattr(one, "name", ""))
def test_every_row_of_every_detail(detail: Detail, opening: Opening, units: Units) -> None:
    plain = detailed(detail, opening, units)

    def outcome(**changed: object) -> str:
        return prequalified(values(plain | changed)).outcome.value

    assert outcome() == "covered", prequalified(values(plain)).sentence
    low = Decimal(str(plain["root_opening"]))
    high = low + (opening.hi.mm(units) - opening.lo.mm(units))
    less, more = (size.mm(units) for size in FIT_UP_OPENING[detail.support])
    assert outcome(fit_up_root_opening=high + more) == "covered"
    assert outcome(fit_up_root_opening=high + more + STEP) == "outside"
    if low > less:
        assert outcome(fit_up_root_opening=low - less) == "covered"
        assert outcome(fit_up_root_opening=low - less - STEP) == "outside"
    if len(detail.openings) == 1:
        assert outcome(root_opening=high + DETAILED_OPENING.mm(units)) == "covered"
        assert outcome(root_opening=high + DETAILED_OPENING.mm(units) + STEP) == "outside"
    if opening.angle is not None and len(detail.openings) == 1:
        assert outcome(groove_angle=opening.angle + DETAILED_ANGLE) == "covered"
        assert outcome(groove_angle=opening.angle - 1) == "outside"
        assert outcome(fit_up_angle=opening.angle - 5) == "covered"
        assert outcome(fit_up_angle=opening.angle - Decimal("5.1")) == "outside"
    if detail.thickest:
        assert outcome(parent_t=detail.thickest.mm(units) + STEP) == "outside"
    assert outcome(groove_type="flare_v" if detail.groove != ("flare_v",) else "square") == "outside"


def test_opening_and_angle_of_different_rows_do_not_mix() -> None:
    assert ask("SMAW groove", "root_opening=3/8in; groove_angle=30").outcome.value == "covered"
    assert ask("SMAW groove", "root_opening=1/4in; groove_angle=30").outcome.value == "outside"
    assert ask("SMAW groove", "root_opening=3/8in; groove_angle=30; aws_position=2G").outcome.value == "outside"


def test_details_that_are_not_entered_or_not_for_the_process() -> None:
    assert ask("SMAW groove", "joint_detail=B-U9z").outcome.value == "not stated"
    assert ask("SMAW groove", "joint_detail=").outcome.value == "not stated"
    assert fails("SMAW groove", "joint_detail=B-U2a-GF; root_opening=3/8in; groove_angle=30", "joint_detail")
    text = "joint_detail=B-U2-S; groove_type=single_v; root_opening=5/8in; groove_angle=20; weld_detail=ss_mb; " \
           "backing_material=steel; split_layers=yes"  # fmt: skip
    assert ask("SAW groove", text).outcome.value == "not stated"


def test_weld_size_of_a_partial_penetration_detail() -> None:
    text = "parent_t=1/2in; groove_depth=3/8in; deposit_t="
    assert ask("SMAW PJP", text + "1/4in").outcome.value == "covered"
    assert fails("SMAW PJP", text + "0.251in", "pjp_size")
    assert fails("SMAW PJP", text + "0.187in", "pjp_size")
    assert ask("SMAW PJP", "parent_t=1/2in; groove_depth=; deposit_t=1/4in").outcome.value == "not stated"
    wide = {"aws_d1_1_prequalified_pjp_thickness": "lenient"}
    two = "parent_t=1/2in|1in; groove_depth=3/8in; deposit_t=1/4in"
    assert ask("SMAW PJP", two).outcome.value == "outside"
    assert ask("SMAW PJP", two, wide).outcome.value == "covered"


def test_smallest_fillet_by_the_thinner_part() -> None:
    two = "parent_t=1/4in|1in; leg_z=1/8in; steels=A992 / A992"
    assert ask("GMAW fillet", two).outcome.value == "covered"
    assert fails("GMAW fillet", "parent_t=5/16in|1in; leg_z=1/8in", "fillet_size")
    assert fails("GMAW fillet", "parent_t=1/4in; leg_z=0.124in", "fillet_size")
    assert fails("GMAW fillet", "parent_t=1/4in; leg_z=1/8in; cyclic_load=yes", "fillet_size")
    capped = "filler_designation=E6010; parent_t=3/16in|1/2in; leg_z=1/8in"
    assert ask("SMAW fillet", capped).outcome.value == "not stated"


def test_skewed_fillets() -> None:
    for angle, bad in (("60", False), ("59.9", True), ("135", False), ("135.1", True)):
        assert fails("GMAW fillet", f"dihedral_angle={angle}", "dihedral_angle") == bad


@pytest.mark.parametrize(
    ("base", "text", "answer"),
    [
        ("SMAW groove", "steels=A992 / A992; filler_designation=E8018-C3", "covered"),
        ("SMAW groove", "steels=A992 / A992; filler_designation=E9018M", "outside"),
        ("SMAW groove", "steels=A36 / A36; filler_designation=E6010", "covered"),
        ("SMAW groove", "steels=A36 / A572-65; filler_designation=E7018; preheat=150F", "covered"),
        ("SMAW groove", "steels=A36 / A992; filler_designation=E6010", "outside"),
        ("SMAW fillet", "steels=A572-65 / A572-65; preheat=150F", "not stated"),
        ("FCAW groove", "filler_designation=E71T-11; process=114; gas_mixture=; parent_t=1/2in", "covered"),
        ("FCAW groove", "filler_designation=E71T-11; process=114; gas_mixture=; parent_t=0.51in", "outside"),
        ("FCAW groove", "filler_designation=E71T-GS; process=114; gas_mixture=", "outside"),
        ("FCAW groove", "filler_designation=E71T-G", "not stated"),
        ("FCAW groove", "filler_designation=ER70S-6", "outside"),
        ("FCAW groove", "filler_designation=T 42 2 P C1 1", "not stated"),
        ("FCAW groove", "filler_designation=E71T-1M; gas_mixture=75Ar/25CO2", "covered"),
        ("FCAW groove", "filler_designation=E71T-1M; gas_mixture=81Ar/19CO2", "not stated"),
        ("SMAW groove", "steels=S355J2 / A36", "outside"),
        ("SMAW groove", "impact_required=yes", "not stated"),
        ("SMAW groove", "pwht=yes", "not stated"),
        ("SMAW groove", "parent_t=0.12in", "outside"),
    ],
)
def test_steels_fillers_and_gases(base: str, text: str, answer: str) -> None:
    verdict = ask(base, text)
    assert verdict.outcome.value == answer, verdict.sentence


@pytest.mark.parametrize(
    ("base", "name", "switch", "strict", "wide"),
    [("GMAW fillet", "voltage", "voltage", (93, 107), (85, 115)),
     ("SAW fillet", "travel_speed", "saw_speed", (85, 115), (75, 125)),
     ("GMAW fillet", "gas_flow", "gas_flow", (80, 125), (75, 125)),
     ("GMAW fillet", "current", "", (90, 110), (90, 110)),
     ("GMAW fillet", "travel_speed", "", (75, 125), (75, 125))],
)  # fmt: skip
def test_tolerances_by_both_readings(
    base: str, name: str, switch: str, strict: tuple[int, int], wide: tuple[int, int]
) -> None:
    piece = values(BASES[base] | {name: 100})
    for settings, ends in (({}, strict), ({f"aws_d1_1_prequalified_{switch}": "lenient"} if switch else {}, wide)):
        limit = next(one for one in limit_sets([piece], settings)[0].limits if one.variable == name and not one.when)
        assert limit.allowed.admits(Interval(Decimal(ends[0]), Decimal(ends[1])))
        assert not limit.allowed.admits(Decimal(ends[0]) - STEP)
        assert not limit.allowed.admits(Decimal(ends[1]) + STEP)


def test_a_line_with_the_makers_whole_range_is_too_wide() -> None:
    assert ask("GMAW fillet", "current=225..275").outcome.value == "covered"
    assert fails("GMAW fillet", "current=200..300", "current")


def test_preheat_of_the_limits_is_that_of_the_function() -> None:
    for steel in ("A36", "A992", "A572-65", "A913-65", "A710 Gr A Cl 2"):
        for t in ("19.05", "19.06", "38.1", "50.8", "50.9", "63.5", "64"):
            pair = SteelPair(Steel(grade=steel), Steel(grade=steel))
            least = minimum_preheat(pair, Decimal(t), "136", True, "us").least
            assert least is not None
            text = f"steels={steel} / {steel}; parent_t={t}; preheat="
            assert not fails("FCAW groove", f"{text}{least}", "preheat")
            assert fails("FCAW groove", f"{text}{least - STEP}", "preheat")


def test_every_listed_steel_stands_in_one_entry_and_the_category_lists_name_only_listed_steels() -> None:
    known = {entry.rows[0].specification for entry in entries()}
    for lists in (A, B, C, D):
        assert set(lists) <= known
    for entry in entries():
        assert len(entry.groups) <= 2, entry
        assert entry.groups[0] in ("I", "II", "III", "IV", BY_TEST)


@pytest.mark.parametrize(
    ("written", "name"),
    [("ASTM A572 Gr. 50", "A572 50"), ("A572-50", "A572 50"), ("a709 grade 50w", "A709 50W"), ("A588 Gr B", "A588"),
     ("A537 Class 1", "A537 Cl 1"), ("A500 Gr B round", "A500 B"), ("A572 Gr 50+N", "A572 50"),
     ("API 5L Gr B", "API 5L B"),
     ("A36", "A36"), ("A514 Gr F", "A514"), ("S355J2", None), ("A36 Gr B", None), ("", None)],
)  # fmt: skip
def test_steels_as_people_write_them(written: str, name: str | None) -> None:
    found = entry_of(Steel(grade=written))
    assert (found.name if found else None) == name


@pytest.mark.parametrize("text", ["E7018", "e7018-1 h4r", "ER70S-6", "E70C-6M", "E81T1-Ni1C", "F7A2-EM12K"])
def test_classifications_that_are_known(text: str) -> None:
    assert classify(text) is not None


@pytest.mark.parametrize("text", ["", "E4918", "G 42 4 M21", "E65T-1", "7018", "ER70"])
def test_designations_that_are_not(text: str) -> None:
    assert classify(text) is None


def test_both_editions_are_found_and_are_no_procedure_tests() -> None:
    assert {edition(one.key).key for one in EDITIONS} == {one.key for one in editions_of("prequalified")}
    assert not {one.key for one in EDITIONS} & {one.key for one in editions_of("procedure")}


def test_the_other_set_of_figures_is_not_compared() -> None:
    piece = values(BASES["SMAW groove"])
    for system in ({"unit_system": "si"}, {"unit_system": ""}):
        verdict = best(values(BASES["SMAW groove"] | system | {"parent_t": 999}), limit_sets([piece], {}))
        assert verdict.outcome.value == "not stated"
        assert "unit_system" in verdict.reasons
