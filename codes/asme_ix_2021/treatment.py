"""QW-407.1 condition of heat treatment (essential) and QW-407.2 its time and temperature (with toughness)."""

from decimal import Decimal

from codes.asme_ix_2021.piece import TOUGH, Piece
from codes.asme_ix_2021.sources import PWHT_THREAD, PWHT_TIME, Rule
from codes.asme_ix_2021.switches import PWHT_TEMPERATURE, lenient
from codes.clauses import Mark
from codes.limits import Free, Limit, OneOf, span, when_is
from codes.values import number

CONDITION = Rule("QW-407.1", Mark.PART, PWHT_THREAD)
CONDITION_OTHER = Rule("QW-407.1, other P-numbers", Mark.MEMORY)
TIME = Rule("QW-407.2, time", Mark.PART, PWHT_TIME)
TEMPERATURE = Rule("QW-407.2, temperature", Mark.DOUBT)

TREATED = when_is("pwht", "yes")
SHARE = Decimal("0.8")
FIVE_CONDITIONS = (
    *(f"P{n}" for n in (1, 2, 3, 4, "5A", "5B", "5C", 6)),
    *(f"P{n}" for n in ("9A", "9B", "9C", "10A", "10B", "10C", "10F", "10G", "10H", "10I", "10J", "10K")),
    *(f"P{n}" for n in ("11A", "11B", "15E", "15F")),
)
"""P-1 to P-6 and P-9 to P-15F (from memory): their heat treatment is one of five conditions."""


def limits(piece: Piece) -> tuple[Limit, ...]:
    """Neither added nor left out; the same condition; time at least 80 % of production, where toughness is required."""
    tested = piece.word("pwht")
    if tested is None:
        return (piece.unrecorded("pwht", CONDITION),)
    done = "with" if tested == "yes" else "without"
    because = f"tested {done} heat treatment: neither added nor left out"
    kept = Limit("pwht", OneOf((tested,)), piece.at(CONDITION), because, tested=tested)
    if tested == "no":
        return (kept,)
    five = bool(piece.p_numbers) and None not in piece.metals and piece.p_numbers.issubset(FIVE_CONDITIONS)
    return (kept, _condition(piece) if five else _range(piece), *_time(piece), *_temperature(piece, five))


def _condition(piece: Piece) -> Limit:
    tested = piece.words("pwht_condition")
    if not tested:
        return piece.unrecorded("pwht_condition", CONDITION, "pwht", (TREATED,))
    because = "the condition against the transformation temperatures as tested"
    return Limit("pwht_condition", OneOf(tested), piece.at(CONDITION), because, (TREATED,), (), "pwht")


def _range(piece: Piece) -> Limit:
    lo, hi = piece.least("pwht_temperature"), piece.most("pwht_temperature")
    if lo is None:
        return piece.unrecorded("pwht_temperature", CONDITION_OTHER, "pwht", (TREATED,))
    because = "heat treated inside the recorded range of temperature"
    return Limit("pwht_temperature", span(lo, hi, "°C"), piece.at(CONDITION_OTHER), because, (TREATED,), (), "pwht")


def _time(piece: Piece) -> tuple[Limit, ...]:
    """The coupon had at least 80 % of the total time of production; one cycle may stand for the sum."""
    tested = piece.least("pwht_minutes")
    if tested is None:
        return (piece.unrecorded("pwht_minutes", TIME, "pwht_time", (TOUGH, TREATED)),)
    most = tested / SHARE
    because = f"tested {number(tested)} min: at least 80 % of the total time, so up to {number(most)} min"
    return (Limit("pwht_minutes", span(None, most, "min"), piece.at(TIME), because, (TOUGH, TREATED), (), "pwht_time"),)


def _temperature(piece: Piece, five: bool) -> tuple[Limit, ...]:
    if not five:
        return ()
    when, used = (TOUGH, TREATED), (PWHT_TEMPERATURE.used(piece.settings),)
    where = piece.at(TEMPERATURE)
    if lenient(PWHT_TEMPERATURE, piece.settings):
        return (Limit("pwht_temperature", Free(), where, "only condition and time bind", when, used, "pwht"),)
    lo, hi = piece.least("pwht_temperature"), piece.most("pwht_temperature")
    if lo is None:
        return (piece.unrecorded("pwht_temperature", TEMPERATURE, "pwht", when),)
    because = "inside the recorded temperatures where toughness is required (strict)"
    return (Limit("pwht_temperature", span(lo, hi, "°C"), where, because, when, used, "pwht"),)
