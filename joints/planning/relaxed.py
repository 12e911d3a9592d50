"""The same set cover by HiGHS, an optional extra (requirements-optimise.txt)."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

SECONDS = 20.0
"""Time before HiGHS returns the best it has, with its bound."""


@dataclass(frozen=True, slots=True)
class Solved:
    """The chosen columns and the proven lower bound of their number."""

    chosen: tuple[int, ...]
    bound: int


def highs(columns: Sequence[int], rows: int, seconds: float = SECONDS) -> Solved | None:
    """The cover by HiGHS, or None where it is not installed or found none in time. The answer is checked here."""
    try:
        import highspy
    except ImportError:
        return None
    model = highspy.Highs()
    model.setOptionValue("output_flag", False)
    model.setOptionValue("time_limit", seconds)
    chosen = [model.addBinary() for _ in columns]
    while rows:
        bit = rows & -rows
        model.addConstr(sum(x for x, column in zip(chosen, columns, strict=True) if column & bit) >= 1)
        rows ^= bit
    model.minimize(sum(chosen))
    return _read(model, columns)


def _read(model: object, columns: Sequence[int]) -> Solved | None:
    values = list(model.getSolution().col_value)  # type: ignore[attr-defined]
    picked = tuple(index for index, value in enumerate(values) if value > 0.5)
    whole = 0
    for column in columns:
        whole |= column
    got = 0
    for index in picked:
        got |= columns[index]
    if got != whole:
        return None
    # The bound comes as a float; a cover is a whole number of pieces.
    bound = ceil(model.getInfo().mip_dual_bound - 1e-6)  # type: ignore[attr-defined]
    return Solved(picked, min(bound, len(picked)))
