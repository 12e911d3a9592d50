"""AWS D1.1:2020, Table 10.13: diameters and walls that a person's test on pipe or box tubing covers."""

from dataclasses import dataclass, replace
from decimal import Decimal as D

from codes.aws_d1_1_people_2020.clauses import METRIC_4_11, TUBULAR_COPY, confirmed, memory, partly
from codes.aws_d1_1_people_2020.figures import (
    IN_1_2,
    IN_3_4,
    IN_3_8,
    IN_3_16,
    LARGE_PIPE,
    THINNEST,
    bound_types,
)
from codes.aws_d1_1_people_2020.switches import PJP_THICKNESS
from codes.clauses import Clause
from codes.editions import Tested
from codes.limits import Limit, OneOf, Within, unless, when_is
from codes.pieces import figure, terms, unrecorded, yes
from codes.readings import Settings
from codes.unit_sets import System, Twin, size_said, twin
from codes.values import Interval, number

T_10_13 = memory("Table 10.13")
_TUBULAR = confirmed("Table 10.13", TUBULAR_COPY, METRIC_4_11)
_HALF = partly("Table 10.13, note f", TUBULAR_COPY)


@dataclass(frozen=True, slots=True)
class Span:
    """Sizes from `least` on or from `over` a figure, to `most` or to `under` one; an end that is not named is none."""

    least: Twin | None = None
    over: Twin | None = None
    most: Twin | None = None
    under: Twin | None = None

    def interval(self, system: System) -> Interval:
        """The sizes [mm] in the figures of a system."""
        lo, hi = self.least or self.over, self.most or self.under
        ends = (lo.mm(system) if lo else None, hi.mm(system) if hi else None)
        return Interval(*ends, "mm", self.over is not None, self.under is not None)


@dataclass(frozen=True, slots=True)
class TubeRow:
    """Test pipes of these outside diameters and walls, and the diameters and walls that they cover.

    `half`: the smallest diameter is half the tested one, or that of `covers_od` where it is more.
    """

    od: Span
    wall: Span
    covers_od: Span
    covers_wall: Span
    d_clause: Clause
    half: bool = False

    def serves(self, od: D, wall: D, system: System) -> bool:
        """True where diameter and wall of the test lie in this row."""
        return self.od.interval(system).holds(od) and self.wall.interval(system).holds(wall)

    def diameters(self, od: D, system: System) -> Within:
        """The outside diameters covered."""
        found = self.covers_od.interval(system)
        return Within(replace(found, lo=max(found.lo or od, od / 2)) if self.half else found)

    def walls(self, system: System) -> Within:
        """The wall (and plate) thicknesses covered."""
        return Within(self.covers_wall.interval(system))


_4, _6, _02 = twin("4", "100"), twin("6", "150"), twin("0.20", "5")
_TO_3_4 = Span(THINNEST, most=IN_3_4)
PIPE_ROWS = (
    TubeRow(Span(most=_4), Span(), Span(IN_3_4, most=_4), _TO_3_4, _TUBULAR),
    TubeRow(Span(over=_4), Span(most=IN_3_8), Span(_4), _TO_3_4, _HALF, half=True),
    TubeRow(Span(over=_4), Span(over=IN_3_8), Span(_4), Span(IN_3_16), _HALF, half=True),
)
TYK_ROWS = (
    TubeRow(Span(_6), Span(IN_1_2), Span(_4), Span(IN_3_16), _TUBULAR),
    TubeRow(Span(under=_4), Span(_02), Span(IN_3_4, under=_4), Span(THINNEST), _TUBULAR),
)
BOX_TYK_LEAST = IN_1_2


def tube_limits(piece: Tested, system: System, settings: Settings) -> tuple[Limit, ...]:
    grooves = (when_is("weld_type", "butt_cjp", "butt_pjp", "branch"),)
    on_pipe = (*grooves, when_is("product", "pipe"))
    bound = (when_is("weld_type", *bound_types(settings)),)
    wall, od = figure(piece, "parent_t"), figure(piece, "diameter")
    if yes(piece, "box_section"):
        return _box_limits(piece, system, settings)
    if wall is None or od is None:
        field = "wall and outside diameter of the test pipe"
        return (unrecorded("parent_t", T_10_13, "thickness", when=bound, field=field),)
    tyk = "6GR" in terms(piece, "aws_position")
    row = next((row for row in (TYK_ROWS if tyk else PIPE_ROWS) if row.serves(od, wall, system)), None)
    if row is None:
        field = "a test pipe that the table of tubular tests has a row for (T-Y-K: 6 in and 1/2 in or more)"
        return (unrecorded("parent_t", T_10_13, "thickness", when=bound, field=field),)
    said = f"tested pipe of {size_said(od, system)} by {size_said(wall, system)}, {system.upper()} set"
    used = (PJP_THICKNESS.used(settings),)
    walls, ods = row.walls(system), row.diameters(od, system)
    tested = f"{number(wall)} mm"
    return (
        Limit("parent_t", walls, _TUBULAR, f"{said}: wall {walls}", bound, used, reason="thickness", tested=tested),
        Limit("diameter", ods, row.d_clause, f"{said}: diameter {ods}", on_pipe, reason="diameter", tested=str(od)),
    )


def _box_limits(piece: Tested, system: System, settings: Settings) -> tuple[Limit, ...]:
    """A test on box tubing: box of any size; round pipe from 24 in [600 mm]; its T-Y-K test box only."""
    bound = (when_is("weld_type", *bound_types(settings)),)
    wall = figure(piece, "parent_t")
    tyk = "6GR" in terms(piece, "aws_position")
    if wall is None or (tyk and wall < BOX_TYK_LEAST.mm(system)):
        field = "the wall of the test tube (T-Y-K: 1/2 in [12 mm] or more)"
        return (unrecorded("parent_t", T_10_13, "thickness", when=bound, field=field),)
    thin = not tyk and wall <= IN_3_8.mm(system)
    hi = IN_3_4.mm(system) if thin else None
    allowed = Within(Interval((THINNEST if thin else IN_3_16).mm(system), hi, "mm"))
    because = f"tested box tube of {size_said(wall, system)}, {system.upper()} set: wall {allowed}"
    large = Within(Interval(LARGE_PIPE.mm(system), None, "mm"))
    on_round = (when_is("product", "pipe"), unless("box_section", "yes"), unless("weld_type", "fillet", "plug"))
    words = "tested on box tube: round pipe of 24 in [600 mm] and more"
    limits = (
        Limit("parent_t", allowed, _TUBULAR, because, bound, reason="thickness", tested=f"{number(wall)} mm"),
        Limit("diameter", large, confirmed("Table 10.12, note", TUBULAR_COPY), words, on_round, reason="diameter"),
    )
    return (*limits, _box_only()) if tyk else limits


def _box_only() -> Limit:
    when = (when_is("weld_type", "branch"),)
    because = "T-Y-K test on box tube: box sections only"
    return Limit("box_section", OneOf(("yes",)), _TUBULAR, because, when, reason="diameter")
