"""ISO 9606-1:2012: every cell of every table against a grid written out by hand, and every edge of the size tables."""

from collections.abc import Iterable
from decimal import Decimal as D

import pytest

from codes.check import check
from codes.editions import edition
from codes.iso_9606_1_2012.detail import BACKING_ROWS, RUN_ROWS
from codes.iso_9606_1_2012.filler import COVERING_ROWS, GROUP_ROWS, WIRE_ROWS
from codes.iso_9606_1_2012.position import BUTT_ROWS as BUTT_POSITIONS
from codes.iso_9606_1_2012.position import FILLET_ROWS as FILLET_POSITIONS
from codes.iso_9606_1_2012.process import PROCESS_ROWS
from codes.iso_9606_1_2012.product import DIAMETER_ROWS
from codes.iso_9606_1_2012.sizes import SizeRow, row_for
from codes.iso_9606_1_2012.thickness import BUTT_ROWS, FILLET_ROWS, GAS_ROWS
from codes.limits import LimitSet
from codes.readings import DEFAULTS
from codes.values import Value
from codes.verdict import Outcome

CODE = edition("ISO 9606-1:2012")
BUTT: dict[str, Value] = {
    "process": "111",
    "product": "plate",
    "weld_type": "butt_cjp",
    "filler_group": "FM1",
    "filler_type": "B",
    "deposit_t": D(10),
    "layers": D(4),
    "position": "PA",
    "weld_detail": "ss_mb",
}
FILLET: dict[str, Value] = {
    "process": "111",
    "product": "plate",
    "weld_type": "fillet",
    "filler_group": "FM1",
    "filler_type": "B",
    "parent_t": D(10),
    "position": "PB",
    "run_type": "multi_run",
}
JOINT: dict[str, Value] = {"mechanisation": "manual", "rotated": "no", "root_filler_type": "B"}
PIPE: dict[str, Value] = {"product": "pipe", "diameter": D("114.3")}

TABLE_9 = """
        PA PC PE PF PG PH PJ H-L045 J-L045
PA      x  -  -  -  -  -  -  -  -
PC      x  x  -  -  -  -  -  -  -
PE      x  x  x  -  -  -  -  -  -
PF      x  -  -  x  -  -  -  -  -
PG      -  -  -  -  x  -  -  -  -
PH      x  -  x  x  -  x  -  -  -
PJ      x  -  x  -  x  -  x  -  -
H-L045  x  x  x  x  -  x  -  x  -
J-L045  x  x  x  -  x  -  x  -  x
"""
TABLE_10 = """
        PA PB PC PD PE PF PG PH PJ
PA      x  -  -  -  -  -  -  -  -
PB      x  x  -  -  -  -  -  -  -
PC      x  x  x  -  -  -  -  -  -
PD      x  x  x  x  x  -  -  -  -
PE      x  x  x  x  x  -  -  -  -
PF      x  x  -  -  -  x  -  -  -
PG      -  -  -  -  -  -  x  -  -
PH      x  x  -  x  x  x  -  x  -
PJ      x  x  -  x  x  -  x  -  x
"""
TABLE_3 = """
     FM1 FM2 FM3 FM4 FM5 FM6
FM1  x   x   -   -   -   -
FM2  x   x   -   -   -   -
FM3  x   x   x   -   -   -
FM4  x   x   x   x   -   -
FM5  -   -   -   -   x   -
FM6  -   -   -   -   x   x
"""
TABLE_4 = """
    A RA RB RC RR R B C
A   x x  x  x  x  x - -
RA  x x  x  x  x  x - -
RB  x x  x  x  x  x - -
RC  x x  x  x  x  x - -
RR  x x  x  x  x  x - -
R   x x  x  x  x  x - -
B   x x  x  x  x  x x -
C   - -  -  -  -  - - x
"""
TABLE_5 = """
   S M B R P V W Y Z
S  x x - - - - - - -
M  x x - - - - - - -
B  - - x x x x x x x
R  - - - x x x x x x
P  - - - x x x x x x
V  - - - x x x x x x
W  - - - x x x x x x
Y  - - - x x x x x x
Z  - - - x x x x x x
"""
TABLE_11 = """
       ss_nb ss_mb bs ss_gb ci ss_fb
ss_nb  x     x     x  x     -  x
ss_mb  -     x     x  -     -  -
bs     -     x     x  -     -  -
ss_gb  -     x     x  x     -  -
ci     -     x     x  -     x  -
ss_fb  -     x     x  -     -  x
"""
TABLE_12 = """
            single_run multi_run
single_run  x          -
multi_run   x          x
"""
CLAUSE_5_2 = """
     111 114 121 125 131 132 133 135 136 137 138 141 142 143 145 15 311
111  x   -   -   -   -   -   -   -   -   -   -   -   -   -   -   -  -
114  -   x   -   -   -   -   -   -   -   -   -   -   -   -   -   -  -
121  -   -   x   x   -   -   -   -   -   -   -   -   -   -   -   -  -
125  -   -   x   x   -   -   -   -   -   -   -   -   -   -   -   -  -
131  -   -   -   -   x   -   -   -   -   -   -   -   -   -   -   -  -
132  -   -   -   -   -   x   -   -   -   -   -   -   -   -   -   -  -
133  -   -   -   -   -   -   x   -   -   -   -   -   -   -   -   -  -
135  -   -   -   -   -   -   -   x   -   -   x   -   -   -   -   -  -
136  -   -   -   -   -   -   -   -   x   -   -   -   -   -   -   -  -
137  -   -   -   -   -   -   -   -   -   x   -   -   -   -   -   -  -
138  -   -   -   -   -   -   -   x   -   -   x   -   -   -   -   -  -
141  -   -   -   -   -   -   -   -   -   -   -   x   x   x   x   -  -
142  -   -   -   -   -   -   -   -   -   -   -   -   x   -   -   -  -
143  -   -   -   -   -   -   -   -   -   -   -   x   x   x   x   -  -
145  -   -   -   -   -   -   -   -   -   -   -   x   x   x   x   -  -
15   -   -   -   -   -   -   -   -   -   -   -   -   -   -   -   x  -
311  -   -   -   -   -   -   -   -   -   -   -   -   -   -   -   -  x
"""
TRANSFER = """
           dip globular spray pulsed
dip        x   x        x     x
globular   -   x        x     x
spray      -   x        x     x
pulsed     -   x        x     x
"""


