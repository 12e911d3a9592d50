"""ASME IX: rows that meet, limits of two records together, and diameters and clauses of people."""

from decimal import Decimal as D

import pytest

from codes.asme_ix_2021 import combine
from codes.asme_ix_2021.switches import TWO_GROUPS
from codes.asme_ix_2021.table_451 import LONGITUDINAL, TRANSVERSE, row_for
from codes.asme_ix_people_2021.metals import NOT_VERIFIED, backing_limits, p_number_limits
from codes.asme_ix_people_2021.sizes import smallest_diameter
from codes.check import check
from codes.unit_sets import System
from codes.verdict import Outcome
from tests.codes.asme_ix_cases import demands_of, made, record_of
from tests.codes.test_asme_ix_people_tables import ask

STEP = D("0.001")
INCH = D("25.4")


@pytest.mark.parametrize("rows", [TRANSVERSE, LONGITUDINAL])
def test_rows_meet_without_overlap_exactly_at_their_edges(rows: tuple) -> None:
    """QW-451.1 and QW-451.2: a coupon at an edge, and one step either side, has one row; nought has none."""
    for system in ("si", "us"):
        for edge in {row.end.mm(system) for row in rows if row.end}:
            for t in (edge - STEP, edge, edge + STEP):
                assert sum(row.serves(system).holds(t) for row in rows) == 1, (system, t)
        assert row_for(rows, D(0), system) is None


def test_two_groups_together_keep_the_bounds_of_both_records() -> None:
    """QW-403.5, lenient: the mixed pair of groups inside the thickness of the thinner coupon; strictly not at all."""
    common = "impact_tested=yes; process=111; "
    records = [
        record_of(made(f"{common}steels=P-1 Gr {n}; parent_t={t}; deposit_t={t}")) for n, t in ((1, 20), (2, 12))
    ]
    assert combine(2021, records, {}) == ()
    (together,) = combine(2021, records, {TWO_GROUPS.key: "lenient"})
    for t, fits in (("24", True), ("24.1", False)):
        asked = f"impact_required=yes; steels=P-1 Gr 1 / P-1 Gr 2; parent_t={t}; deposit_t=10"
        (demand,) = demands_of(made("", asked))
        verdict = check(demand, together)
        reasons = {f.reason for f in verdict.findings if f.outcome.value == "outside"}
        assert ("base_thickness" not in reasons) is fits, (t, reasons)
        assert TWO_GROUPS.used({TWO_GROUPS.key: "lenient"}) in verdict.readings


@pytest.mark.parametrize(("system", "tested", "least"), [
    ("si", "24", "24"), ("si", "25", "25"), ("si", "25.001", "25"), ("si", "73", "25"), ("si", "73.001", "73"),
    ("us", "0.999", "0.999"), ("us", "1", "1"), ("us", "1.001", "1"), ("us", "2.875", "1"), ("us", "2.876", "2.875"),
])  # fmt: skip
def test_the_smallest_diameter_covered(system: System, tested: str, least: str) -> None:
    """QW-452.3."""
    unit = INCH if system == "us" else 1
    assert smallest_diameter(D(tested) * unit, system) == D(least) * unit


def test_a_stated_p_number_is_not_said_to_be_unverified() -> None:
    """QW-423: what the record states was looked up nowhere."""
    (limit, _) = p_number_limits({"p_number": "P1"})
    assert NOT_VERIFIED not in limit.because and limit.because.endswith("P1")


def test_the_clause_of_backing_is_that_of_the_process() -> None:
    """QW-402.4 binds all processes but submerged arc, which has its own."""
    refs = {
        process: backing_limits({"process": process, "weld_detail": "ss_mb"})[0].clause for process in ("121", "111")
    }
    assert refs["121"] != refs["111"]
    assert refs["111"] == backing_limits({"process": "141", "weld_detail": "ss_mb"})[0].clause


def test_a_weld_type_says_which_test_it_was() -> None:
    """QW-303: a fillet test covers fillets, a groove test both."""
    for kind, said in (("fillet", "fillets only"), ("butt_cjp", "grooves and fillets")):
        found = ask(f"weld_type={kind}; parent_t=8", f"weld_type={kind}; leg_z=5").findings
        assert any(said in f.because for f in found if f.variable == "weld_type"), kind


@pytest.mark.parametrize(("diameter", "covered"), [
    ("609.9", "1G"), ("610", "1G"), ("610.1", "1G 3G"),
])  # fmt: skip
def test_grooves_in_large_and_small_pipe_share_the_edge_without_overlap(diameter: str, covered: str) -> None:
    """QW-461.9, 3G on plate: up to 610 mm flat only, above it vertical too; one column counts, and says which it is."""
    fits = []
    for position in ("1G", "2G", "3G", "4G"):
        found = ask("aws_position=3G", f"product=pipe; aws_position={position}; diameter={diameter}").findings
        (said,) = [f for f in found if f.variable == "aws_position"]
        column = "above" if D(diameter) > 610 else "up to"
        assert said.because.endswith(f"in grooves in pipe {column} 610 mm"), (position, said.because)
        fits += [position] if said.outcome is Outcome.COVERED else []
    assert " ".join(fits) == covered
