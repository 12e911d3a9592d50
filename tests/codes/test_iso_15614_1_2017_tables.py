"""Tables 5, 7, 8 and 9 of ISO 15614-1:2017: edges, one step outside each, row boundaries, no gap and no overlap."""

import itertools
from collections.abc import Sequence
from decimal import Decimal as D

import pytest

from codes.iso_15614_1_2017 import limit_sets
from codes.iso_15614_1_2017.deposit import deposit_row
from codes.iso_15614_1_2017.hardness import TABLE_3
from codes.iso_15614_1_2017.rows import Row, row_for
from codes.iso_15614_1_2017.table_5 import LOWER_SUB_GROUPS, PARTNERS, SAME_SUB_GROUP, YIELD_GROUPS
from codes.iso_15614_1_2017.table_7 import (
    BUTT_LEVEL_1,
    BUTT_MULTI_RUN,
    BUTT_SINGLE_RUN,
    DEPOSIT,
    DIAMETER,
    FILLET_THICKNESS_STRICT,
    FILLET_THICKNESS_WIDE,
    LEVEL_1_IMPACT_MINIMUM,
)
from codes.parse import BadField
from codes.verdict import Outcome
from tests.codes.procedure_cases import demand_of, record_of, settings_of, verdict_of

STEP = D("0.01")

# (level, run type, tested t, lowest, highest): figures laid beside the table by hand; "" is no end, None a dash
BUTT = (
    (2, "multi_run", "3", "2.1", "6"),
    (2, "multi_run", "3.01", "3", "6.02"),
    (2, "multi_run", "12", "3", "24"),
    (2, "multi_run", "12.01", "6.005", "24.02"),
    (2, "multi_run", "20", "10", "40"),
    (2, "multi_run", "40", "20", "80"),
    (2, "multi_run", "40.01", "20.005", "80.02"),
    (2, "multi_run", "100", "50", "200"),
    (2, "multi_run", "100.01", "50", "200.02"),
    (2, "multi_run", "150", "50", "300"),
    (2, "multi_run", "160", "50", "320"),
    (2, "single_run", "2", "1.4", "2.6"),
    (2, "single_run", "3", "2.1", "3.9"),
    (2, "single_run", "3.01", "3", "3.913"),
    (2, "single_run", "6", "3", "7.8"),
    (2, "single_run", "12", "6", "15.6"),
    (2, "single_run", "12.01", "6.005", "13.211"),
    (2, "single_run", "20", "10", "22"),
    (2, "single_run", "40", "20", "44"),
    (2, "single_run", "40.01", None, None),
    (2, "single_run", "120", None, None),
    (2, "single_run", "160", None, None),
    (1, "multi_run", "3", "1.5", "6"),
    (1, "multi_run", "12", "1.5", "24"),
    (1, "multi_run", "12.01", "5", "24.02"),
    (1, "multi_run", "20", "5", "40"),
    (1, "multi_run", "40", "5", "80"),
    (1, "multi_run", "40.01", "5", "200"),
    (1, "multi_run", "100.01", "5", "200"),
    (1, "multi_run", "150", "5", "200"),
    (1, "multi_run", "150.01", "5", "199.5133"),
    (1, "multi_run", "200", "5", "266"),
)

FILLET = (
    ("lenient", "2", "1.4", "4"),
    ("lenient", "3", "2.1", "6"),
    ("lenient", "3.01", "3", "6.02"),
    ("lenient", "29.99", "3", "59.98"),
    ("lenient", "30", "5", ""),
    ("lenient", "60", "5", ""),
    ("strict", "3", "2.1", "6"),
    ("strict", "5", "3", "6"),
    ("strict", "20", "10", "24"),
    ("strict", "30", "5", ""),
)

DEPOSITS = (
    ("10", "4", "8"),
    ("20", "20", "40"),
    ("20.01", "19.99", "39.98"),
    ("40", "20", "80"),
    ("40", "19.99", "39.98"),
    ("40.01", "20", "200"),
    ("100", "19.99", "39.98"),
    ("100", "60", "200"),
    ("100.01", "20", "300"),
    ("150", "5", "10"),
    ("150.01", "19", "38"),
    ("150.01", "20", "199.5133"),
)

DIAMETERS = (("20", "10", "40"), ("25", "12.5", "50"), ("25.01", "25", ""), ("50", "25", ""), ("88.9", "44.45", ""))


def answers(row: dict[str, str], variable: str, sizes: Sequence[D]) -> list[Outcome]:
    return [verdict_of(row | {"demand": f"{row['demand']}; {variable}={size}"}).outcome for size in sizes]


def edges(row: dict[str, str], variable: str, lo: str, hi: str) -> None:
    if lo:
        assert answers(row, variable, [D(lo), D(lo) - STEP]) == [Outcome.COVERED, Outcome.OUTSIDE]
    if hi:
        assert answers(row, variable, [D(hi), D(hi) + STEP]) == [Outcome.COVERED, Outcome.OUTSIDE]
    else:
        assert answers(row, variable, [D(9999)]) == [Outcome.COVERED]


def row(base: str, record: str, settings: str = "", demand: str = "") -> dict[str, str]:
    return {"base": base, "record": record, "demand": demand, "settings": settings}


