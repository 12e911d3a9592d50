"""Sizes that cannot be, tolerances that end at nought, and the numbered families of ASME IX, each in full."""

from collections.abc import Callable
from decimal import Decimal as D

import pytest

from codes import asme_ix_2021
from codes.asme_ix_2021.gas import SPECIAL
from codes.asme_ix_2021.piece import pieces_of
from codes.asme_ix_2021.thickness import THICKER_FREE, coupon_t
from codes.asme_ix_2021.treatment import FIVE_CONDITIONS
from codes.asme_ix_people_2021.metals import F_ROWS, FAMILIES, GAS_BOUND
from codes.aws_d1_1.piece import units_of
from codes.aws_d1_1_2020.heat import conventional, from_energy, from_power
from codes.aws_d1_1_look_ups import end_loaded_length, leg_with_gap, minimum_fillet, skewed_throat, z_loss
from codes.aws_d1_1_prequalified import limit_sets, minimum_preheat
from codes.check import best
from codes.editions import edition
from codes.en_1090_2_2018 import coordinator_level_needed, hold_hours, tack_minimum_length
from codes.iso_9606_1_2012.thickness import BUTT_ROWS, FILLET_ROWS, GAS_ROWS
from codes.iso_15614_1_2017.rows import Bound, Row
from codes.iso_15614_1_2017.steels import GroupPairs
from codes.limits import Limit, Within
from codes.parse import BadField, parse_values
from codes.steels import UnknownGrade, grade_of, steel_of
from codes.terms import tokens
from codes.values import Interval, Steel, SteelPair
from tests.codes import procedure_cases
from tests.codes.asme_ix_cases import made
from tests.codes.asme_ix_cases import record_of as record_of_asme
from tests.codes.aws_cases import changes, record_of, values
from tests.codes.aws_written import BASES
from tests.codes.test_aws_d1_1_edges import CODE

S355 = Steel("1.2", D(355))
A36 = SteelPair(Steel(grade="A36"), Steel(grade="A36"))
SIZES: dict[str, Callable[[D], object]] = {
    "EN 1090-2, coordinator": lambda t: coordinator_level_needed("EXC2", S355, t),
    "EN 1090-2, tack": tack_minimum_length,
    "EN 1090-2, hold: size": lambda t: hold_hours(t, D(1), D(355)),
    "EN 1090-2, hold: heat": lambda t: hold_hours(D(6), t, D(355)),
    "EN 1090-2, hold: yield": lambda t: hold_hours(D(6), D(1), t),
    "D1.1, speed of power": lambda t: from_power(D(5000), t),
    "D1.1, speed": lambda t: conventional(D(28), D(250), t),
    "D1.1, length": lambda t: from_energy(D(500), t),
    "D1.1, preheat": lambda t: minimum_preheat(A36, t, "111", True, "us"),
    "D1.1, fillet": lambda t: minimum_fillet((t, t), "us", low_hydrogen=True),
    "D1.1, length of a fillet": lambda t: end_loaded_length(t, D(6)),
    "D1.1, throat": lambda t: skewed_throat(t, D(90), "us"),
    "D1.1, dihedral angle": lambda t: z_loss(t, "SMAW", "F", "us"),
    "ASME IX, coupon": lambda t: coupon_t(
        pieces_of([parse_values({"process": "111", "parent_t": str(t)})], 2021, {})[0]
    ),
    "ASME IX, deposit": lambda t: asme_ix_2021.limit_sets(2021, record_of_asme(made(f"deposit_t={t}")), {}),
    "a grade by its thickness": lambda t: steel_of("S355J2", t, by_band=True),
}


@pytest.mark.parametrize("of", SIZES)
def test_a_size_is_more_than_nought(of: str) -> None:
    """A size of nought is a slip of the pen and refused in words; half a millimetre is a size."""
    assert SIZES[of](D("0.5")) is not None
    for wrong in (D(0), D("-0.5")):
        with pytest.raises(ValueError, match=r"must|more than|above|thicker"):
            SIZES[of](wrong)


def test_a_gap_may_be_nought_and_not_less() -> None:
    """D1.1:2020, 7.21.1: a gap of nought, and a small one, adds nothing to the leg."""
    for gap in ("0", "0.5"):
        assert leg_with_gap(D(8), D(gap), "us").value == D(8)
    with pytest.raises(ValueError, match="gap"):
        leg_with_gap(D(8), D("-0.1"), "us")


@pytest.mark.parametrize(
    ("length", "said"), [("800", "whole"), ("800.1", "factor"), ("2400", "factor"), ("2400.1", "180")]
)
def test_what_is_said_of_a_long_fillet_at_its_edges(length: str, said: str) -> None:
    """D1.1:2020, 4.4.2.3 (from memory): whole to 100 legs, reduced to 300, then 180 legs."""
    assert said in end_loaded_length(D(length), D(8)).because


