"""What AWS D1.1 and ASME IX have in common on people: retests, the mode of the test, tests in several positions."""

from collections.abc import Callable, Sequence
from dataclasses import replace

from codes.aws_positions import parts_of
from codes.clauses import Clause
from codes.editions import Tested
from codes.limits import Limit, LimitSet, Nothing
from codes.pieces import figure, term, terms, unrecorded
from codes.values import Value, number

Piece = dict[str, Value]
LEAST_RETEST_WELDS = 2


def attempt_limits(piece: Tested, where: Clause, least: int = LEAST_RETEST_WELDS) -> tuple[Limit, ...]:
    """A retest at once takes `least` welds for each that failed; one after further training is a full test.

    Example: an immediate retest with one weld of each failed position covers nothing; with two it does.
    """
    attempt = term(piece, "attempt")
    if attempt == "immediate_retest":
        welds = figure(piece, "retest_welds")
        if welds is None:
            return (unrecorded("process", where, "retest", field="how many welds of each failed kind were retested"),)
        if welds < least:
            because = f"retested at once with {number(welds)} of each failed kind: it takes {least}, all passed"
            return (Limit("process", Nothing(), where, because, reason="retest", tested=number(welds)),)
    if attempt == "after_training" and term(piece, "trained_on") is None:
        return (unrecorded("process", where, "retest", field="the further training before the retest"),)
    return ()


def tested_mode_limits(piece: Tested, modes: tuple[str, ...], kind: str, where: Clause) -> tuple[Limit, ...]:
    """The test must have been of the kind that the record claims; a record that says nothing is taken at its word."""
    mode = term(piece, "mechanisation")
    if mode is None or mode in modes:
        return ()
    because = f"tested {mode.replace('_', ' ')}: this is no test of {kind}"
    return (Limit("mechanisation", Nothing(), where, because, reason="person", tested=mode),)


def joined(pieces: Sequence[Tested], essential: tuple[str, ...]) -> list[Piece]:
    """Two or more tests that differ in position only, as one test in all their positions.

    Tests without a vertical part join those of either progression. Example: 3G uphill and 4G give one in 3G and 4G.
    """
    found: list[Piece] = []
    for group in _alike(pieces, essential):
        vertical = [piece for piece in group if "V" in parts_of(terms(piece, "aws_position"))]
        level = [piece for piece in group if piece not in vertical]
        for progression in dict.fromkeys(piece.get("progression") for piece in vertical) or {None: None}:
            members = [*level, *(piece for piece in vertical if piece.get("progression") == progression)]
            if len(members) > 1:
                found.append(_one(members, progression))
    return found


def _alike(pieces: Sequence[Tested], essential: tuple[str, ...]) -> list[list[Tested]]:
    groups: dict[tuple[Value | None, ...], list[Tested]] = {}
    for piece in pieces:
        groups.setdefault(tuple(piece.get(name) for name in essential), []).append(piece)
    return list(groups.values())


def _one(members: Sequence[Tested], progression: Value | None) -> Piece:
    names = tuple(dict.fromkeys(p for piece in members for p in terms(piece, "aws_position")))
    one: Piece = dict(members[0]) | {"aws_position": names}
    one.pop("progression", None)
    return one if progression is None else one | {"progression": progression}


def label_of_piece(piece: Tested) -> str:
    """What a limit set is called. Example: "111, 3G + 4G"."""
    where = " + ".join(terms(piece, "aws_position")) or "position not stated"
    return f"{term(piece, 'process') or 'process not stated'}, {where}"


def as_standard(
    sets: tuple[LimitSet, ...], standard: str, place: Callable[[Clause], Clause], words: Callable[[str], str] = str
) -> tuple[LimitSet, ...]:
    """The sets under another edition's name, places and readings, where its figures are the same."""
    return tuple(
        replace(one, standard=standard, limits=tuple(_placed(limit, place, words) for limit in one.limits))
        for one in sets
    )


def _placed(limit: Limit, place: Callable[[Clause], Clause], words: Callable[[str], str]) -> Limit:
    return replace(limit, clause=place(limit.clause), readings=tuple(words(text) for text in limit.readings))
