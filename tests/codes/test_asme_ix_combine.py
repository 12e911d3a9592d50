"""ASME IX: when two records earn something together, case by case: each condition met, and one missing."""

import pytest

from codes.asme_ix_2021 import combine
from tests.codes.asme_ix_cases import made, record_of

ROOT = "process=141; parent_t=13; deposit_t=5"
FILL = "process=111; parent_t=40; deposit_t=40"
FULL = "process=111; impact_tested=yes; parent_t=25; deposit_t=25"
THIN = "process=111; impact_tested=yes; toughness_only=yes; parent_t=8; deposit_t=8"
ONE = "process=111; impact_tested=yes; steels=P-1 Gr 1"
TWO = "process=111; impact_tested=yes; steels=P-1 Gr 2"


def earned(*records: str) -> list[str]:
    """What the records earn together, in the words of its label."""
    bases = {"141": "GTAW", "111": "SMAW", "136": "FCAW", "135": "GMAW"}
    found = [record_of(made(text, base=bases[text.split("=")[1][:3]])) for text in records]
    words = ("root with the base thickness of", "extended by", "with the group of")
    return [next(one for one in words if one in limits.label) for limits in combine(2021, found, {})]


@pytest.mark.parametrize(
    ("records", "together"),
    [
        ((ROOT, FILL), ["root with the base thickness of"]),
        ((FILL, ROOT), ["root with the base thickness of"]),
        # The root's coupon is too thin, or no thinner than that of the fill.
        ((ROOT.replace("13", "12.9"), FILL), []),
        ((ROOT.replace("13", "40"), FILL), []),
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
