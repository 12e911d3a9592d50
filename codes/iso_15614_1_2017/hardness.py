"""ISO 15614-1:2017, 7.4.6 and Table 3: the test's own results: hardness (HV10), and what the impact test proves."""

from dataclasses import dataclass
from decimal import Decimal

from codes.clauses import Mark
from codes.iso_15614_1_2017.piece import Piece, unrecorded
from codes.iso_15614_1_2017.position import tests_made
from codes.iso_15614_1_2017.sources import HARDNESS_SLIDES, OWN_RULE, clause
from codes.limits import Free, Limit, Nothing, OneOf, Unrecorded, span, when_is
from codes.values import Steel, number

HARDNESS = clause("7.4.6, Table 3", Mark.MEMORY)
HARDNESS_1_2 = clause("7.4.6, Table 3", Mark.CONFIRMED, HARDNESS_SLIDES)
TESTED = clause("7.4 and 8.4.2", Mark.OWN, OWN_RULE)


@dataclass(frozen=True, slots=True)
class HardnessRow:
    """Highest HV10 of a group as welded and after heat treatment; None where the table gives none."""

    groups: tuple[str, ...]
    as_welded: Decimal | None
    heat_treated: Decimal
    confirmed: bool = False


TABLE_3 = (
    HardnessRow(("1", "2"), Decimal(380), Decimal(320), confirmed=True),
    HardnessRow(("3",), Decimal(450), Decimal(380)),
    HardnessRow(("4", "5"), Decimal(380), Decimal(350)),
    HardnessRow(("6",), None, Decimal(350)),
    HardnessRow(("9.1",), Decimal(350), Decimal(300)),
    HardnessRow(("9.2", "9.3"), Decimal(450), Decimal(350)),
)
"""Groups 7, 8, 10 and 11 are not entered: the table gives no figure for them that is known here."""


def row_of(steel: Steel) -> HardnessRow | None:
    """The row of a steel's group. Example: group "9.2" has a row of its own, "1.2" that of group 1."""
    return next((row for row in TABLE_3 if steel.group in row.groups or steel.main_group in row.groups), None)


def limits(piece: Piece) -> tuple[Limit, ...]:
    """A hardness above the limit fails the test; requirements are met only by tests that were made."""
    return (*_result(piece), *_hardness_tested(piece), *_impact_temperature(piece))


def _result(piece: Piece) -> tuple[Limit, ...]:
    """The strictest side's limit holds for the highest of all readings."""
    found = piece.most("hardness_hv10")
    steels = [steel for pair in piece.steel_pairs("steels") for steel in pair]
    rows = [row for row in map(row_of, steels) if row]
    if found is None or not rows:
        return ()
    if piece.word("pwht") is None:
        return (unrecorded("hardness_hv10", HARDNESS, "whether it was heat treated", reason="hardness"),)
    treated = piece.word("pwht") == "yes"
    highest = [row.heat_treated if treated else row.as_welded for row in rows]
    stated = [one for one in highest if one is not None]
    state = "heat treated" if treated else "as welded"
    words = f"{number(found)} HV10"
    where = HARDNESS_1_2 if all(row.confirmed for row in rows) else HARDNESS
    if stated and found > min(stated):
        because = f"test failed: {words} {state} is above {number(min(stated))} HV10"
        return (Limit("hardness_hv10", Nothing(), where, because, reason="hardness", tested=words),)
    if len(stated) < len(highest):
        agreed = Unrecorded(f"the hardness limit agreed for group 6 {state}")
        return (Limit("hardness_hv10", agreed, where, "", reason="hardness", tested=words),)
    because = f"{words} {state}: up to {number(min(stated))} HV10 is accepted"
    return (Limit("hardness_hv10", Free(), where, because, reason="hardness", tested=words),)


def _hardness_tested(piece: Piece) -> tuple[Limit, ...]:
    if tests_made(piece, "hardness"):
        return ()
    if piece.word("hardness_tested") is None:
        asked = (when_is("hardness_required", "yes"),)
        return (unrecorded("hardness_required", TESTED, "whether hardness was tested", asked, "hardness"),)
    because = "no hardness test on the record"
    return (Limit("hardness_required", OneOf(("no",)), TESTED, because, (), (), "hardness"),)


def _impact_temperature(piece: Piece) -> tuple[Limit, ...]:
    """Impact tests prove the tested temperature and any warmer one."""
    if not tests_made(piece, "impact"):
        return ()
    when = (when_is("impact_required", "yes"),)
    tested = piece.most("impact_temperature")
    if tested is None:
        return (unrecorded("impact_temperature", TESTED, when=when),)
    because = f"impact tested at {number(tested)} °C: that temperature and warmer"
    allowed = span(tested, None, "°C")
    return (Limit("impact_temperature", allowed, TESTED, because, when, tested=f"{number(tested)} °C"),)
