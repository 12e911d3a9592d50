"""ISO 15614-1:2017, 8.4.8 to 8.4.10: preheat, interpass, post-heating for hydrogen release. Units: degC, minutes."""

from decimal import Decimal

from codes.clauses import Mark
from codes.iso_15614_1_2017.piece import Piece, unrecorded
from codes.iso_15614_1_2017.sources import TEMPERATURE_FORUM, TEXT, clause
from codes.iso_15614_1_2017.steels import main_group
from codes.iso_15614_1_2017.switches import TEMPERATURES, lenient
from codes.limits import Free, Limit, OneOf, When, span, unless
from codes.values import number

PREHEAT = clause("8.4.8", Mark.PART, TEMPERATURE_FORUM)
PREHEAT_AT_2 = clause("8.4.8, level 2", Mark.DOUBT, TEMPERATURE_FORUM)
INTERPASS = clause("8.4.9", Mark.PART, TEMPERATURE_FORUM)
INTERPASS_AT_2 = clause("8.4.9, level 2", Mark.DOUBT, TEMPERATURE_FORUM)
CAPPING = clause("8.4.9, capping runs", Mark.PART, TEXT)
POST_HEAT = clause("8.4.10", Mark.MEMORY)

TOLERANCE = Decimal(50)
NO_INTERPASS_TOLERANCE = (8, 10, *range(41, 49))
SEVERAL_RUNS: tuple[When, ...] = (unless("run_type", "single_run"),)


def limits(piece: Piece) -> tuple[Limit, ...]:
    """Preheat, raised preheat of the capping runs, interpass, post-heating."""
    return (_preheat(piece), *_capping(piece), _interpass(piece), *_post_heat(piece))


def _tolerant(piece: Piece) -> bool:
    return piece.level == 1 or lenient(TEMPERATURES, piece.settings)


def _readings(piece: Piece) -> tuple[str, ...]:
    return (TEMPERATURES.used(piece.settings),) if piece.level == 2 else ()


def _preheat(piece: Piece) -> Limit:
    tested = piece.most("preheat")
    if tested is None:
        return unrecorded("preheat", PREHEAT)
    where = PREHEAT if piece.level == 1 else PREHEAT_AT_2
    least = tested - TOLERANCE if _tolerant(piece) else tested
    off = "50 °C below it at the lowest, while the cracking check holds" if _tolerant(piece) else "no reduction"
    because = f"tested {number(tested)} °C: {off}; never below the application code's minimum"
    allowed = span(least, None, "°C")
    return Limit("preheat", allowed, where, because, (), _readings(piece), tested=f"{number(tested)} °C")


def _capping(piece: Piece) -> tuple[Limit, ...]:
    """A preheat raised on purpose for the capping runs is repeated in production."""
    tested = piece.most("capping_preheat")
    if tested is None:
        return ()
    because = f"capping runs welded at a preheat raised to {number(tested)} °C: repeat it"
    return (Limit("capping_preheat", span(tested, None, "°C"), CAPPING, because, (), (), "preheat"),)


def _interpass(piece: Piece) -> Limit:
    """Highest tested value, at level 1 50 degrees more (not for stainless and duplex steels or nickel alloys)."""
    tested = piece.most("interpass")
    if tested is None:
        return unrecorded("interpass", INTERPASS, when=SEVERAL_RUNS)
    groups = {main_group(steel) for pair in piece.steel_pairs("steels") for steel in pair}
    tolerant = _tolerant(piece) and not groups & {None, *NO_INTERPASS_TOLERANCE}
    where = INTERPASS if piece.level == 1 else INTERPASS_AT_2
    most = tested + TOLERANCE if tolerant else tested
    because = f"tested {number(tested)} °C: {'50 °C more at most' if tolerant else 'no increase'}"
    allowed = span(None, most, "°C")
    words = f"{number(tested)} °C"
    return Limit("interpass", allowed, where, because, SEVERAL_RUNS, _readings(piece), tested=words)


def _post_heat(piece: Piece) -> tuple[Limit, ...]:
    """May be added; not left out, nor its temperature or time reduced."""
    temperature, minutes = piece.most("post_heat_temperature"), piece.most("post_heat_minutes")
    done = piece.word("post_heat") or ("yes" if temperature is not None else None)
    if done is None:
        return (unrecorded("post_heat", POST_HEAT, reason="hydrogen_release"),)
    if done == "no":
        return (Limit("post_heat", Free(), POST_HEAT, "tested without: it may be added", reason="hydrogen_release"),)
    # A demand that gives temperature and time need not also say "yes"; without them it is asked for them.
    kept = Limit(
        "post_heat", OneOf(("yes",)), POST_HEAT, "tested with post-heating", reason="hydrogen_release", assumed="yes"
    )
    found = [kept]
    for name, value, unit in (("post_heat_temperature", temperature, "°C"), ("post_heat_minutes", minutes, "min")):
        if value is None:
            found.append(unrecorded(name, POST_HEAT, reason="hydrogen_release"))
            continue
        because = f"tested {number(value)} {unit}: not reduced"
        found.append(Limit(name, span(value, None, unit), POST_HEAT, because, reason="hydrogen_release"))
    return tuple(found)
