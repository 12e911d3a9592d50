"""AWS D1.1, Table 6.5 [4.5], lines 12 to 18 and 22 to 26: current, voltage, speeds and the setting of electrodes."""

from decimal import Decimal

from codes.aws_d1_1.book import TABLE_4_5, Rule, line
from codes.aws_d1_1.piece import Piece, unrecorded
from codes.aws_d1_1.unit_sets import Size
from codes.aws_d1_1_2020.switches import SAW_SPEED, lenient
from codes.aws_d1_1_2020.tolerance import Percent, around, either_way
from codes.clauses import Mark
from codes.limits import Limit, OneOf, Within, unless, when_is
from codes.values import Interval, number

LINE_12 = line("12", Mark.CONFIRMED, TABLE_4_5)
LINE_17 = line("17")
LINE_13 = line("13", Mark.PART, TABLE_4_5)
LINE_16 = line("16", Mark.CONFIRMED, TABLE_4_5)
LINE_18 = line("18")
LINE_18_SAW = line("18", Mark.DOUBT)
LINE_14, LINE_15 = line("14", Mark.CONFIRMED, TABLE_4_5), line("15", Mark.PART, TABLE_4_5)
LINE_22, LINE_23, LINE_24, LINE_25, LINE_26 = (line(str(number)) for number in range(22, 27))

# Per cent either way by process; a process that is missing has no such line.
CURRENT: dict[str, Percent] = {
    "SAW": either_way(10), "GMAW": either_way(10), "FCAW": either_way(10), "GTAW": either_way(25),
}  # fmt: skip
VOLTAGE: dict[str, Percent] = {"SAW": either_way(7), "GMAW": either_way(7), "FCAW": either_way(7)}
WIRE_FEED: dict[str, Percent] = {"SAW": either_way(10), "GMAW": either_way(10), "FCAW": either_way(10)}
TRAVEL: dict[str, Percent] = {
    "SAW": either_way(15), "GMAW": either_way(25), "FCAW": either_way(25), "GTAW": either_way(50),
}  # fmt: skip
SAW_TRAVEL_WIDE = either_way(25)

SPACING, SPACING_PERCENT = Size("1/8", "3"), Decimal(10)
# Degrees either way: between parallel electrodes, along and across travel.
ANGLES = {
    "electrode_angle_between": (LINE_24, Decimal(10)),
    "electrode_angle_along": (LINE_25, Decimal(3)),
    "electrode_angle_across": (LINE_26, Decimal(5)),
}
MACHINE = (when_is("mechanisation", "fully_mechanised", "automatic"),)


def limits(piece: Piece) -> tuple[Limit, ...]:
    """All electrical lines of the process, and for submerged arc the setting of its electrodes."""
    return (
        *_current(piece),
        *_current_type(piece),
        *_as_tested(piece, "transfer_mode", LINE_14, ("GMAW",)),
        *_as_tested(piece, "power_output", LINE_15, ("SAW", "GMAW", "FCAW")),
        *_voltage(piece),
        *_travel(piece),
        *_setting(piece),
    )


def _current(piece: Piece) -> tuple[Limit, ...]:
    """Lines 12 and 17: amperes, or the wire feed where the record controls by it and states no amperes."""
    clause = LINE_12.of(piece.book)
    if piece.family == "SMAW":
        because = "covered electrodes: the filler maker's range for the diameter"
        return (Limit("in_makers_range", OneOf(("yes",)), clause, because, reason="current"),)
    percent = CURRENT.get(piece.family)
    if percent is None:
        return ()
    if not piece.numbers("current") and piece.numbers("wire_feed") and piece.family in WIRE_FEED:
        return (around(piece, "wire_feed", WIRE_FEED[piece.family], LINE_17.of(piece.book)),)
    return (around(piece, "current", percent, clause),)


def _current_type(piece: Piece) -> tuple[Limit, ...]:
    clause = LINE_13.of(piece.book)
    tested = piece.words("current_type")
    # Covered electrodes may change to what their maker recommends.
    when = (unless("polarity_by_maker", "yes"),) if piece.family == "SMAW" else ()
    if not tested:
        return (unrecorded("current_type", clause, when=when),)
    return (Limit("current_type", OneOf(tested), clause, f"tested {', '.join(tested)}", when),)


def _as_tested(piece: Piece, name: str, rule: Rule, families: tuple[str, ...]) -> tuple[Limit, ...]:
    if piece.family not in families:
        return ()
    clause = rule.of(piece.book)
    tested = piece.words(name)
    if not tested:
        return (unrecorded(name, clause),)
    return (Limit(name, OneOf(tested), clause, f"tested {', '.join(tested)}", tested=", ".join(tested)),)


def _voltage(piece: Piece) -> tuple[Limit, ...]:
    percent = VOLTAGE.get(piece.family)
    clause = LINE_16.of(piece.book)
    return (around(piece, "voltage", percent, clause),) if percent else ()


def _travel(piece: Piece) -> tuple[Limit, ...]:
    percent = TRAVEL.get(piece.family)
    if percent is None:
        return ()
    if piece.family != "SAW":
        return (around(piece, "travel_speed", percent, LINE_18.of(piece.book)),)
    wide = lenient(SAW_SPEED, piece.settings)
    readings = (SAW_SPEED.used(piece.settings),)
    clause = LINE_18_SAW.of(piece.book)
    return (around(piece, "travel_speed", SAW_TRAVEL_WIDE if wide else percent, clause, (), readings),)


def _setting(piece: Piece) -> tuple[Limit, ...]:
    """Lines 22 to 26, submerged arc: spacing of arcs, angle between electrodes, angles of a machine's electrode."""
    if piece.family != "SAW":
        return ()
    several = (piece.most("electrodes") or Decimal(1)) > 1
    found = [_angle(piece, name) for name in ("electrode_angle_along", "electrode_angle_across")]
    if several:
        found += [_spacing(piece, "arc_spacing_along", LINE_22), _spacing(piece, "arc_spacing_across", LINE_23)]
        found.append(_angle(piece, "electrode_angle_between"))
    return tuple(found)


def _spacing(piece: Piece, name: str, rule: Rule) -> Limit:
    clause = rule.of(piece.book)
    tested = piece.least(name)
    if tested is None:
        return unrecorded(name, clause)
    room = max(tested * SPACING_PERCENT / 100, piece.mm(SPACING))
    span = Interval(max(tested - room, Decimal(0)), tested + room, "mm")
    because = f"tested {piece.said(tested)}: 10 % or {SPACING}, the greater"
    return Limit(name, Within(span), clause, because)


def _angle(piece: Piece, name: str) -> Limit:
    rule, room = ANGLES[name]
    clause = rule.of(piece.book)
    when = () if name == "electrode_angle_between" else MACHINE
    tested = piece.least(name)
    if tested is None:
        return unrecorded(name, clause, when=when)
    # Angles are stated without sign: towards or away from travel is one figure only where both stay on one side.
    span = Interval(max(tested - room, Decimal(0)), tested + room, "°")
    return Limit(name, Within(span), clause, f"tested {number(tested)}°, ±{number(room)}°", when)