def cells(grid: str) -> Iterable[tuple[str, str, bool]]:
    """(tested, asked, covered) of a grid."""
    head, *rows = [line.split() for line in grid.strip().splitlines()]
    return [(row[0], name, mark == "x") for row in rows for name, mark in zip(head, row[1:], strict=True)]


def ask(tested: dict[str, Value], variable: str, tested_value: Value, asked: Value, **joint: Value) -> Outcome:
    """The worst outcome over one variable, of a joint that otherwise equals the test."""
    [limits] = CODE.limit_sets([tested | {variable: tested_value}], DEFAULTS)
    demand = tested | JOINT | {variable: asked} | joint
    return worst(demand, limits, variable)


def worst(demand: dict[str, Value], limits: LimitSet, variable: str) -> Outcome:
    """The worst outcome over one variable."""
    found = [f.outcome for f in check(demand, limits).findings if f.variable == variable]
    return min(found, key=lambda outcome: outcome.rank)


def _pipe_or_plate(position: str) -> dict[str, Value]:
    return PIPE if position in ("PH", "PJ", "H-L045", "J-L045") else {}


@pytest.mark.parametrize(("tested", "asked", "covered"), cells(TABLE_9))
def test_table_9_butt_positions(tested: str, asked: str, covered: bool) -> None:
    found = ask(BUTT | _pipe_or_plate(tested), "position", tested, asked)
    assert found is (Outcome.COVERED if covered else Outcome.OUTSIDE)


@pytest.mark.parametrize(("tested", "asked", "covered"), cells(TABLE_10))
def test_table_10_fillet_positions(tested: str, asked: str, covered: bool) -> None:
    found = ask(FILLET | _pipe_or_plate(tested), "position", tested, asked)
    assert found is (Outcome.COVERED if covered else Outcome.OUTSIDE)


@pytest.mark.parametrize(("tested", "asked", "covered"), cells(TABLE_3))
def test_table_3_filler_groups(tested: str, asked: str, covered: bool) -> None:
    assert ask(BUTT, "filler_group", tested, asked) is (Outcome.COVERED if covered else Outcome.OUTSIDE)


@pytest.mark.parametrize(("tested", "asked", "covered"), cells(TABLE_4))
def test_table_4_coverings(tested: str, asked: str, covered: bool) -> None:
    assert ask(BUTT, "filler_type", tested, asked) is (Outcome.COVERED if covered else Outcome.OUTSIDE)


@pytest.mark.parametrize("process", ["114", "125", "136"])
@pytest.mark.parametrize(("tested", "asked", "covered"), cells(TABLE_5))
def test_table_5_wires(process: str, tested: str, asked: str, covered: bool) -> None:
    found = ask(BUTT | {"process": process}, "filler_type", tested, asked)
    assert found is (Outcome.COVERED if covered else Outcome.OUTSIDE)


@pytest.mark.parametrize(("tested", "asked", "covered"), cells(TABLE_11))
def test_table_11_backing(tested: str, asked: str, covered: bool) -> None:
    assert ask(BUTT, "weld_detail", tested, asked) is (Outcome.COVERED if covered else Outcome.OUTSIDE)


@pytest.mark.parametrize(("tested", "asked", "covered"), cells(TABLE_12))
def test_table_12_runs(tested: str, asked: str, covered: bool) -> None:
    assert ask(FILLET, "run_type", tested, asked) is (Outcome.COVERED if covered else Outcome.OUTSIDE)


@pytest.mark.parametrize(("tested", "asked", "covered"), cells(CLAUSE_5_2))
def test_5_2_processes(tested: str, asked: str, covered: bool) -> None:
    assert ask(BUTT, "process", tested, asked) is (Outcome.COVERED if covered else Outcome.OUTSIDE)


