"""ASME IX: when two records earn something together, case by case: each condition met, and one missing."""

from collections.abc import Mapping

import pytest

from codes.asme_ix_2021 import combine
from codes.asme_ix_2021.switches import TWO_GROUPS
from tests.codes.asme_ix_cases import made, record_of

ROOT = "process=141; parent_t=13; deposit_t=5"
FILL = "process=111; parent_t=40; deposit_t=40"
FULL = "process=111; impact_tested=yes; parent_t=25; deposit_t=25"
THIN = "process=111; impact_tested=yes; toughness_only=yes; parent_t=8; deposit_t=8"
ONE = "process=111; impact_tested=yes; steels=P-1 Gr 1"
TWO = "process=111; impact_tested=yes; steels=P-1 Gr 2"
UNLIKE = {TWO_GROUPS.key: "lenient"}


def earned(*records: str, settings: Mapping[str, str] = UNLIKE) -> list[str]:
    """What the records earn together, in the words of its label."""
    bases = {"141": "GTAW", "111": "SMAW", "136": "FCAW", "135": "GMAW"}
    found = [record_of(made(text, base=bases[text.split("=")[1][:3]])) for text in records]
    words = ("root with the base thickness of", "extended by", "with the group of")
    return [next(one for one in words if one in limits.label) for limits in combine(2021, found, settings)]


@pytest.mark.parametrize(
    ("records", "together"),
    [
        ((ROOT, FILL), ["root with the base thickness of"]),
        ((FILL, ROOT), ["root with the base thickness of"]),
        # The root's coupon is too thin, or no thinner than that of the fill.
        ((ROOT.replace("13", "12.9"), FILL), []),
        ((ROOT.replace("13", "40"), FILL), []),
        ((ROOT.replace("13", "39.9"), FILL), ["root with the base thickness of"]),
        ((ROOT.replace("13", ""), FILL), []),
        ((ROOT, FILL.replace("parent_t=40", "parent_t=")), []),
        # Root and fill of one process; a root by FCAW, which the paragraph does not name; fillets; other units.
        ((FILL.replace("40", "13"), FILL), []),
        (("process=136; parent_t=13; deposit_t=5", FILL), []),
        ((ROOT, FILL + "; weld_type=fillet; joint_type=tee"), []),
        ((ROOT, FILL + "; unit_system=us"), []),
        ((ROOT + "; toughness_only=yes; impact_tested=yes", FILL), []),
    ],
)
def test_root_layers_by_their_own_record(records: tuple[str, ...], together: list[str]) -> None:
    """QW-200.4(b), from memory: a coupon of 13 mm (1/2 in) or more lends its root to a thicker one."""
    assert earned(*records) == together


@pytest.mark.parametrize(
    ("records", "together"),
    [
        ((FULL, THIN), ["extended by"]),
        ((FULL, THIN.replace("8", "25")), []),
        ((FULL, THIN.replace("8", "24.9")), ["extended by"]),
        ((FULL, THIN.replace("parent_t=8", "parent_t=")), []),
        ((FULL, THIN.replace("impact_tested=yes; ", "impact_tested=; ")), []),
        ((FULL, THIN.replace("toughness_only=yes", "toughness_only=no")), []),
        ((FULL, THIN.replace("impact_tested=yes", "impact_tested=no")), []),
        ((FULL, THIN.replace("process=111", "process=141")), []),
        ((FULL + "; pwht=yes; pwht_condition=above", THIN), []),
    ],
)
def test_a_coupon_for_toughness_only(records: tuple[str, ...], together: list[str]) -> None:
    """IX-07-09: a thinner coupon of the same process extends the low end; not of an austenitised one."""
    assert earned(*records) == together


@pytest.mark.parametrize(
    ("records", "together"),
    [
        ((ONE, TWO), ["with the group of"]),
        ((ONE, ONE), []),
        ((ONE, TWO.replace("impact_tested=yes", "impact_tested=no")), []),
        ((ONE.replace("impact_tested=yes", "impact_tested=no"), TWO), []),
        ((ONE, TWO.replace("P-1 Gr 2", "P-3 Gr 3")), []),
        ((ONE, TWO.replace("process=111", "process=141")), []),
        ((ONE, TWO.replace("P-1 Gr 2", "P-1")), []),
    ],
)
def test_two_groups_of_one_p_number(records: tuple[str, ...], together: list[str]) -> None:
    """QW-403.5: coupons alike but for their groups, both tested for toughness, cover the mixed pair."""
    assert earned(*records) == together
    assert earned(*records, settings={}) == together


@pytest.mark.parametrize(
    ("unlike", "alike"),
    [
        # Essential: thickness, preheat either way, F-number and A-number; are no change (QW-404.5).
        ("parent_t=12.1; deposit_t=12", False),
        ("parent_t=12; deposit_t=12.1", False),
        ("preheat=19.9", False),
        ("preheat=20.1", False),
        ("f_number=F3; filler_designation=E6010", False),
        ("a_number=A2", True),
        ("a_number=A3", False),
        # Supplementary: heat input either way, interpass, classification, runs; one that only one record states.
        ("heat_input=1.49", False),
        ("heat_input=1.51", False),
        ("heat_input=", False),
        ("interpass=151", False),
        ("filler_designation=E7016", False),
        ("run_type=single_run", False),
        # Electrodes up to 6 mm are one (QW-404.7); over it they are not.
        ("filler_diameter=6", True),
        ("filler_diameter=6.1", False),
        # Nonessential, and what the construction code sets.
        ("position=PF", True),
        ("impact_temperature=-40", True),
    ],
)
def test_records_of_two_groups_are_alike_in_every_variable_that_binds(unlike: str, alike: bool) -> None:
    """QW-403.5: the same in all other essential and supplementary essential variables (strict), or not (lenient)."""
    mixed = ["with the group of"]
    assert earned(ONE, f"{TWO}; {unlike}", settings={}) == (mixed if alike else [])
    assert earned(f"{ONE}; {unlike}", TWO, settings={}) == (mixed if alike else [])
    assert earned(f"{ONE}; {unlike}", f"{TWO}; {unlike}", settings={}) == mixed
    assert earned(ONE, f"{TWO}; {unlike}") == mixed
