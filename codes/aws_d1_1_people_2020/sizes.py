"""AWS D1.1:2020, Table 6.11: thickness that a person's plate test covers, and the notes on pipe (tubes: Table 10.13).

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
    confirmed,
    doubtful,
    memory,
)
from codes.aws_d1_1_people_2020.figures import IN_1, IN_1_1_2, IN_3_4, IN_3_8, LARGE_PIPE, THINNEST, bound_types
from codes.aws_d1_1_people_2020.switches import PJP_THICKNESS
from codes.aws_d1_1_people_2020.tubes import tube_limits
from codes.clauses import Clause
from codes.editions import Tested
from codes.limits import Limit, Within, unless, when_is
from codes.pieces import figure, term, unrecorded
from codes.readings import Settings
from codes.unit_sets import System, Twin, size_said, system_of
from codes.values import Interval, number

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


PLATE_ROWS = (
    ThicknessRow(IN_3_8, IN_3_8, THINNEST, None, IN_3_4, "3/8 in [10 mm] covers to 3/4 in [20 mm]",
                 confirmed("Table 6.11", MAIL_IN, FORUM_THICKNESS)),
    ThicknessRow(IN_3_8, IN_1, THINNEST, D(2), None, "above 3/8 in [10 mm] and below 1 in [25 mm] covers to 2 T",
                 confirmed("Table 6.11", FORUM_THICKNESS), least_open=True, most_open=True),
    ThicknessRow(IN_1, None, THINNEST, None, None, "1 in [25 mm] and more covers without upper limit",
                 confirmed("Table 6.11", MAIL_IN, FORUM_THICKNESS)),
)  # fmt: skip
ELECTROSLAG_ROWS = (
    ThicknessRow(None, IN_1_1_2, THINNEST, D(1), None, "below 1-1/2 in [38 mm] covers to T",
                 confirmed("Table 6.11", METRIC_4_11), most_open=True),
    ThicknessRow(IN_1_1_2, None, THINNEST, None, None, "1-1/2 in [38 mm] and more covers without upper limit",
                 confirmed("Table 6.11", METRIC_4_11)),
)  # fmt: skip

UNITS = memory("1.4 (two sets of units)")
T_6_11 = memory("Table 6.11")


def size_limits(piece: Tested, settings: Settings) -> tuple[Limit, ...]:
    """All limits on thickness and diameter of one test piece."""
    system = system_of(piece)
    if system is None:
        return (unrecorded("parent_t", UNITS, "thickness", field="whether it was made in US or SI units"),)
    scope = Limit("parent_t", Within(Interval(THINNEST.mm(system), None, "mm")), SCOPE, SCOPE_WORDS, reason="thickness")
    if term(piece, "weld_type") in ("fillet", "plug"):
        return (scope, *_fillet_diameter(piece))
    if term(piece, "product") == "pipe":
        return (scope, *tube_limits(piece, system, settings))
    return (scope, _plate_limit(piece, system, settings), *plate_on_pipe(system))


SCOPE_WORDS = "thinner material is outside this code"


def _plate_limit(piece: Tested, system: System, settings: Settings) -> Limit:
    tested = figure(piece, "parent_t")
    when = (when_is("weld_type", *bound_types(settings)),)
    if tested is None:
        return unrecorded("parent_t", T_6_11, "thickness", when=when, field="the thickness of the test plate")
    rows = ELECTROSLAG_ROWS if term(piece, "process") in ELECTROSLAG else PLATE_ROWS
    row = next((row for row in rows if row.serves(tested, system)), None)
    if row is None:
        field = "a test plate of 3/8 in [10 mm] or more; thinner ones have no row in the table"
        return unrecorded("parent_t", T_6_11, "thickness", when=when, field=field)
    because = f"tested T = {size_said(tested, system)}, {system.upper()} set: {row.words}"
    used = (PJP_THICKNESS.used(settings),)
    allowed = row.range(tested, system)
    return Limit(
        "parent_t", allowed, row.clause, because, when, used, reason="thickness", tested=f"{number(tested)} mm"
    )


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
