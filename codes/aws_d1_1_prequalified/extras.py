"""AWS D1.1: what a prequalified procedure alone does not carry: scope, branch welds, heat treatment, toughness."""

from collections.abc import Iterator

from codes.aws_d1_1.book import D1_3, OWN, rule
from codes.aws_d1_1.piece import Piece
from codes.aws_d1_1.size_rows import THINNEST
from codes.clauses import Mark
from codes.limits import Limit, OneOf, Within, when_is
from codes.values import Interval

SCOPE = rule("scope", Mark.CONFIRMED, D1_3)
NO_CONNECTIONS = rule("joint details", Mark.OWN, OWN)
TREATMENT = rule("heat treatment", Mark.OWN, OWN)
TOUGHNESS = rule("CVN")

KINDS = ("butt_cjp", "butt_pjp", "fillet")


def limits(piece: Piece) -> Iterator[Limit]:
    """Conditions that the contract or the Engineer must settle are answered 'not stated'."""
    clause = SCOPE.of(piece.book)
    least = Within(Interval(piece.mm(THINNEST), None, "mm"))
    yield Limit("parent_t", least, clause, f"under {THINNEST} the sheet steel code applies", reason="thickness")
    clause = NO_CONNECTIONS.of(piece.book)
    yield Limit("weld_type", OneOf(KINDS), clause, "T-, Y-, K-connections are not entered here")
    treated = (when_is("pwht", "yes"),)
    clause = TREATMENT.of(piece.book)
    needs = "the conditions of the code on heat treatment of prequalified procedures, checked by hand"
    yield Limit("pwht", OneOf(("no",)), clause, "", treated, needs=needs)
    tough = (when_is("impact_required", "yes"),)
    clause = TOUGHNESS.of(piece.book)
    needs = "the contract's leave to take the filler's classification as proof of toughness, else a test"
    yield Limit("impact_required", OneOf(("no",)), clause, "", tough, reason="impact", needs=needs)
