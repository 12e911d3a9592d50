"""ISO 15614-1:2017, 8.4.7: heat input or arc energy, kJ/mm. The two are never compared with each other."""

from decimal import Decimal

from codes.clauses import Mark
from codes.iso_15614_1_2017.piece import Piece, unrecorded
from codes.iso_15614_1_2017.position import places_of, tests_at_extremes
from codes.iso_15614_1_2017.sources import HEAT_FORUM, clause
from codes.iso_15614_1_2017.switches import HEAT_LEVEL_1, lenient
from codes.limits import Free, Limit, OneOf, When, span, times, when_is

HEAT = clause("8.4.7", Mark.CONFIRMED, HEAT_FORUM)
HEAT_AT_1 = clause("8.4.7, level 1", Mark.DOUBT)
UPPER, LOWER = Decimal("1.25"), Decimal("0.75")
NO_ARC = ("311",)


def limits(piece: Piece) -> tuple[Limit, ...]:
    """At most 1.25 times with impact requirement, at least 0.75 times with hardness requirement (level 2)."""
    if piece.process in NO_ARC:
        return ()
    impact, hardness = (when_is("impact_required", "yes"),), (when_is("hardness_required", "yes"),)
    free = Limit("heat_input", Free(), HEAT, "no limit where neither impact nor hardness properties are required")
    if piece.level == 1:
        return (free, *_measure(piece, impact), _highest(piece, impact))
    return (
        free,
        *_measure(piece, impact),
        *_measure(piece, hardness),
        _highest(piece, impact),
        _lowest(piece, hardness),
    )


def _measure(piece: Piece, when: tuple[When, ...]) -> tuple[Limit, ...]:
    tested = piece.words("heat_measure")
    if not tested:
        return (unrecorded("heat_measure", HEAT, "whether it gives arc energy or heat input", when, "heat_input"),)
    name = tested[0].replace("_", " ")
    because = f"the record gives {name}; arc energy and heat input (with k) are not compared with each other"
    needs = f"the value as {name}"
    return (Limit("heat_measure", OneOf(tested[:1]), HEAT, because, when, (), "heat_input", needs, tested=name),)


def _same_measure(piece: Piece, when: tuple[When, ...]) -> tuple[When, ...]:
    tested = piece.words("heat_measure")
    return (*when, when_is("heat_measure", tested[0])) if tested else when


def _highest(piece: Piece, when: tuple[When, ...]) -> Limit:
    tested = _tested(piece, "impact")
    if tested is None:
        return unrecorded("heat_input", HEAT, "the heat input of the piece with the impact tests", when)
    when = _same_measure(piece, when)
    if piece.level == 2:
        because = f"tested {tested} kJ/mm, impact requirement: {times(UPPER, tested, 'kJ/mm')} at most"
        return _limit(None, UPPER * tested, because, when, tested)
    factor = UPPER if lenient(HEAT_LEVEL_1, piece.settings) else Decimal(1)
    because = f"tested {tested} kJ/mm, impact requirement at level 1: {times(factor, tested, 'kJ/mm')} at most"
    readings = (HEAT_LEVEL_1.used(piece.settings),)
    allowed = span(None, factor * tested, "kJ/mm")
    return Limit("heat_input", allowed, HEAT_AT_1, because, when, readings, "heat_input", tested=f"{tested} kJ/mm")


def _lowest(piece: Piece, when: tuple[When, ...]) -> Limit:
    tested = _tested(piece, "hardness")
    if tested is None:
        return unrecorded("heat_input", HEAT, "the heat input of the piece with the hardness test", when)
    because = f"tested {tested} kJ/mm, hardness requirement: {times(LOWER, tested, 'kJ/mm')} at least"
    return _limit(LOWER * tested, None, because, _same_measure(piece, when), tested)


def _limit(lo: Decimal | None, hi: Decimal | None, because: str, when: tuple[When, ...], tested: Decimal) -> Limit:
    return Limit("heat_input", span(lo, hi, "kJ/mm"), HEAT, because, when, (), "heat_input", tested=f"{tested} kJ/mm")


def _tested(piece: Piece, test: str) -> Decimal | None:
    """The heat input that counts: of the piece tested; else the highest (impact) or lowest (hardness) welded.

    Where several positions were welded and only some tested, away from the extremes, the record must say which.
    """
    pick = max if test == "impact" else min
    own = piece.numbers(f"heat_input_{test}")
    if own:
        return pick(own)
    welded = piece.numbers("heat_input")
    places = places_of(piece, test)
    partly = places is None or set(places) != set(piece.words("position"))
    if len(set(welded)) > 1 and partly and not tests_at_extremes(piece):
        return None
    return pick(welded, default=None)
