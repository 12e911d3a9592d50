"""QW-408.2 shielding gas by nominal composition [% by volume], QW-408.9 backing gas of special alloys.

Where the record states shares, shares are compared exactly; where it states the class alone, the class.
"""

from codes.asme_ix_2021.piece import FCAW, GMAW, GTAW, Piece
from codes.asme_ix_2021.sources import Rule
from codes.limits import Limit, OneOf, span
from codes.values import number

SHIELDING = Rule("QW-408.2")
BACKING = Rule("QW-408.9")

SHARES = ("gas_co2", "gas_o2", "gas_he", "gas_h2", "gas_n2")
REASON = "shielding_gas"
SPECIAL = ("P10I", "P10J", "P10K", *(f"P{n}" for n in range(41, 50)))


def limits(piece: Piece) -> tuple[Limit, ...]:
    """Shielding gas, and backing gas where the metal has a rule for it."""
    if piece.family not in (GMAW, FCAW, GTAW):
        return ()
    return (*_shielding(piece), *_backing(piece))


def _shielding(piece: Piece) -> tuple[Limit, ...]:
    tested = piece.word("gas")
    if tested is None:
        return (piece.unrecorded("gas", SHIELDING, REASON),)
    because = f"tested {tested}: another gas, a gas added or left out is a new test"
    where = piece.at(SHIELDING)
    found = [Limit("gas", OneOf((tested,)), where, because, (), (), REASON, tested=tested)]
    for name in SHARES:
        share = piece.most(name)
        if share is not None:
            text = f"tested {number(share)} %: the nominal share is kept"
            found.append(Limit(name, span(share, share, "%"), where, text, (), (), REASON, tested=f"{number(share)} %"))
    return tuple(found)


def _backing(piece: Piece) -> tuple[Limit, ...]:
    if not piece.p_numbers & set(SPECIAL):
        return ()
    tested = piece.word("backing_gas")
    if tested is None:
        return (piece.unrecorded("backing_gas", BACKING),)
    because = "this P-number: backing gas as tested"
    return (Limit("backing_gas", OneOf((tested,)), piece.at(BACKING), because, tested=tested),)
