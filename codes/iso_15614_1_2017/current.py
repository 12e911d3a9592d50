"""ISO 15614-1:2017, 8.4.6: type of current, polarity, pulses (both levels)."""

from codes.clauses import Mark
from codes.iso_15614_1_2017.piece import Piece, unrecorded
from codes.iso_15614_1_2017.sources import clause
from codes.limits import Limit, OneOf, when_is

CURRENT = clause("8.4.6", Mark.MEMORY)
NO_ARC = ("311",)
PULSE_PROCESSES = ("131", "132", "133", "135", "136", "137", "138", "141", "142", "143", "145", "15")
"""Processes whose power source can pulse as a rule: the record must say whether it did."""


def limits(piece: Piece) -> tuple[Limit, ...]:
    """Current and polarity as tested; 111 on AC also covers DC where no impact properties are required."""
    if piece.process in NO_ARC:
        return ()
    return (*_polarity(piece), *_pulses(piece))


def _polarity(piece: Piece) -> tuple[Limit, ...]:
    tested = piece.words("current_type")
    if not tested:
        return (unrecorded("current_type", CURRENT, reason="polarity"),)
    words = ", ".join(tested)
    if piece.process == "111" and "AC" in tested:
        text = "111 tested on AC: direct current too where no impact properties are required"
        impact = (when_is("impact_required", "yes"),)
        wide = Limit("current_type", OneOf(("AC", "DC+", "DC-")), CURRENT, text, (), (), "polarity", tested=words)
        return (wide, Limit("current_type", OneOf(tested), CURRENT, text, impact, (), "polarity", tested=words))
    because = f"tested on {words}: same type and polarity"
    return (Limit("current_type", OneOf(tested), CURRENT, because, (), (), "polarity", tested=words),)


def _pulses(piece: Piece) -> tuple[Limit, ...]:
    tested = piece.words("pulsed_current") or _from_transfer(piece)
    if not tested:
        return (unrecorded("pulsed_current", CURRENT),) if piece.process in PULSE_PROCESSES else ()
    because = "pulsed and plain current are two types"
    return (Limit("pulsed_current", OneOf(tested), CURRENT, because, tested=", ".join(tested)),)


def _from_transfer(piece: Piece) -> tuple[str, ...]:
    """A pulsed transfer tells a pulsed current."""
    return tuple(dict.fromkeys("yes" if mode == "pulsed" else "no" for mode in piece.words("transfer_mode")))
