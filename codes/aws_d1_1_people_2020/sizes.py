"""AWS D1.1:2020, Tables 6.11 (plate) and 10.13 (pipe): thickness and diameter that a person's test covers.

The thickness limit is on grooves: a groove test covers fillets of any size on any thickness (Table 6.11, note).
"""

from dataclasses import dataclass
from decimal import Decimal as D

from codes.aws_d1_1_people_2020.clauses import (
    FORUM_THICKNESS,
    MAIL_IN,
    METRIC_4_11,
    SCOPE,
    TABLE_6_10_COPY,
    TUBULAR_COPY,
    confirmed,
    doubtful,
    memory,
    partly,
)
from codes.aws_d1_1_people_2020.switches import PJP_THICKNESS
from codes.clauses import Clause
from codes.editions import Tested
from codes.limits import Limit, OneOf, Within, unless, when_is
from codes.pieces import figure, term, terms, unrecorded, yes
from codes.readings import Settings
from codes.unit_sets import System, Twin, system_of, twin
from codes.values import Interval, number

THINNEST = twin("0.125", "3")
# A pipe from this size on is welded like plate.
LARGE_PIPE = twin("24", "600")
SMALLEST_HALF = twin("4", "100")
ELECTROSLAG = ("72", "73")


@dataclass(frozen=True, slots=True)
class ThicknessRow:
    """Tested thickness from `least` to `most` (None: no end; open ends excluded) and what it covers.

    `times`: the upper limit is so many times the tested thickness; `top`: a fixed one; neither: unlimited.
    """

    least: Twin | None
    most: Twin | None
    lo: Twin
    times: D | None
    top: Twin | None
    words: str
    clause: Clause
    least_open: bool = False
    most_open: bool = False

    def serves(self, tested: D, system: System) -> bool:
        """True where the tested thickness lies in this row."""
        lo = self.least.mm(system) if self.least else None
        hi = self.most.mm(system) if self.most else None
        return Interval(lo, hi, "mm", self.least_open, self.most_open).holds(tested)

    def range(self, tested: D, system: System) -> Within:
        """What the tested thickness covers."""
        hi = tested * self.times if self.times is not None else self.top.mm(system) if self.top else None
        return Within(Interval(self.lo.mm(system), hi, "mm"))


_T38, _T1, _T34, _T316, _T112 = (
    twin("0.375", "10"),
    twin("1", "25"),
    twin("0.75", "20"),
    twin("0.1875", "5"),
    twin("1.5", "38"),
)
PLATE_ROWS = (
    ThicknessRow(_T38, _T38, THINNEST, None, _T34, "3/8 in [10 mm] covers to 3/4 in [20 mm]",
                 confirmed("Table 6.11", MAIL_IN, FORUM_THICKNESS)),
    ThicknessRow(_T38, _T1, THINNEST, D(2), None, "above 3/8 in [10 mm] and below 1 in [25 mm] covers to 2 T",
                 confirmed("Table 6.11", FORUM_THICKNESS), least_open=True, most_open=True),
    ThicknessRow(_T1, None, THINNEST, None, None, "1 in [25 mm] and more covers without upper limit",
                 confirmed("Table 6.11", MAIL_IN, FORUM_THICKNESS)),
)  # fmt: skip
ELECTROSLAG_ROWS = (
    ThicknessRow(None, _T112, THINNEST, D(1), None, "below 1-1/2 in [38 mm] covers to T",
                 confirmed("Table 6.11", METRIC_4_11), most_open=True),
    ThicknessRow(_T112, None, THINNEST, None, None, "1-1/2 in [38 mm] and more covers without upper limit",
                 confirmed("Table 6.11", METRIC_4_11)),
)  # fmt: skip

_TUBULAR = confirmed("Table 10.13", TUBULAR_COPY, METRIC_4_11)
_HALF = partly("Table 10.13, note f", TUBULAR_COPY)


