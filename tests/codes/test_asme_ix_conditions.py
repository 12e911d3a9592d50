"""ASME IX: the conditions that decide which limit is drawn, each asked on both sides and at its edge."""

from decimal import Decimal as D

import pytest

from codes.asme_ix_2021 import combine
from codes.asme_ix_2021.classification import SameClass
from codes.asme_ix_2021.metals import Groups, covered_pairs
from codes.asme_ix_metals import a_numbers
from codes.asme_ix_people_2021.metals import p_number_limits
from codes.asme_ix_tables import f_number
from tests.codes.asme_ix_cases import made, outcome_of, record_of, sets_of
from tests.codes.test_asme_ix_people_tables import ask

COVERED = ("covered", "")
TOUGH = "impact_tested=yes"


def asked(record: str, demand: str, base: str = "SMAW", year: int = 2021) -> tuple[str, str]:
    return outcome_of(made(record, demand, base, year))


@pytest.mark.parametrize(
    ("base", "record", "demand", "expected"),
    [
        # QW-404.7 (supplementary): over 6 mm an electrode needs its own toughness test; 6 mm itself does not.
        ("SMAW", f"{TOUGH}; filler_diameter=6", "impact_required=yes; filler_diameter=6", COVERED),
        (
            "SMAW",
            f"{TOUGH}; filler_diameter=6",
            "impact_required=yes; filler_diameter=6.1",
            ("outside", "filler_diameter"),
        ),
        ("SMAW", f"{TOUGH}; filler_diameter=6.1", "impact_required=yes; filler_diameter=8", COVERED),
        # QW-404.36: recrushed slag in the test binds nothing, its absence does.
        ("SAW", "flux_recrushed=yes", "flux_recrushed=no", COVERED),
        ("SAW", "flux_recrushed=yes", "flux_recrushed=yes", COVERED),
        ("SAW", "flux_recrushed=no", "flux_recrushed=yes", ("outside", "flux_wire")),
        # QW-404.9: an A-8 deposit names the flux; others of a classified combination do not.
        ("SAW", "a_number=A8; flux_make=F", "flux_make=G", ("outside", "flux_wire")),
        ("SAW", "a_number=A8; flux_make=F", "flux_make=F", COVERED),
        ("SAW", "a_number=A1; flux_make=F", "flux_make=G", COVERED),
        # QW-409.1: volts times amperes do not serve a waveform-controlled source.
        ("GMAW", f"{TOUGH}; waveform_controlled=yes", "impact_required=yes", ("not stated", "heat_input")),
        ("GMAW", f"{TOUGH}; waveform_controlled=no", "impact_required=yes", COVERED),
        # QW-410.10: one electrode against several, each way, where toughness is required.
        ("SAW", f"{TOUGH}; wire_system=tandem", "impact_required=yes; wire_system=twin", COVERED),
        ("SAW", f"{TOUGH}; wire_system=tandem", "impact_required=yes; wire_system=single", ("outside", "electrodes")),
        ("SAW", f"{TOUGH}; wire_system=single", "impact_required=yes; wire_system=tandem", ("outside", "electrodes")),
    ],
)
def test_a_condition_on_both_sides(base: str, record: str, demand: str, expected: tuple[str, str]) -> None:
    outcome, reasons = asked(record, demand, base)
    assert outcome == expected[0] and expected[1] in reasons, (outcome, reasons)


@pytest.mark.parametrize(
    ("coupon", "joint", "outcome"),
    [
        # QW-403.9: a coupon that is no thicker than the figure can hold no thicker pass.
        ("13", "26", "covered"),
        ("13.1", "14.41", "covered"),
        ("13.1", "14.42", "not stated"),
    ],
)
def test_a_thick_pass_that_is_not_stated(coupon: str, joint: str, outcome: str) -> None:
    found, reasons = asked(f"parent_t={coupon}; max_run_t=", f"parent_t={joint}; deposit_t=10; max_run_t=5")
    assert found == outcome, reasons


@pytest.mark.parametrize(("joint", "outcome"), [("13.2", "covered"), ("13.21", "outside")])
def test_a_thick_pass_that_is_planned(joint: str, outcome: str) -> None:
    """QW-403.9: a pass over 13 mm is served to 1.1 T, that thickness included, whatever the coupon's passes were."""
    found, reasons = asked("parent_t=12; max_run_t=5", f"parent_t={joint}; deposit_t=10; max_run_t=13.1")
    assert (found, reasons) == (outcome, "" if outcome == "covered" else "pass_thickness")


@pytest.mark.parametrize(("deposit", "count"), [("5", 1), ("", 0)])
def test_a_root_needs_its_deposit_on_the_record(deposit: str, count: int) -> None:
    """QW-200.4(b): root layers of a coupon of 13 mm and more, by another process than the fill."""
    root = record_of(made(f"process=141; parent_t=13; deposit_t={deposit}", base="GTAW"))
    fill = record_of(made("process=111; parent_t=25; deposit_t=25"))
    assert len(list(combine(2021, [root, fill], {}))) == count


