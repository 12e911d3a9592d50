"""Which suggested piece covers which need: by bit masks, each value judged once by the one checker."""

from collections.abc import Sequence
from datetime import date
from decimal import Decimal
from functools import lru_cache

from codes.bulk import Compiled
from codes.check import check
from codes.readings import Settings
from codes.verdict import Finding, Outcome, Verdict
from joints.planning.gates import gate_of, same_system
from joints.planning.needs import PROCEDURE, Need
from joints.planning.pieces import Piece, kind_wanted
from joints.planning.telling import Each, unheard

ALIKE = 100
"""Pieces that miss as little, of which the one that misses by the least is named."""


def covers(piece: Piece, need: Need, on: date, settings: Settings) -> bool:
    """True where the explaining checker says that the piece covers the need, and the job's gates let it count."""
    return _counts(piece, need, on, settings) and any(
        verdict.outcome is Outcome.COVERED for verdict in verdicts(piece, need)
    )


def verdicts(piece: Piece, need: Need) -> list[Verdict]:
    """Every form of the need against every limit set of the piece."""
    return [check(box, limits) for box in need.boxes for limits in piece.sets_for(need.filled)]


def _counts(piece: Piece, need: Need, on: date, settings: Settings) -> bool:
    if not same_system(need, piece):
        return False
    if need.kind == PROCEDURE:
        return piece.kind == PROCEDURE and gate_of(need, piece, on, settings).covered
    return all(piece.kind == kind_wanted(box) for box in need.boxes)


class Table:
    """Needs by pieces, as one bit mask of needs for each piece."""

    def __init__(
        self, pieces: Sequence[Piece], needs: Sequence[Need], on: date, settings: Settings, each: Each = unheard
    ) -> None:
        """`each` is called for every need; what it raises ends it."""
        self._each = each
        self.pieces, self.needs, self._on, self._settings = pieces, needs, on, settings
        asked = {need.filled for need in needs}
        self._owners = {filled: _owners(pieces, filled) for filled in asked}
        sets = {filled: [s for p in pieces for s in p.sets_for(filled)] for filled in asked}
        self._compiled = {filled: Compiled(found) for filled, found in sets.items()}
        self._gate = lru_cache(maxsize=None)(self._open)
        self.columns = self._columns()

    def _columns(self) -> list[int]:
        columns = [0] * len(self.pieces)
        for row, need in enumerate(self.needs):
            self._each()
            for index in self._able(need):
                if self._gate(row, *self._kind_of(index)):
                    columns[index] |= 1 << row
        return columns

    def _able(self, need: Need) -> set[int]:
        owners, compiled = self._owners[need.filled], self._compiled[need.filled]
        return {owners[one] for box in need.boxes for one in compiled.covering(box)}

    def _kind_of(self, index: int) -> tuple[object, ...]:
        """What the gates look at of a piece; pieces that agree in it are judged once."""
        values = self.pieces[index].values
        names = ("level", "impact_tested", "impact_temperature")
        return (self.pieces[index].code, *(values.get(name) for name in names))

    def _open(self, row: int, *kind: object) -> bool:
        index = next(i for i in range(len(self.pieces)) if self._kind_of(i) == kind)
        return _counts(self.pieces[index], self.needs[row], self._on, self._settings)

    def nearest(self, need: Need) -> Finding | None:
        """The leading finding of the piece that comes nearest to a need that none covers."""
        compiled, owners = self._compiled[need.filled], self._owners[need.filled]
        box = need.boxes[0]
        kind = [i for i, owner in enumerate(owners) if self._fits(self.pieces[owner], need)]
        if not kind:
            return None
        missed = [0] * len(owners)
        for _, outside, unstated in compiled.failing(box):
            for i in kind:
                missed[i] += 100 * (outside >> i & 1) + (unstated >> i & 1)
        fewest = min(missed[i] for i in kind)
        alike = [i for i in kind if missed[i] == fewest][:ALIKE]
        worst = [found[0] for i in alike if (found := check(box, compiled.sets[i]).worst)]
        return min(worst, key=_by_how_much, default=None)

    @staticmethod
    def _fits(piece: Piece, need: Need) -> bool:
        wanted = PROCEDURE if need.kind == PROCEDURE else kind_wanted(need.boxes[0])
        return piece.kind == wanted and piece.values.get("process") == need.process


def _by_how_much(finding: Finding) -> tuple[bool, Decimal]:
    return finding.margin is None, abs(finding.margin or Decimal(0))


def _owners(pieces: Sequence[Piece], filled: bool) -> list[int]:
    return [index for index, piece in enumerate(pieces) for _ in piece.sets_for(filled)]
