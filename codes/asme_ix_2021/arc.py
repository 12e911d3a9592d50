"""QW-409.2 transfer mode of GMAW and FCAW (essential, doubtful from 2021), QW-409.4 current and polarity (SE)."""

from codes.asme_ix_2021.piece import TOUGH, Piece
from codes.asme_ix_2021.sources import Rule
from codes.asme_ix_2021.switches import TRANSFER as TRANSFER_READING
from codes.asme_ix_2021.switches import lenient
from codes.clauses import Mark
from codes.limits import Free, Limit, OneOf

TRANSFER = Rule("QW-409.2")
TRANSFER_NOW = Rule("QW-409.2, from 2021", Mark.DOUBT)
CURRENT = Rule("QW-409.4")

OPEN_TRANSFER = ("globular", "spray", "pulsed")


def limits(piece: Piece) -> tuple[Limit, ...]:
    """Transfer mode; current type and polarity where toughness is required."""
    return (*_transfer(piece), _current(piece))


def _transfer(piece: Piece) -> tuple[Limit, ...]:
    if not piece.wire_fed:
        return ()
    doubtful = piece.year >= 2021
    rule = TRANSFER_NOW if doubtful else TRANSFER
    used = (TRANSFER_READING.used(piece.settings),) if doubtful else ()
    if doubtful and lenient(TRANSFER_READING, piece.settings):
        because = "only to be stated on the WPS: revise it, no new test"
        return (Limit("transfer_mode", Free(), piece.at(rule), because, (), used),)
    tested = piece.words("transfer_mode")
    if not tested:
        return (piece.unrecorded("transfer_mode", rule),)
    covered = tuple(dict.fromkeys(("dip",) * ("dip" in tested) + OPEN_TRANSFER * bool(set(tested) - {"dip"})))
    because = f"tested {' and '.join(tested)}: short-circuiting covers itself, the other modes cover one another"
    return (Limit("transfer_mode", OneOf(covered), piece.at(rule), because, (), used, tested=", ".join(tested)),)


def _current(piece: Piece) -> Limit:
    tested = piece.words("current_type")
    if not tested:
        return piece.unrecorded("current_type", CURRENT, "current_polarity", (TOUGH,))
    words = ", ".join(tested)
    because = f"tested {words}: current and polarity as tested where toughness is required"
    return Limit("current_type", OneOf(tested), piece.at(CURRENT), because, (TOUGH,), (), "current_polarity")
