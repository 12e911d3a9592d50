"""What records earn together, as the page of a procedure shows it: which records, by which clause, with what margin."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from codes.check import check
from codes.clauses import Clause
from codes.cover import Piece, uncovered
from codes.limits import Limit, LimitSet
from codes.values import Value
from codes.verdict import Finding

Demand = Mapping[str, Value]


@dataclass(frozen=True, slots=True)
class Combination:
    """A limit set that two records earn together and neither alone, beside what a procedure says of one process.

    `needed`: it covers a part of the window that no record covers alone. `findings`: the variables in which it
    differs from its records. `clauses`: those that let the records be combined.
    """

    label: str
    needed: bool
    findings: tuple[Finding, ...]
    clauses: tuple[Clause, ...]

    @property
    def sentence(self) -> str:
        """Which records, and by which clause. Example: "PQR 1, process 141, root with ... (ASME IX, QW-200.4(b))"."""
        return f"{self.label} ({', '.join(map(str, self.clauses))})"


def combinations_of(
    demand: Demand, alone: Sequence[LimitSet], left: Sequence[Piece], joint: Sequence[LimitSet]
) -> tuple[Combination, ...]:
    """The combinations beside a window.

    `alone`: what single records earn, whatever process they speak of; `left`: what these leave uncovered.
    """
    held = [_rule(limit) for limits in alone for limit in limits.limits]
    return tuple(_combination(demand, held, left, limits) for limits in joint)


def _combination(demand: Demand, held: Sequence[object], left: Sequence[Piece], limits: LimitSet) -> Combination:
    own = [limit for limit in limits.limits if _rule(limit) not in held]
    variables = {limit.variable for limit in own}
    findings = tuple(found for found in check(demand, limits).findings if found.variable in variables)
    clauses = tuple(dict.fromkeys(limit.clause for limit in own))
    return Combination(limits.label, any(_takes(limits, piece) for piece in left), findings, clauses)


def _rule(limit: Limit) -> object:
    return limit.variable, limit.allowed, limit.clause, limit.when


def _takes(limits: LimitSet, piece: Piece) -> bool:
    """True where the limit set covers at least a part of the piece."""
    return [one.demand for one in uncovered(piece.demand, [limits])] != [piece.demand]
