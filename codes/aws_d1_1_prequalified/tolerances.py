"""AWS D1.1, Table 5.2 [3.7]: how far the work may leave the values written on a prequalified procedure.

The contractor chooses the central value. Where a range is written its middle is taken, and the whole range must lie
inside the tolerance (AWS interpretation D1.1-08-I01): a line that carries the maker's whole range may be too wide.
"""

from collections.abc import Iterator
from decimal import Decimal

from codes.aws_d1_1.book import INTERPRETATION, rule
from codes.aws_d1_1.piece import Piece
from codes.aws_d1_1.unit_sets import Size
from codes.aws_d1_1_2020.tolerance import Percent, either_way
from codes.aws_d1_1_prequalified.switches import GAS_FLOW, SAW_SPEED, VOLTAGE, lenient
from codes.clauses import Clause, Mark
from codes.limits import Limit, OneOf, Within
from codes.readings import Switch
from codes.values import Interval, number
from codes.variables import VARIABLES
from codes.words import term_words

AROUND = rule("written variables", Mark.MEMORY, f"from memory; {INTERPRETATION}")
DOUBTED = rule("written variables", Mark.DOUBT)

WIRES = ("SAW", "GMAW", "FCAW")
CURRENT = WIRE_FEED = either_way(10)
TRAVEL = either_way(25)
# Doubtful ones: (switch, strict, lenient).
VOLTS = (VOLTAGE, either_way(7), either_way(15))
SAW_TRAVEL = (SAW_SPEED, either_way(15), either_way(25))
FLOW = (GAS_FLOW, Percent(Decimal(20), Decimal(25)), either_way(25))
SPACING, SPACING_PART = Size("1/8", "3"), Decimal("0.1")
ANGLES = {"electrode_angle_between": 10, "electrode_angle_along": 3, "electrode_angle_across": 5}
AS_WRITTEN = ("current_type", "transfer_mode", "power_output", "wire_system", "gas_mixture", "pwht")


def limits(piece: Piece) -> Iterator[Limit]:
    """What the procedure writes, with its tolerance; what it does not write is not bound here."""
    clause = AROUND.of(piece.book)
    for name in AS_WRITTEN:
        if piece.words(name):
            because = f"written {', '.join(term_words(name, token) for token in piece.words(name))}"
            yield Limit(name, OneOf(piece.words(name)), clause, because)
    if piece.family not in WIRES:
        return
    yield from _around(piece, "current", CURRENT, clause)
    yield from _around(piece, "wire_feed", WIRE_FEED, clause)
    yield from _doubtful(piece, "voltage", *VOLTS)
    if piece.family == "SAW":
        yield from _doubtful(piece, "travel_speed", *SAW_TRAVEL)
        yield from _setting(piece, clause)
    else:
        yield from _around(piece, "travel_speed", TRAVEL, clause)
        yield from _doubtful(piece, "gas_flow", *FLOW)


def middle(piece: Piece, name: str) -> Decimal | None:
    """The value written, or the middle of the range written."""
    stated = piece.numbers(name)
    return (min(stated) + max(stated)) / 2 if stated else None


def _around(
    piece: Piece, name: str, percent: Percent, clause: Clause, readings: tuple[str, ...] = ()
) -> Iterator[Limit]:
    written = middle(piece, name)
    if written is None:
        return
    unit = VARIABLES[name].unit
    because = f"written {piece.said(written, unit)}, {percent}"
    yield Limit(name, Within(percent.around(written, unit)), clause, because, (), readings)


def _doubtful(piece: Piece, name: str, switch: Switch, strict: Percent, wide: Percent) -> Iterator[Limit]:
    percent = wide if lenient(switch, piece.settings) else strict
    clause = DOUBTED.of(piece.book)
    yield from _around(piece, name, percent, clause, (switch.used(piece.settings),))


def _setting(piece: Piece, clause: Clause) -> Iterator[Limit]:
    for name in ("arc_spacing_along", "arc_spacing_across"):
        written = middle(piece, name)
        if written is not None:
            room = max(written * SPACING_PART, piece.mm(SPACING))
            span = Interval(max(written - room, Decimal(0)), written + room, "mm")
            yield Limit(name, Within(span), clause, f"written {piece.said(written)}: 10 % or {SPACING}")
    for name, degrees in ANGLES.items():
        written = middle(piece, name)
        if written is not None:
            span = Interval(max(written - degrees, Decimal(0)), written + degrees, "°")
            yield Limit(name, Within(span), clause, f"written {number(written)}°, ±{degrees}°")
