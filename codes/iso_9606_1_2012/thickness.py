"""ISO 9606-1:2012, 5.7: thicknesses that a test covers. Tables 1 and 6 (butt, deposited s), Table 8 (fillet, t)."""

from decimal import Decimal as D

from codes.clauses import Clause
from codes.editions import Tested
from codes.iso_9606_1_2012.clauses import HANDOUT, clause, confirmed, doubtful, partly, weakest
from codes.iso_9606_1_2012.sizes import Bound, SizeRow, derivation, row_for
from codes.iso_9606_1_2012.tested import figure, figures, term
from codes.limits import Limit, Unrecorded, Within
from codes.values import Interval, number

T6, T8 = "5.7, Table 6", "5.7, Table 8"
TABLE_1 = clause("5.7, Table 1")
BELOW_3 = Interval(D(0), D(3), "mm", lo_open=True, hi_open=True)
FROM_3_BELOW_12 = Interval(D(3), D(12), "mm", hi_open=True)
FROM_3 = Interval(D(3), None, "mm")
FROM_12 = Interval(D(12), None, "mm")

# Table 6. Not entered: nothing. Nominal sizes as written on the record; no rounding.
BUTT_ROWS = (
    SizeRow(BELOW_3, Bound(times=D(1)), Bound(D(2), D(3)), "s to 2 s, or to 3 mm if that is more", clause(T6)),
    SizeRow(FROM_3_BELOW_12, Bound(fixed=D(3)), Bound(D(2)), "3 mm to 2 s", clause(T6)),
    SizeRow(
        FROM_12, Bound(fixed=D(3)), None, "from 3 mm, no upper limit (3 layers or more)", partly(T6, HANDOUT), layers=3
    ),
    SizeRow(FROM_12, Bound(fixed=D(3)), Bound(D(2)), "3 mm to 2 s, as 3 layers are not recorded", doubtful(T6)),
)

# Table 6, the column of oxy-acetylene welding. No row without an upper limit is assumed for thick pieces.
GAS_ROWS = (
    SizeRow(BELOW_3, Bound(times=D(1)), Bound(D("1.5")), "s to 1.5 s (process 311)", clause(T6)),
    SizeRow(FROM_3_BELOW_12, Bound(fixed=D(3)), Bound(D("1.5")), "3 mm to 1.5 s (process 311)", clause(T6)),
    SizeRow(FROM_12, Bound(fixed=D(3)), Bound(D("1.5")), "3 mm to 1.5 s (process 311)", doubtful(T6)),
)

FILLET_ROWS = (
    SizeRow(BELOW_3, Bound(times=D(1)), Bound(D(2), D(3)), "t to 2 t, or to 3 mm if that is more", clause(T8)),
    SizeRow(FROM_3, Bound(fixed=D(3)), None, "from 3 mm, no upper limit", confirmed(T8, HANDOUT)),
)


def deposit_limit(piece: Tested) -> Limit:
    """Deposited thickness of a butt weld. Example: s = 8 gives 3 to 16; 16 is in, 16.1 is out."""
    return _butt_limit("deposit_t", piece, figure(piece, "deposit_t"), figure(piece, "layers"))


def joint_deposit_limit(piece: Tested, total: D | None, layers: D | None) -> Limit:
    """Deposited thickness of all processes of a joint together (Table 1). `total`: s1 + s2 of the test.

    Example: 4 + 8 mm in four layers gives 3 mm and more.
    """
    return _butt_limit("joint_deposit_t", piece, total, layers, TABLE_1)


def _butt_limit(variable: str, piece: Tested, s: D | None, layers: D | None, where: Clause | None = None) -> Limit:
    rows = GAS_ROWS if term(piece, "process") == "311" else BUTT_ROWS
    row = row_for(rows, s, layers) if s is not None else None
    if s is None or row is None:
        missing = Unrecorded("the deposited thickness s of each process")
        return Limit(variable, missing, where or clause(T6), reason="thickness_s")
    because = derivation("s" if where is None else "s1 + s2", s, row)
    return Limit(variable, row.range(s), where or row.clause, because, reason="thickness_s", tested=f"{number(s)} mm")


def fillet_limit(piece: Tested, source: str = "parent_t") -> Limit:
    """Material thickness of both parts of a fillet weld; the throat is no range variable.

    `source`: the variable that states the tested t. Where both parts of the test differ, both ranges must hold.
    Example: t = 10 gives 3 mm and more; t = 2 gives 2 to 4.
    """
    sizes = figures(piece, source)
    rows = [row_for(FILLET_ROWS, t) for t in sizes]
    if not sizes or any(row is None for row in rows):
        return Limit("parent_t", Unrecorded("the thickness t of the fillet test"), clause(T8), reason="thickness_t")
    found = [(t, row) for t, row in zip(sizes, rows, strict=True) if row is not None]
    common = found[0][1].range(found[0][0]).interval
    for t, row in found[1:]:
        # Every row of Table 8 holds 3 mm, so there is always a common part.
        common = common.overlap(row.range(t).interval) or common
    where = weakest(row.clause for _, row in found)
    because = "; ".join(derivation("t", t, row) for t, row in found)
    tested = " + ".join(f"{number(t)} mm" for t in sizes)
    return Limit("parent_t", Within(common), where, because, reason="thickness_t", tested=tested)
