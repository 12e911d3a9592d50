"""QW-406.1 preheat (essential) and QW-406.3 interpass temperature (with toughness). Units: degC.

The step is 55 degrees Celsius or 100 degrees Fahrenheit, taken in the record's own system; exactly the step is allowed.
"""

from codes.asme_ix_2021.piece import TOUGH, Piece
from codes.asme_ix_2021.sources import PREHEAT_THREAD, Rule
from codes.asme_ix_2021.switches import PREHEAT as PREHEAT_END
from codes.asme_ix_2021.switches import lenient
from codes.asme_ix_2021.thresholds import step_words, stepped
from codes.clauses import Mark
from codes.limits import Limit, span, unless

PREHEAT = Rule("QW-406.1", Mark.CONFIRMED, PREHEAT_THREAD)
INTERPASS = Rule("QW-406.3", Mark.CONFIRMED, PREHEAT_THREAD)


def limits(piece: Piece) -> tuple[Limit, ...]:
    """Lowest preheat, highest interpass temperature."""
    return (_preheat(piece), *_interpass(piece))


def _preheat(piece: Piece) -> Limit:
    found = piece.numbers("preheat")
    if not found:
        return piece.unrecorded("preheat", PREHEAT)
    ranged = len(set(found)) > 1
    tested = min(found) if ranged and lenient(PREHEAT_END, piece.settings) else max(found)
    least = stepped(tested, piece.system, down=True)
    words = piece.degrees(tested)
    because = f"tested preheat {words}: {step_words(piece.system)} lower at most, {piece.degrees(least)}"
    used = (PREHEAT_END.used(piece.settings),) if ranged else ()
    return Limit("preheat", span(least, None, "°C"), piece.at(PREHEAT), because, (), used, tested=words)


def _interpass(piece: Piece) -> tuple[Limit, ...]:
    if piece.austenitised:
        return ()
    several = unless("run_type", "single_run")
    tested = piece.most("interpass")
    if tested is None:
        return (piece.unrecorded("interpass", INTERPASS, when=(TOUGH, several)),)
    most = stepped(tested, piece.system, down=False)
    words = piece.degrees(tested)
    because = f"tested {words}, toughness required: {step_words(piece.system)} higher at most, {piece.degrees(most)}"
    where = piece.at(INTERPASS)
    return (Limit("interpass", span(None, most, "°C"), where, because, (TOUGH, several), tested=words),)
