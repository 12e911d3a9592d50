"""EN 1090-2, 7.4.3, Table 14: technical knowledge of the welding coordinator for structural carbon steels.

Footnotes that let column bases and end plates, S275 and some fine-grain steels ask for less are not entered: which
cells they stand in is doubtful, and the strict reading ignores them.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from codes.clauses import Clause, Mark
from codes.editions import Tested
from codes.en_1090_2_2018.facts import term
from codes.en_1090_2_2018.figures import FIGURES_2018, FORUM, MEMORY, QUALIFIED, Figures, in_classes
from codes.en_1090_2_2018.steel_sets import Low, SteelSet, Structural, is_low, not_steels, steels
from codes.limits import Allowed, Free, Limit, Nothing, Unrecorded, When, Within
from codes.values import Interval, Steel, SteelPair, number

GATE = "coordinator: "
REASON = "coordinator_level"
REF = "7.4.3, Table 14"

LEVELS = ("B", "S", "C")
"""The levels of knowledge, the least first."""
BANDS = (Decimal(25), Decimal(50), None)
"""Upper ends of the thickness bands [mm]."""


@dataclass(frozen=True, slots=True)
class Row:
    """One row of Table 14: the level for each of BANDS. `low` None serves every steel."""

    execution_class: str
    low: bool | None
    levels: tuple[str, str, str]
    mark: Mark
    source: str

    @property
    def clause(self) -> Clause:
        """Where it stands in the edition of 2018, as sure as the row is."""
        return FIGURES_2018.clause(REF, self.mark, self.source)

    def steels(self) -> tuple[When, ...]:
        """The conditions on the steels of this row."""
        if self.low is None:
            return ()
        return (steels(Low()),) if self.low else (steels(Structural()), not_steels(Low()))


ROWS = (
    Row("EXC2", True, ("B", "S", "C"), Mark.CONFIRMED, FORUM),
    Row("EXC2", False, ("S", "C", "C"), Mark.CONFIRMED, FORUM),
    Row("EXC3", True, ("S", "C", "C"), Mark.CONFIRMED, FORUM),
    Row("EXC3", False, ("C", "C", "C"), Mark.MEMORY, MEMORY),
    Row("EXC4", None, ("C", "C", "C"), Mark.MEMORY, MEMORY),
)


def coordinator_limits(piece: Tested, figures: Figures) -> Iterator[Limit]:
    """Thickness up to which the coordinator's level serves, row by row."""
    held = term(piece, "coordinator_level")
    clause = figures.clause(REF, Mark.CONFIRMED, FORUM)
    classes = in_classes(*QUALIFIED)
    if held is None:
        field = "the welding coordinator's level of knowledge (B, S or C)"
        yield Limit("execution_class", Unrecorded(field), clause, when=(classes,), reason=REASON)
        return
    structural: SteelSet = Structural()
    because = f"{GATE}the table covers structural carbon steels only"
    needs = "the coordinator's knowledge for this steel, judged by hand"
    yield Limit("steels", structural, clause, because, (classes,), reason=REASON, needs=needs, tested=held)
    for row in ROWS:
        allowed, because = _thickness(row, held)
        where = figures.clause(REF, row.mark, row.source)
        when = (in_classes(row.execution_class), *row.steels())
        yield Limit("parent_t", allowed, where, f"{GATE}{because}", when, reason=REASON, tested=f"level {held}")


def _thickness(row: Row, held: str) -> tuple[Allowed, str]:
    short = next((i for i, needed in enumerate(row.levels) if LEVELS.index(needed) > LEVELS.index(held)), None)
    if short is None:
        return Free(), f"level {held} serves every thickness in {row.execution_class}"
    if short == 0:
        return Nothing(), f"{row.execution_class} asks for level {row.levels[0]}, held is {held}"
    top = BANDS[short - 1]
    assert top is not None
    words = f"above {number(top)} mm {row.execution_class} asks for level {row.levels[short]}, held is {held}"
    return Within(Interval(None, top, "mm")), words


def coordinator_level_needed(execution_class: str, steel: Steel, t: Decimal) -> str:
    """The level needed for a part of thickness t [mm]: "B", "S", "C", or "" in EXC1 (supervision suffices).

    Raises ValueError for an unknown class, a thickness of 0 or less, or a steel the table does not cover.
    Example: EXC2, S355: B at 25 mm, S at 25.1 mm, S at 50 mm, C at 50.1 mm.
    """
    if t <= 0:
        raise ValueError(f"thickness must be more than 0 mm, not {number(t)}")
    if execution_class == "EXC1":
        return ""
    if not Structural().holds(SteelPair(steel, steel)):
        raise ValueError(f"{FIGURES_2018.standard}, {REF} covers structural carbon steels only, not {steel}")
    low = is_low(steel)
    for row in ROWS:
        if row.execution_class == execution_class and row.low in (None, low):
            return next(level for level, top in zip(row.levels, BANDS, strict=True) if top is None or t <= top)
    raise ValueError(f"{execution_class} is not an execution class; use EXC1 to EXC4")