@pytest.mark.parametrize(
    ("tested", "lower"),
    [
        (("P15E", "P1"), ("P5B", "P1")),
        (("P8", "P15E"), ("P8", "P5B")),
    ],
)
def test_a_pair_with_p_15e_covers_that_with_p_5b(tested: tuple[str, str], lower: tuple[str, str]) -> None:
    """QW-424: P-15E to another metal covers P-5B to that metal, and not P-5B to P-15E."""
    found = covered_pairs([tested])
    assert {tested, lower} <= found
    assert ("P5B", "P15E") not in found


def test_figures_are_no_classes_and_no_metals() -> None:
    """A limit on text or on metals answers a figure with no, it does not fall over it."""
    assert not SameClass(("E7018",)).admits(D(5))
    assert not Groups(frozenset(), frozenset()).admits(D(5))
    assert SameClass(("E7018",)).admits("E7018-1") and not SameClass(("E7018-1",)).admits("E7018")


@pytest.mark.parametrize(
    ("tested", "welded", "outcome"),
    [
        # 10ХСНД and 10ХНДП of GOST 19281 (from memory) have their number in common, and no P-number.
        ("10ХСНД", "10хснд", "covered"),
        ("10ХСНД", "10ХНДП", "outside"),
        ("10ХСНД", "10", "outside"),
        # A dash is no grade, on either side.
        ("-", "?", "not stated"),
        ("10ХСНД", "-", "not stated"),
        ("-", "10ХСНД", "not stated"),
    ],
)
def test_a_metal_without_p_number_is_told_by_its_whole_name(tested: str, welded: str, outcome: str) -> None:
    """QW-403.11: an unassigned metal covers only itself."""
    found, reasons = asked(f"steels={tested}", f"steels={welded}")
    assert (found, reasons) == (outcome, "" if outcome == "covered" else "p_number")


def test_classes_in_another_script_are_told_by_their_letters() -> None:
    """QW-404.12: electrodes of other standards that have a figure in common (GOST 9467, from memory)."""
    same = SameClass(("УОНИ-13/55",))
    assert same.admits("уони 13/55") and not same.admits("ЦУ-13/55") and not same.admits("13/55")


def test_an_element_without_bounds_changes_no_a_number() -> None:
    """QW-442 bounds six elements; vanadium is none of them."""
    plain = {"C": D("0.08"), "Mn": D("1.2"), "Si": D("0.4")}
    assert a_numbers(plain | {"V": D(9)}) == a_numbers(plain)
    assert "A1" in a_numbers(plain) and "A8" not in a_numbers(plain | {"Cr": D("0.2")})


@pytest.mark.parametrize(
    ("electrode", "number"),
    [
        ("E410-16", "F4"),
        ("E410NiMo-15", "F4"),
        ("E410-26", "F1"),
        ("E309L-26", "F1"),
        ("E309L-16", "F5"),
        ("E430-17", "F4"),
    ],
)
def test_f_numbers_of_stainless_electrodes(electrode: str, number: str) -> None:
    """QW-432: ferritic and martensitic with the basic ones, coverings -26 with F-1 whatever the metal."""
    assert f_number(electrode) == number


@pytest.mark.parametrize(
    ("process", "mode", "outcome"),
    [
        ("135", "", "not stated"),
        ("135", "dip", "outside"),
        ("135", "spray", "covered"),
        ("136", "", "covered"),
    ],
)
def test_transfer_of_a_test_that_does_not_say(process: str, mode: str, outcome: str) -> None:
    """QW-409.2: GMAW has to say how it transferred; flux-cored welding counts as not short-circuiting."""
    joint = f"process={process}; transfer_mode=spray"
    found = ask(f"process={process}; transfer_mode={mode}", joint)
    told = {f.outcome.value for f in found.findings if f.variable == "transfer_mode"}
    assert (outcome in told) or (outcome == "covered" and told <= {"covered"}), [f.sentence for f in found.findings]


def test_an_unassigned_metal_is_covered_on_proof_only() -> None:
    """QW-423: what the families cover, and the unassigned metal where proof says which it is like."""
    plain, on_unassigned = p_number_limits({"p_number": ("P31", "unassigned")})
    assert plain.allowed.admits("unassigned") and not on_unassigned.allowed.admits("unassigned")
    assert on_unassigned.needs and not plain.needs


@pytest.mark.parametrize(
    ("metal", "capped"),
    [("P-1 Gr 1", True), ("P-15F", True), ("P-7 Gr 1", False), ("P-8 Gr 1", False), ("P-21", False), ("P-45", False)],
)
def test_heat_treated_above_the_transformation(metal: str, capped: bool) -> None:
    """QW-407.4: ferrous coupons but P-7, P-8 and P-45 cover 1.1 T; aluminium (P-21) and on have no such temperature."""
    treated = "pwht=yes; pwht_condition=above; pwht_temperature=900; pwht_minutes=60"
    limits = [one for found in sets_of(made(f"steels={metal}; {treated}")) for one in found.limits]
    assert any("upper transformation" in one.because for one in limits if one.variable == "parent_t") is capped
