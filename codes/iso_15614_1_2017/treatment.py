"""ISO 15614-1:2017, 8.4.11: heat treatment after (and for precipitation-hardening steels before) welding. degC."""

from decimal import Decimal

from codes.clauses import Mark
from codes.iso_15614_1_2017.filler import SameText
from codes.iso_15614_1_2017.piece import Piece, unrecorded
from codes.iso_15614_1_2017.sources import clause
from codes.limits import Allowed, Free, Limit, Nothing, OneOf, When, span, when_is
from codes.values import number

TREATMENT = clause("8.4.11", Mark.MEMORY)
BEFORE = clause("8.4.11 (2004: 8.4.13)", Mark.MEMORY)
BAND = Decimal(20)
PRECIPITATION_HARDENED = ("3.3", "7.3")
TREATED: tuple[When, ...] = (when_is("pwht", "yes"),)


def limits(piece: Piece) -> tuple[Limit, ...]:
    """Neither added nor left out; level 2 holds within 20 degrees, level 1 in the same class; state before welding."""
    return (*_after(piece), *_before(piece))


def _after(piece: Piece) -> tuple[Limit, ...]:
    tested = piece.words("pwht")
    if not tested:
        return (unrecorded("pwht", TREATMENT),)
    done = "with" if tested[0] == "yes" else "without"
    because = f"tested {done} heat treatment: neither added nor left out"
    kept = Limit("pwht", OneOf(tested[:1]), TREATMENT, because, tested=tested[0])
    if tested[0] == "no":
        return (kept,)
    held = Limit("pwht_minutes", Free(), TREATMENT, "holding time is judged from the thickness", reason="pwht")
    return (kept, _class(piece) if piece.level == 1 else _temperature(piece), held)


def _class(piece: Piece) -> Limit:
    tested = piece.words("pwht_class")
    if not tested:
        return unrecorded("pwht_class", TREATMENT, when=TREATED, reason="pwht")
    because = "level 1: same class against the transformation range"
    return Limit("pwht_class", OneOf(tested), TREATMENT, because, TREATED, reason="pwht", tested=tested[0])


def _temperature(piece: Piece) -> Limit:
    low, high = piece.least("pwht_temperature"), piece.most("pwht_temperature")
    if low is None or high is None:
        return unrecorded("pwht_temperature", TREATMENT, when=TREATED, reason="pwht")
    crossed = high - BAND > low + BAND
    allowed: Allowed = Nothing() if crossed else span(high - BAND, low + BAND, "°C")
    words = f"{number(low)} °C" if low == high else f"{number(low)} to {number(high)} °C"
    because = f"tested {words}: 20 °C either way"
    return Limit("pwht_temperature", allowed, TREATMENT, because, TREATED, (), "pwht", tested=words)


def _before(piece: Piece) -> tuple[Limit, ...]:
    """Applies to precipitation-hardening steels only."""
    groups = {steel.group for pair in piece.steel_pairs("steels") for steel in pair}
    if not groups & set(PRECIPITATION_HARDENED):
        return ()
    tested = piece.words("delivery_state")
    if not tested:
        return (unrecorded("delivery_state", BEFORE),)
    because = "precipitation-hardening steel: welded in the tested state"
    return (Limit("delivery_state", SameText(tested), BEFORE, because, tested=", ".join(tested)),)