@dataclass(frozen=True, slots=True)
class TubeRow:
    """Test pipes of these outside diameters and walls, and the diameters and walls that they cover.

    `half`: the smallest diameter is half the tested one, or `d_lo` where that is more.
    """

    od: tuple[Twin | None, Twin | None]
    od_open: tuple[bool, bool]
    wall: tuple[Twin | None, Twin | None]
    wall_open: bool
    d_lo: Twin
    d_hi: Twin | None
    half: bool
    t_lo: Twin
    t_hi: Twin | None
    d_clause: Clause
    d_hi_open: bool = False

    def serves(self, od: D, wall: D, system: System) -> bool:
        """True where diameter and wall of the test lie in this row."""
        ods = Interval(*_ends(self.od, system), "mm", *self.od_open)
        return ods.holds(od) and Interval(*_ends(self.wall, system), "mm", self.wall_open).holds(wall)

    def diameters(self, od: D, system: System) -> Within:
        """The outside diameters covered."""
        lo = self.d_lo.mm(system)
        lo = max(lo, od / 2) if self.half else lo
        return Within(Interval(lo, self.d_hi.mm(system) if self.d_hi else None, "mm", hi_open=self.d_hi_open))

    def walls(self, system: System) -> Within:
        """The wall (and plate) thicknesses covered."""
        return Within(Interval(self.t_lo.mm(system), self.t_hi.mm(system) if self.t_hi else None, "mm"))


def _ends(pair: tuple[Twin | None, Twin | None], system: System) -> tuple[D | None, D | None]:
    lo, hi = pair
    return (lo.mm(system) if lo else None, hi.mm(system) if hi else None)


_4, _6, _12, _02 = twin("4", "100"), twin("6", "150"), twin("0.5", "12"), twin("0.20", "5")
_D34 = twin("0.75", "20")
PIPE_ROWS = (
    TubeRow((None, _4), (False, False), (None, None), False, _D34, _4, False, THINNEST, _T34, _TUBULAR),
    TubeRow((_4, None), (True, False), (None, _T38), False, _4, None, True, THINNEST, _T34, _HALF),
    TubeRow((_4, None), (True, False), (_T38, None), True, _4, None, True, _T316, None, _HALF),
)
TYK_ROWS = (
    TubeRow((_6, None), (False, False), (_12, None), False, _4, None, False, _T316, None, _TUBULAR),
    TubeRow((None, _4), (False, True), (_02, None), False, _D34, _4, False, THINNEST, None, _TUBULAR, d_hi_open=True),
)
BOX_TYK_LEAST = _12
UNITS = memory("1.4 (two sets of units)")
T_6_11, T_10_13 = memory("Table 6.11"), memory("Table 10.13")


def size_limits(piece: Tested, settings: Settings) -> tuple[Limit, ...]:
    """All limits on thickness and diameter of one test piece."""
    system = system_of(piece)
    if system is None:
        return (unrecorded("parent_t", UNITS, "thickness", field="whether it was made in US or SI units"),)
    scope = Limit("parent_t", Within(Interval(THINNEST.mm(system), None, "mm")), SCOPE, SCOPE_WORDS, reason="thickness")
    if term(piece, "weld_type") in ("fillet", "plug"):
        return (scope, *_fillet_diameter(piece))
    if term(piece, "product") == "pipe":
        return (scope, *_tube_limits(piece, system, settings))
    return (scope, _plate_limit(piece, system, settings), *plate_on_pipe(system))


SCOPE_WORDS = "thinner material is outside this code"


def _plate_limit(piece: Tested, system: System, settings: Settings) -> Limit:
    tested = figure(piece, "parent_t")
    when = (when_is("weld_type", *_bound(settings)),)
    if tested is None:
        return unrecorded("parent_t", T_6_11, "thickness", when=when, field="the thickness of the test plate")
    rows = ELECTROSLAG_ROWS if term(piece, "process") in ELECTROSLAG else PLATE_ROWS
    row = next((row for row in rows if row.serves(tested, system)), None)
    if row is None:
        field = "a test plate of 3/8 in [10 mm] or more; thinner ones have no row in the table"
        return unrecorded("parent_t", T_6_11, "thickness", when=when, field=field)
    because = f"tested T = {number(tested)} mm ({system.upper()} set): {row.words}"
    used = (PJP_THICKNESS.used(settings),)
    allowed = row.range(tested, system)
    return Limit(
        "parent_t", allowed, row.clause, because, when, used, reason="thickness", tested=f"{number(tested)} mm"
    )