@pytest.mark.parametrize("process", ["131", "135", "136", "138"])
@pytest.mark.parametrize(("tested", "asked", "covered"), cells(TRANSFER))
def test_5_2_transfer_modes(process: str, tested: str, asked: str, covered: bool) -> None:
    found = ask(BUTT | {"process": process, "filler_type": "S"}, "transfer_mode", tested, asked)
    assert found is (Outcome.COVERED if covered else Outcome.OUTSIDE)


SIZES = [
    # Table 6: tested s, layers, lowest, highest (None: no end).
    ("deposit_t", "111", "0.5", "1", "0.5", "3"),
    ("deposit_t", "111", "1", "1", "1", "3"),
    ("deposit_t", "111", "1.5", "1", "1.5", "3"),
    ("deposit_t", "111", "2.9", "1", "2.9", "5.8"),
    ("deposit_t", "111", "3", "1", "3", "6"),
    ("deposit_t", "111", "11.9", "4", "3", "23.8"),
    ("deposit_t", "111", "12", "3", "3", None),
    ("deposit_t", "111", "12", "2", "3", "24"),
    ("deposit_t", "111", "12", None, "3", "24"),
    ("deposit_t", "111", "40", "12", "3", None),
    ("deposit_t", "311", "2", "1", "2", "3"),
    ("deposit_t", "311", "3", "1", "3", "4.5"),
    ("deposit_t", "311", "4", "1", "3", "6"),
    ("deposit_t", "311", "12", "5", "3", "18"),
    # Table 8.
    ("parent_t", "111", "1", None, "1", "3"),
    ("parent_t", "111", "2", None, "2", "4"),
    ("parent_t", "111", "2.9", None, "2.9", "5.8"),
    ("parent_t", "111", "3", None, "3", None),
    ("parent_t", "111", "10", None, "3", None),
    # Table 7.
    ("diameter", "111", "10", None, "10", "20"),
    ("diameter", "111", "25", None, "25", "50"),
    ("diameter", "111", "25.1", None, "25", None),
    ("diameter", "111", "50", None, "25", None),
    ("diameter", "111", "50.2", None, "25.1", None),
    ("diameter", "111", "88.9", None, "44.45", None),
]
STEP = D("0.01")


@pytest.mark.parametrize(("variable", "process", "tested", "layers", "lo", "hi"), SIZES)
def test_both_edges_and_one_step_outside(
    variable: str, process: str, tested: str, layers: str | None, lo: str, hi: str | None
) -> None:
    base = FILLET if variable == "parent_t" else BUTT
    base = {name: value for name, value in base.items() if name != "layers"} | {"process": process}
    base |= {"layers": D(layers)} if layers else {}
    base |= PIPE if variable == "diameter" else {}
    base |= {"torch_direction": "leftward", "filler_type": "S"} if process == "311" else {}

    def at(size: D) -> Outcome:
        return ask(base, variable, D(tested), size)

    assert at(D(lo)) is Outcome.COVERED
    assert at(D(lo) - STEP) is Outcome.OUTSIDE
    if hi is None:
        assert at(D(10000)) is Outcome.COVERED
    else:
        assert at(D(hi)) is Outcome.COVERED
        assert at(D(hi) + STEP) is Outcome.OUTSIDE


@pytest.mark.parametrize("rows", [BUTT_ROWS, GAS_ROWS, FILLET_ROWS, DIAMETER_ROWS], ids=["6", "6 gas", "8", "7"])
@pytest.mark.parametrize("layers", [None, D(1), D(3)])
def test_size_rows_leave_no_gap_and_no_overlap(rows: tuple[SizeRow, ...], layers: D | None) -> None:
    edges = {D(n) for n in ("0.01", "2.99", "3", "11.99", "12", "25", "25.01", "1000")}
    for size in edges:
        assert row_for(rows, size, layers) is not None
        # Rows without a condition on layers never overlap.
        assert sum(row.tested.holds(size) and not row.layers for row in rows) == 1
    assert row_for(rows, D(0), layers) is None


def test_term_tables_serve_every_value_once() -> None:
    for rows in (GROUP_ROWS, COVERING_ROWS, WIRE_ROWS):
        tested = [name for row in rows for name in row.tested]
        assert len(set(tested)) == len(tested)
    for single in (BUTT_POSITIONS, FILLET_POSITIONS, BACKING_ROWS, RUN_ROWS, PROCESS_ROWS):
        names = [row.tested for row in single]
        assert len(set(names)) == len(names)
        # What was tested is always covered.
        assert all(row.tested in row.covers for row in single)


def test_every_row_names_its_place_and_its_source() -> None:
    tables = (BUTT_ROWS, GAS_ROWS, FILLET_ROWS, DIAMETER_ROWS, GROUP_ROWS, COVERING_ROWS, WIRE_ROWS, BUTT_POSITIONS)
    for rows in (*tables, FILLET_POSITIONS, BACKING_ROWS, RUN_ROWS, PROCESS_ROWS):
        for row in rows:
            assert row.clause.ref.startswith("5.")
            assert row.clause.source
