"""AWS D1.1, 6.8.5 and Table 6.5 [4.5], lines 35 to 37: heat input, preheat, interpass and heat treatment.

Heat input is energy over length, kJ/mm; no arc efficiency enters. For waveform-controlled welding the source's
instantaneous energy or power is used: volts times amperes may be wrong either way.
"""

from decimal import Decimal

from codes.aws_d1_1.book import Rule, line
from codes.aws_d1_1.piece import Piece, unrecorded
from codes.aws_d1_1.unit_sets import Degrees, Units, floor_thousandth
from codes.limits import Limit, OneOf, When, Within, when_is
from codes.values import Interval, number

LINE_35, LINE_36, LINE_37 = line("35"), line("36"), line("37")

LOWER = {"GTAW": Degrees(100, 55)}
LOWER_ELSE = Degrees(25, 15)


def conventional(volts: Decimal, amperes: Decimal, mm_per_min: Decimal) -> Decimal:
    """60 V I / 1000 v in kJ/mm. Raises ValueError for a speed of 0 or less.

    Example: 28 V, 250 A at 304.8 mm/min (12 in/min) is 1.378 kJ/mm, 35.0 kJ/in.
    """
    return from_power(volts * amperes, mm_per_min)


def from_power(watts: Decimal, mm_per_min: Decimal) -> Decimal:
    """Instantaneous power over travel speed, kJ/mm. Raises ValueError for a speed of 0 or less."""
    if mm_per_min <= 0:
        raise ValueError(f"travel speed must be more than 0 mm/min, not {number(mm_per_min)}")
    return 60 * watts / (1000 * mm_per_min)


def from_energy(joules: Decimal, length_mm: Decimal) -> Decimal:
    """Instantaneous energy over the length of the run, kJ/mm. Raises ValueError for a length of 0 or less."""
    if length_mm <= 0:
        raise ValueError(f"length must be more than 0 mm, not {number(length_mm)}")
    return joules / length_mm / 1000


def heat_input_of(piece: Piece) -> Decimal | None:
    """The heat input of a record: stated, else worked out from its volts, amperes and speed; None where neither."""
    stated = piece.most("heat_input")
    volts, amperes, speed = (piece.most(name) for name in ("voltage", "current", "travel_speed"))
    if stated is not None or volts is None or amperes is None or speed is None:
        return stated
    return conventional(volts, amperes, speed)


def limits(piece: Piece) -> tuple[Limit, ...]:
    """Lines 35 to 37."""
    many = (when_is("run_type", "multi_run"),)
    return (
        _lowest(piece, "preheat", LINE_35, (), "preheat"),
        _lowest(piece, "interpass_min", LINE_36, many, "interpass"),
        _treatment(piece),
    )


def _lowest(piece: Piece, name: str, rule: Rule, when: tuple[When, ...], reason: str) -> Limit:
    clause = rule.of(piece.book)
    tested = piece.least(name)
    if tested is None:
        return unrecorded(name, clause, when=when, reason=reason)
    room = LOWER.get(piece.family, LOWER_ELSE)
    least = tested - room.celsius(piece.units)
    if piece.units is Units.US:
        least = floor_thousandth(least)
    said = piece.said(tested, "°C")
    because = f"tested {said}, lower by {room} at most"
    return Limit(name, Within(Interval(least, None, "°C")), clause, because, when, reason=reason, tested=said)


def _treatment(piece: Piece) -> Limit:
    clause = LINE_37.of(piece.book)
    tested = piece.word("pwht")
    if not tested:
        return unrecorded("pwht", clause, "whether the test was heat-treated")
    because = f"tested {'with' if tested == 'yes' else 'without'} heat treatment"
    return Limit("pwht", OneOf((tested,)), clause, because, tested=tested)
