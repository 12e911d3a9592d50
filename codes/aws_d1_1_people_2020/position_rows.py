"""AWS D1.1:2020, Tables 6.10 (plate tests) and 10.12 (pipe tests): the positions that a test covers, as printed."""

from dataclasses import dataclass

from codes.aws_d1_1_people_2020.clauses import TABLE_6_10_COPY, TUBULAR_COPY, confirmed, memory
from codes.aws_positions import ALL, OH, F, H, V
from codes.clauses import Clause

NONE: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class PositionRow:
    """Tested positions (all of them) and what they cover: grooves on plate and pipe, T-Y-K, fillets.

    `groove` also serves partial penetration, butt joints of pipe and of box tubing, and partial-penetration T-Y-K
    connections, as their columns are equal; `branch` is full penetration in T-Y-K connections.
    """

    tested: tuple[str, ...]
    product: str
    groove: frozenset[str]
    fillet: frozenset[str]
    branch: frozenset[str]
    clause: Clause


def _plate(tested: str, groove: frozenset[str], fillet: frozenset[str]) -> PositionRow:
    where = confirmed("Table 6.10", TABLE_6_10_COPY)
    return PositionRow(tuple(tested.split("+")), "plate", groove, fillet, NONE, where)


def _pipe(
    tested: str,
    groove: frozenset[str],
    fillet: frozenset[str],
    branch: frozenset[str] = NONE,
    seen: bool = False,
) -> PositionRow:
    where = confirmed("Table 10.12", TUBULAR_COPY) if seen else memory("Table 10.12")
    return PositionRow(tuple(tested.split("+")), "pipe", groove, fillet, branch, where)


ROWS = (
    _plate("1G", frozenset({F}), frozenset({F, H})),
    _plate("2G", frozenset({F, H}), frozenset({F, H})),
    _plate("3G", frozenset({F, H, V}), frozenset({F, H, V})),
    _plate("4G", frozenset({F, OH}), frozenset({F, H, OH})),
    _plate("3G+4G", ALL, ALL),
    _plate("1F", NONE, frozenset({F})),
    _plate("2F", NONE, frozenset({F, H})),
    _plate("3F", NONE, frozenset({F, H, V})),
    _plate("4F", NONE, frozenset({F, H, OH})),
    _plate("3F+4F", NONE, ALL),
    # 1G, 1F and one kind of 2F are welded on rotated pipe.
    _pipe("1G", frozenset({F}), frozenset({F, H})),
    _pipe("2G", frozenset({F, H}), frozenset({F, H})),
    _pipe("5G", frozenset({F, V, OH}), frozenset({F, V, OH})),
    _pipe("6G", ALL, ALL),
    _pipe("2G+5G", ALL, ALL),
    _pipe("6GR", ALL, ALL, ALL),
    _pipe("1F", NONE, frozenset({F})),
    _pipe("2F", NONE, frozenset({F, H})),
    _pipe("4F", NONE, frozenset({F, H, OH}), seen=True),
    _pipe("5F", NONE, ALL, seen=True),
)


def rows_for(tested: tuple[str, ...], product: str) -> tuple[PositionRow, ...]:
    """The rows that tested positions meet, pairs included; empty where one of them has no row for the product."""
    found = tuple(row for row in ROWS if row.product == product and set(row.tested) <= set(tested))
    met = {position for row in found for position in row.tested}
    return found if met == set(tested) else ()