def _bound(settings: Settings) -> tuple[str, ...]:
    """The weld types that the thickness limit binds."""
    return ("butt_cjp", "branch", *(("butt_pjp",) if PJP_THICKNESS.option(settings) == "groove" else ()))


def plate_on_pipe(system: System) -> tuple[Limit, ...]:
    """Butt joints of round pipe by a plate test: only pipe of 24 in [600 mm] and more, backed or backgouged."""
    where = confirmed("Table 6.10, notes", TABLE_6_10_COPY)
    pipe = (when_is("weld_type", "butt_cjp", "butt_pjp"), when_is("product", "pipe"))
    round_butt = (*pipe, unless("box_section", "yes"), unless("joint_type", "branch"))
    because = "tested on plate: pipe of 24 in [600 mm] and more only"
    large = Within(Interval(LARGE_PIPE.mm(system), None, "mm"))
    return (Limit("diameter", large, where, because, round_butt, reason="diameter"),)


def _fillet_diameter(piece: Tested) -> tuple[Limit, ...]:
    """A fillet test on pipe: the tested diameter and more. The table of the ranges was not seen: strict."""
    if term(piece, "product") != "pipe":
        return ()
    where = doubtful("Table 10.13, fillet tests")
    when = (when_is("product", "pipe"),)
    tested = figure(piece, "diameter")
    if tested is None:
        return (unrecorded("diameter", where, "diameter", when=when, field="the diameter of the test pipe"),)
    allowed = Within(Interval(tested, None, "mm"))
    because = f"fillet test on pipe of {number(tested)} mm: that diameter and more"
    return (Limit("diameter", allowed, where, because, when, reason="diameter", tested=f"{number(tested)} mm"),)


def _tube_limits(piece: Tested, system: System, settings: Settings) -> tuple[Limit, ...]:
    grooves = (when_is("weld_type", "butt_cjp", "butt_pjp", "branch"),)
    on_pipe = (*grooves, when_is("product", "pipe"))
    bound = (when_is("weld_type", *_bound(settings)),)
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
    said = f"tested pipe {number(od)} x {number(wall)} mm ({system.upper()} set)"
    used = (PJP_THICKNESS.used(settings),)
    walls, ods = row.walls(system), row.diameters(od, system)
    tested = f"{number(wall)} mm"
    return (
        Limit("parent_t", walls, _TUBULAR, f"{said}: wall {walls}", bound, used, reason="thickness", tested=tested),
        Limit("diameter", ods, row.d_clause, f"{said}: diameter {ods}", on_pipe, reason="diameter", tested=str(od)),
    )


def _box_limits(piece: Tested, system: System, settings: Settings) -> tuple[Limit, ...]:
    """A test on box tubing: box of any size; round pipe from 24 in [600 mm]; its T-Y-K test box only."""
    bound = (when_is("weld_type", *_bound(settings)),)
    wall = figure(piece, "parent_t")
    tyk = "6GR" in terms(piece, "aws_position")
    if wall is None or (tyk and wall < BOX_TYK_LEAST.mm(system)):
        field = "the wall of the test tube (T-Y-K: 1/2 in [12 mm] or more)"
        return (unrecorded("parent_t", T_10_13, "thickness", when=bound, field=field),)
    thin = not tyk and wall <= _T38.mm(system)
    hi = _T34.mm(system) if thin else None
    allowed = Within(Interval((THINNEST if thin else _T316).mm(system), hi, "mm"))
    because = f"tested box tube of {number(wall)} mm ({system.upper()} set): wall {allowed}"
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