def lowest(base: str, record: str, name: str) -> D | None:
    (limits,) = CODE.limit_sets(record_of(base, record), {})
    found: list[Limit] = [one for one in limits.limits if one.variable == name]
    (allowed,) = {one.allowed for one in found if isinstance(one.allowed, Within)}
    return allowed.interval.lo


@pytest.mark.parametrize(
    ("base", "record", "name"),
    [
        ("SAW", "electrode_angle_along=2", "electrode_angle_along"),
        ("SAW", "electrode_angle_across=4", "electrode_angle_across"),
        ("SAW", "electrodes=2; electrode_angle_between=9", "electrode_angle_between"),
        ("SAW", "electrodes=2; arc_spacing_along=2", "arc_spacing_along"),
        ("SAW", "electrodes=2; arc_spacing_across=3.1", "arc_spacing_across"),
        ("GMAW", "root_opening=1", "root_opening"),
        ("GMAW", "groove_angle=4", "groove_angle"),
        ("GTAW", "filler_diameter=1.2", "filler_diameter"),
    ],
)
def test_a_tolerance_ends_at_nought(base: str, record: str, name: str) -> None:
    """D1.1, Table 6.5, lines 10, 22 to 26 and 33: a tolerance larger than the tested figure leaves nought."""
    assert lowest(base, record, name) == 0


def test_a_written_tolerance_ends_at_nought_too() -> None:
    """D1.1, Table 5.2 of written variables, for the same lines."""
    text = "electrode_angle_along=2; electrode_angle_across=4; electrode_angle_between=9; arc_spacing_along=2"
    (limits, *_) = limit_sets([values(BASES["SAW groove"] | changes(text))], {})
    found = {one.variable: one.allowed.interval.lo for one in limits.limits if isinstance(one.allowed, Within)}
    for name in ("electrode_angle_along", "electrode_angle_across", "electrode_angle_between", "arc_spacing_along"):
        assert found[name] == 0, name


@pytest.mark.parametrize(
    ("base", "text", "name", "outside"),
    [
        # Root opening and root face at fit-up, of a figure that prints nought: nought fits.
        ("SAW groove", "fit_up_root_opening=0", "fit_up_root_opening", False),
        ("SMAW PJP", "fit_up_root_opening=0", "fit_up_root_opening", False),
        ("SMAW groove", "fit_up_root_face=0", "fit_up_root_face", False),
        # E is S less 1/8 in: a groove of 1/16 in gives no size at all.
        ("SMAW PJP", "groove_depth=1/16in; deposit_t=0.5", "deposit_t", True),
        ("SMAW PJP", "groove_depth=7/16in; deposit_t=5/16in", "deposit_t", False),
        ("SMAW PJP", "groove_depth=7/16in; deposit_t=0.313in", "deposit_t", True),
    ],
)
def test_details_at_fit_up_and_shallow_grooves_end_at_nought(base: str, text: str, name: str, outside: bool) -> None:
    """D1.1:2020, 5.4.1.8 (from memory) and Figs 5.1 and 5.2."""
    written = values(BASES[base] | changes(text))
    found = {f.outcome.value for f in best(written, limit_sets([written], {})).findings if f.variable == name}
    assert ("outside" in found) is outside and found, found


@pytest.mark.parametrize(("electrodes", "asks"), [("", False), ("1", False), ("2", True), ("3", True)])
def test_spacing_is_asked_of_several_electrodes(electrodes: str, asks: bool) -> None:
    """D1.1, Table 6.5, lines 22 to 24."""
    (limits,) = CODE.limit_sets(record_of("SAW", f"electrodes={electrodes}"), {})
    names = {"arc_spacing_along", "arc_spacing_across", "electrode_angle_between"}
    assert ({one.variable for one in limits.limits} & names) == (names if asks else set())


def numbered(prefix: str, text: str) -> set[str]:
    """The members of a list in print. Example: numbered("P", "1 5A 21-23") is P1, P5A, P21, P22 and P23."""
    found: set[str] = set()
    for part in text.split():
        lo, _, hi = part.partition("-")
        found |= {f"{prefix}{n}" for n in range(int(lo), int(hi) + 1)} if hi else {f"{prefix}{part}"}
    return found


NICKEL, TITANIUM = "41-49", "51-53 61-62"
TEN_ELEVEN = "10A 10B 10C 10F 10G 10H 10I 10J 10K 11A 11B"
STEELS = f"1 3 4 5A 5B 5C 6 7 8 9A 9B 9C {TEN_ELEVEN} 15E 15F"


