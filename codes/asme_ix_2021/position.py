"""QW-405.1: a procedure serves every position. QW-405.2 (2017): with toughness, vertical uphill needs its own test."""

from codes.asme_ix_2021.edition_table import stands
from codes.asme_ix_2021.piece import SAW, TOUGH, Piece
from codes.asme_ix_2021.sources import POSITION_2019, Rule
from codes.clauses import Mark
from codes.limits import Free, Limit, OneOf, When, unless, when_is
from codes.terms import tokens

ANY = Rule("QW-405.1", Mark.CONFIRMED, POSITION_2019)
UPHILL = Rule("QW-405.2", Mark.PART, POSITION_2019)

UP = ("PF", "PH", "H-L045")


def limits(piece: Piece) -> tuple[Limit, ...]:
    """Every position; in 2017 vertical uphill and weaving in it only as tested, where toughness is required."""
    because = "a procedure welded in any position serves all; state the position on the WPS"
    free = Limit("position", Free(), piece.at(ANY), because)
    if not stands("405.2", piece.year) or piece.family == SAW:
        return (free,)
    return (free, *_uphill(piece))


def _uphill(piece: Piece) -> tuple[Limit, ...]:
    tested = piece.words("position")
    if not tested:
        return (piece.unrecorded("position", UPHILL, when=(TOUGH,)),)
    where = piece.at(UPHILL)
    if not set(tested) & set(UP):
        covered = tuple(token for token in tokens("position") if token not in UP)
        because = "not tested vertical uphill: no uphill where toughness is required"
        return (Limit("position", OneOf(covered), where, because, (TOUGH,), tested=", ".join(tested)),)
    return (_weave(piece, where_rule=UPHILL),)


def _weave(piece: Piece, where_rule: Rule) -> Limit:
    when: tuple[When, ...] = (TOUGH, when_is("position", *UP))
    tested = piece.words("weave")
    if not tested:
        return piece.unrecorded("weave", where_rule, "position", (*when, unless("weave", "stringer")))
    covered = ("stringer", "weave") if "weave" in tested else ("stringer",)
    because = "uphill: no change from stringer to weave where toughness is required"
    return Limit("weave", OneOf(covered), piece.at(where_rule), because, when, (), "position")
