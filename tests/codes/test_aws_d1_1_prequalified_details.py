"""AWS D1.1, prequalified: kinds of detail, fit-up and sizes at nought, cold metal, and what is no steel or filler."""

from decimal import Decimal

import pytest

from codes.aws_d1_1.fillers import Filler, classify
from codes.aws_d1_1.unit_sets import Units
from codes.aws_d1_1_2020.metals import Metals
from codes.aws_d1_1_prequalified import minimum_preheat, prequalified
from codes.aws_d1_1_prequalified.detail_rows import CJP_DETAILS, PJP_DETAILS
from codes.aws_d1_1_prequalified.filler import Listed, OfFamily
from codes.aws_d1_1_prequalified.preheat import InCategory, Welding
from codes.clauses import Mark
from codes.readings import DEFAULTS
from codes.values import Steel, SteelPair
from tests.codes.aws_cases import changes, values
from tests.codes.aws_written import BASES

D = Decimal
A36 = SteelPair(Steel(grade="A36"), Steel(grade="A36"))


def failing(base: str, text: str) -> set[str]:
    verdict = prequalified(values(BASES[base] | changes(text)), settings={})
    return {found.variable for found in verdict.findings if found.outcome.value == "outside"}


def filler(designation: str) -> Filler:
    found = classify(designation)
    assert found is not None
    return found


@pytest.mark.parametrize("detail", CJP_DETAILS + PJP_DETAILS, ids=lambda detail: detail.name)
def test_a_figure_is_of_cjp_or_of_pjp_by_its_name(detail: object) -> None:
    """5.4.1 and 5.4.2: the letter P of the designation is partial penetration, all others are complete."""
    name = detail.name  # type: ignore[attr-defined]
    own, other = ("butt_pjp", "butt_cjp") if "-P" in name else ("butt_cjp", "butt_pjp")
    assert "weld_type" not in failing("SMAW groove", f"joint_detail={name}; weld_type={own}")
    assert "weld_type" in failing("SMAW groove", f"joint_detail={name}; weld_type={other}")


@pytest.mark.parametrize(("angle", "fails"), [("0.5", True), ("59.9", True), ("60", False), ("135", False),
                                              ("135.1", True)])  # fmt: skip
def test_the_dihedral_angle_of_skewed_fillets(angle: str, fails: bool) -> None:
    """5.4.3: 60 to 135 degrees, however sharp the angle outside."""
    assert ("dihedral_angle" in failing("SMAW fillet", f"dihedral_angle={angle}")) is fails


def test_a_root_face_closed_at_fit_up_lies_within_the_tolerance() -> None:
    """5.4.1.1: the tolerance of the root face goes no lower than no face at all."""
    assert "fit_up_root_face" not in failing("SMAW groove", "fit_up_root_face=0")
    assert "fit_up_root_face" not in failing("SMAW groove", "fit_up_root_face=1/16in")
    assert "fit_up_root_face" in failing("SMAW groove", "fit_up_root_face=0.063in")


def test_a_groove_no_deeper_than_its_deduction_has_no_size() -> None:
    """Fig. 5.2, BTC-P4: E is S less 1/8 in, and nothing where S is 1/8 in or less."""
    for depth, size, fails in (("1/8in", "0.5", True), ("1/16in", "0.5", True), ("3/16in", "1/16in", False),
                               ("3/16in", "0.063in", True)):  # fmt: skip
        assert ("deposit_t" in failing("SMAW PJP", f"groove_depth={depth}; deposit_t={size}")) is fails, (depth, size)


@pytest.mark.parametrize(("metal", "least"), [("0", "0"), ("-0.1", "20")])
def test_cold_metal_is_heated_below_freezing_only(metal: str, least: str) -> None:
    """Table 5.8, note a: below 32 °F [0 °C], not at it."""
    found = minimum_preheat(A36, D(12), "111", True, "si", parent_temperature=D(metal))
    assert found.least == D(least)
    cold = failing("SMAW groove", f"unit_system=si; parent_t=12; preheat=10; base_metal_temperature={metal}")
    assert ("preheat" in cold) is (least == "20")


def test_cold_metal_is_not_named_where_the_table_asks_for_more() -> None:
    found = minimum_preheat(A36, D(100), "111", False, "si", parent_temperature=D(-5))
    assert (found.least, "below" in found.because) == (D(150), False)


def test_a_term_is_no_pair_of_steels() -> None:
    """A limit on steels admits pairs of steels and nothing else."""
    welding = Welding(True, None, Units.SI, DEFAULTS)
    for test in (
        InCategory("A", welding, D(12)),
        Listed(D(12), Units.SI),
        Metals(A36, ("I", "I"), D(12), Units.SI, False, False),
    ):
        assert test.admits(A36) or isinstance(test, InCategory)
        assert not test.admits("A36")


def test_a_filler_is_of_its_own_family_only() -> None:
    """Table 5.4 lists electrodes by process."""
    assert OfFamily("FCAW").fits(filler("E71T-1C"))
    assert not OfFamily("FCAW").fits(filler("E7018"))


@pytest.mark.parametrize(("designation", "specification", "gas"), [
    ("E7018", "A5.1", ""), ("E7018-1", "A5.1", ""), ("E7010-A1", "A5.5", ""), ("E8018-C3", "A5.5", ""),
    ("E70C-6M", "A5.18", "M"), ("E70C-6C", "A5.18", "C"), ("E80C-Ni1", "A5.28", ""), ("ER70S-6", "A5.18", "C"),
])  # fmt: skip
def test_the_specification_and_the_gas_of_a_class(designation: str, specification: str, gas: str) -> None:
    """A5.1 ends at 70 ksi and without alloy; the gas of a metal-cored class is its last letter."""
    found = filler(designation)
    assert (found.specification, found.gas) == (specification, gas)


def test_the_gas_of_metal_cored_wire_follows_its_class_and_that_of_solid_wire_its_own() -> None:
    """A5.18: classified in CO2 (C) or in argon with 20 to 25 % CO2 (M); solid wire in CO2."""
    for name, mixture, fits in (("E70C-6M", "80Ar/20CO2", True), ("E70C-6M", "CO2", False),
                                ("E70C-6C", "CO2", True), ("ER70S-6", "CO2", True)):  # fmt: skip
        given = values(BASES["GMAW groove"] | changes(f"filler_designation={name}; gas_mixture={mixture}"))
        verdict = prequalified(given, settings={})
        assert (verdict.outcome.value == "covered") is fits, (name, mixture, verdict.sentence)


def test_note_g_is_marked_from_memory_for_wires_only() -> None:
    """Table 5.1: the layers of SAW are confirmed, those of GMAW and FCAW in part."""
    for base, mark in (("FCAW groove", Mark.PART), ("SAW groove", Mark.CONFIRMED)):
        asked = prequalified(values(BASES[base] | changes("root_opening=3/4in; split_layers=no")), settings={})
        marks = {f.clause.mark for f in asked.findings if f.reason == "layer_width" and f.variable == "root_opening"}
        assert marks == {mark}, base
