"""QW-409.1: heat input, where toughness is required. Units: kJ/mm. No efficiency factor, no tolerance.

The record's highest set counts: top volts and amperes with the least travel. Volts x amperes / travel is compared
with its like, the source's instantaneous energy with its like; waveform-controlled sources use the second only.
"""

from codes.asme_ix_2021.piece import SMAW, TOUGH, Piece
from codes.asme_ix_2021.sources import HEAT_THREAD, Rule
from codes.clauses import Mark
from codes.limits import Limit, OneOf, span, when_is
from codes.values import number

HEAT = Rule("QW-409.1", Mark.CONFIRMED, HEAT_THREAD)
METHOD = Rule("QW-409.1, ways of measuring", Mark.MEMORY)
REASON = "heat_input"


def limits(piece: Piece) -> tuple[Limit, ...]:
    """Highest heat input, without efficiency factor, worked out the same way."""
    if piece.austenitised:
        return ()
    return (*_heat(piece), *_method(piece))


def _heat(piece: Piece) -> tuple[Limit, ...]:
    tested = piece.most("heat_input")
    measure = piece.word("heat_measure")
    if tested is None or measure != "arc_energy":
        field = "the heat input without efficiency factor (arc energy)"
        return (piece.unrecorded("heat_input", HEAT, REASON, (TOUGH,), field),)
    words = f"{number(tested)} kJ/mm"
    because = f"tested {words}, toughness required: no increase, no efficiency factor"
    where = piece.at(HEAT)
    return (
        Limit("heat_input", span(None, tested, "kJ/mm"), where, because, (TOUGH,), (), REASON, tested=words),
        Limit("heat_measure", OneOf(("arc_energy",)), where, "no efficiency factor", (TOUGH,), (), REASON),
    )


def _method(piece: Piece) -> tuple[Limit, ...]:
    where = piece.at(METHOD)
    if piece.family == SMAW:
        return ()
    tested = piece.word("heat_method")
    if tested is None:
        return (piece.unrecorded("heat_method", METHOD, REASON, (TOUGH,)),)
    if tested == "conventional" and piece.word("waveform_controlled") == "yes":
        field = "the instantaneous energy of the waveform-controlled source"
        return (piece.unrecorded("heat_method", METHOD, REASON, (TOUGH,), field),)
    because = "worked out the same way as in the test"
    kept = Limit("heat_method", OneOf((tested,)), where, because, (TOUGH,), (), REASON, tested=tested)
    if tested != "conventional":
        return (kept,)
    text = "volts times amperes do not serve waveform-controlled welding"
    when = (TOUGH, when_is("heat_method", "conventional"))
    return (kept, Limit("waveform_controlled", OneOf(("no",)), where, text, when, (), REASON))