def test_the_numbers_of_metals_fillers_and_deposits() -> None:
    """QW-420, QW-432 and QW-442 (from memory): what a record may state."""
    assert set(tokens("p_number")) - {"unassigned"} == numbered("P", f"{STEELS} 21-26 31-35 {NICKEL} {TITANIUM}")
    assert set(tokens("f_number")) == numbered("F", "1-6 21-26 31-37 41-46 51-56 61 71-72")
    assert set(tokens("a_number")) - {"none"} == numbered("A", "1-12")


def test_families_of_metals_that_cover_each_other() -> None:
    """QW-423.1: steel and nickel with P-34, aluminium, titanium and zirconium, copper each for itself."""
    printed = [f"{STEELS} 34 {NICKEL}", "21-26", TITANIUM, "31-33 35"]
    assert [set(family.members) for family in FAMILIES] == [numbered("P", text) for text in printed]
    assert [family.alone for family in FAMILIES] == [False, False, False, True]
    assert set(GAS_BOUND) == numbered("P", f"10I {TITANIUM}")


def test_families_of_fillers_that_cover_each_other() -> None:
    """QW-433."""
    printed = ["6", "21-26", "31", "32", "33", "35", "36", "37", "34 41-46", "51-56", "61", "71", "72"]
    assert [set(row.tested) for row in F_ROWS[5:]] == [numbered("F", text) for text in printed]
    assert [(row.tested, row.backed, row.open) for row in F_ROWS[:5]] == [
        (("F1",), ("F1",), ("F1",)),
        (("F2",), ("F1", "F2"), ("F2",)),
        (("F3",), ("F1", "F2", "F3"), ("F3",)),
        (("F4",), ("F1", "F2", "F3", "F4"), ("F4",)),
        (("F5",), ("F1", "F5"), ("F5",)),
    ]


def test_metals_with_rules_of_their_own() -> None:
    """QW-202.4(b), QW-407.1 and QW-408.9."""
    assert set(THICKER_FREE) == numbered("P", "8 41-46 49 51 52 53 61 62")
    assert set(FIVE_CONDITIONS) - numbered("P", "2") == numbered("P", STEELS) - {"P7", "P8"}
    assert set(SPECIAL) & set(tokens("p_number")) == numbered("P", f"10I 10J 10K {NICKEL}")


def test_small_test_pieces_of_welders() -> None:
    """ISO 9606-1:2012, Tables 6 and 8: half a millimetre is covered from itself on."""
    for rows, words in ((BUTT_ROWS, "0.5 to 3 mm"), (GAS_ROWS, "0.5 to 0.75 mm"), (FILLET_ROWS, "0.5 to 3 mm")):
        assert str(rows[0].range(D("0.5"))) == words
        assert rows[0].tested.holds(D("0.5")) and not rows[0].tested.holds(D(0)) and not rows[0].tested.holds(D(3))


def test_small_test_pieces_of_procedures() -> None:
    """ISO 15614-1:2017: a bound has no floor of its own where the table prints none."""
    row = Row(Interval(D(0), D(3), "mm", lo_open=True), Bound(D("0.7")), Bound(D(2)))
    assert str(row.at(D("0.5"))) == "0.35 to 1 mm"


def test_a_tested_steel_without_group_covers_no_group() -> None:
    """ISO 15614-1:2017, Table 5."""
    for group in ("1.1", "1.2", "2.1", "8.1"):
        assert not GroupPairs(SteelPair(Steel("", D(355)), Steel("", D(355)))).admits(
            SteelPair(Steel(group, D(235)), Steel(group, D(235)))
        )


def test_bands_start_above_nought_and_names_near_are_five() -> None:
    """EN 10025-2, Table 7: the first band goes up to 16 mm."""
    first = grade_of("S355J2").bands[0].thickness
    assert [first.holds(D(t)) for t in ("0", "0.5", "16", "16.1")] == [False, True, True, False]
    with pytest.raises(UnknownGrade) as refused:
        steel_of("S355XX")
    assert str(refused.value).partition("nearest: ")[2].count(", ") == 4


def test_what_a_record_states_once_it_may_not_state_twice() -> None:
    """One set of figures, one filler diameter an entry (D1.1), one pair of steels a test piece (ISO 15614-1)."""
    with pytest.raises(BadField, match="us or si"):
        units_of(parse_values({"unit_system": ["us", "si"]}))
    with pytest.raises(BadField, match="one entry"):
        CODE.limit_sets(record_of("GMAW", "filler_diameter=0.045in|0.052in"), {})
    pairs = {"base": "butt 135", "record": "steels=1.1 235 / 1.1 235|1.2 355 / 1.2 355"}
    with pytest.raises(BadField, match="one pair"):
        edition("ISO 15614-1:2017").limit_sets(procedure_cases.record_of(pairs), {})