@pytest.mark.parametrize(("level", "run", "t", "lo", "hi"), BUTT)
def test_table_7(level: int, run: str, t: str, lo: str | None, hi: str | None) -> None:
    asked = row("butt 135", f"level={level}; run_type={run}; parent_t={t}")
    if lo is None or hi is None:
        assert answers(asked, "parent_t", [D(t), D(t) / 2]) == [Outcome.OUTSIDE, Outcome.OUTSIDE]
        return
    edges(asked, "parent_t", lo, hi)


@pytest.mark.parametrize(("reading", "t", "lo", "hi"), FILLET)
def test_table_8_parts(reading: str, t: str, lo: str, hi: str) -> None:
    edges(row("fillet 135", f"parent_t={t}", f"fillet thickness={reading}"), "parent_t", lo, hi)


@pytest.mark.parametrize(("a", "lo", "hi"), [("5", "3.75", "7.5"), ("10", "7.5", "15")])
def test_table_8_throat(a: str, lo: str, hi: str) -> None:
    edges(row("fillet 135", f"run_type=single_run; throat_a={a}"), "throat_a", lo, hi)
    edges(row("fillet 135", f"run_type=multi_run; throat_a={a}"), "throat_a", "", "")
    edges(row("fillet 135", f"run_type=single_run; throat_a={a}; level=1"), "throat_a", "", "")


@pytest.mark.parametrize(("t", "s", "hi"), DEPOSITS)
def test_deposited_thickness(t: str, s: str, hi: str) -> None:
    record = (
        f"process=135; place=fill; deposit_t={s}; parent_t={t} || process=141; place=root; deposit_t=3; parent_t={t}"
    )
    assert answers(row("butt 135", record), "deposit_t", [D(hi), D(hi) + STEP]) == [Outcome.COVERED, Outcome.OUTSIDE]


@pytest.mark.parametrize(("d", "lo", "hi"), DIAMETERS)
def test_table_9(d: str, lo: str, hi: str) -> None:
    edges(row("butt 135", f"product=pipe; diameter={d}"), "diameter", lo, hi)


TABLES = {
    "level 1": BUTT_LEVEL_1,
    "single run": BUTT_SINGLE_RUN,
    "multi run": BUTT_MULTI_RUN,
    "fillet": FILLET_THICKNESS_WIDE,
    "fillet, strict": FILLET_THICKNESS_STRICT,
    "diameter": DIAMETER,
    "impact minimum": LEVEL_1_IMPACT_MINIMUM,
}


@pytest.mark.parametrize("name", TABLES)
def test_rows_leave_no_gap_and_no_overlap(name: str) -> None:
    rows: tuple[Row, ...] = TABLES[name]
    assert (rows[0].serves.lo, rows[0].serves.lo_open, rows[-1].serves.hi) == (D(0), True, None)
    for one, after in itertools.pairwise(rows):
        assert one.serves.hi == after.serves.lo
        assert one.serves.hi_open is not after.serves.lo_open


@pytest.mark.parametrize(
    "t", [D("0.1"), *(D(edge) + off for edge in (20, 40, 100, 150) for off in (-STEP, D(0), STEP))]
)
@pytest.mark.parametrize("s", [D("0.1"), D("19.99"), D(20), D("20.01"), D(500)])
def test_exactly_one_deposit_row_serves(t: D, s: D) -> None:
    assert sum(one.serves_t.holds(t) and one.serves_s.holds(s) for one in DEPOSIT) == 1


def test_no_size_of_nought() -> None:
    with pytest.raises(BadField, match="above 0"):
        row_for(BUTT_MULTI_RUN, D(0), "parent_t")
    with pytest.raises(BadField, match="above 0"):
        deposit_row(D(10), D(0))


def test_table_5_is_whole() -> None:
    """Each pair covers itself, never a higher group than tested; every group has one of the notes."""
    for tested, covered in PARTNERS.items():
        assert covered[0] == tested
        assert all(max(pair) <= max(tested) and min(pair) <= max(tested) for pair in covered)
        assert len(set(covered)) == len(covered)
    groups = {group for pair in PARTNERS for group in pair}
    notes = (*YIELD_GROUPS, *LOWER_SUB_GROUPS, *SAME_SUB_GROUP)
    assert groups == set(range(1, 12))
    assert sorted(notes) == sorted(groups)


@pytest.mark.parametrize("tested", PARTNERS)
def test_table_5_covers_its_pairs_in_either_order_and_no_other(tested: tuple[int, int]) -> None:
    for one in range(1, 12):
        for other in range(1, one + 1):
            record = f"steels={tested[0]}.1 300 / {tested[1]}.1 300"
            found = {
                verdict_of(row("butt 135", record, demand=f"steels={a}.1 300 / {b}.1 300")).outcome
                for a, b in ((one, other), (other, one))
            }
            assert found == {Outcome.COVERED if (one, other) in PARTNERS[tested] else Outcome.OUTSIDE}


def test_hardness_rows_name_each_group_once() -> None:
    groups = [group for one in TABLE_3 for group in one.groups]
    assert len(set(groups)) == len(groups)


def test_a_switch_says_which_reading_was_used() -> None:
    asked = row("butt 135", "", "CO2 content=lenient")
    (limits,) = limit_sets(record_of(asked), settings_of(asked))
    verdict = verdict_of(asked)
    assert any("20 % of the tested content" in text for text in verdict.readings)
    assert any("preheat and interpass (ISO 15614-1:2017, 8.4.8 and 8.4.9): strict" in text for text in verdict.readings)
    assert limits.standard == "ISO 15614-1:2017"
    assert demand_of(asked)["gas_co2"] == D(18)
