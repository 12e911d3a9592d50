"""AWS D1.1:2020: limits of welders, operators and tack welders, and tests in several positions read together.

Tests join only where everything essential but the position agrees (3G with 4G, 2G with 5G); otherwise each stands
alone, with its own thickness and its own electrode group.
"""

from collections.abc import Callable, Sequence
from dataclasses import replace

from codes.aws_d1_1_people_2020 import essentials, person, positions, sizes
from codes.aws_d1_1_people_2020.clauses import STANDARD, memory
from codes.aws_positions import parts_of
from codes.continuity import HAND, MACHINE
from codes.editions import Tested
from codes.limits import Limit, LimitSet, Within
from codes.pieces import term, terms
from codes.readings import Settings
from codes.unit_sets import system_of
from codes.values import Interval, Value

ESSENTIAL = (
    "process",
    "transfer_mode",
    "mechanisation",
    "machine_training",
    "unit_system",
    "weld_type",
    "product",
    "box_section",
    "corner_tested",
    "diameter",
    "parent_t",
    "f_number",
    "filler_designation",
    "weld_detail",
    "gouging",
    "wire_system",
    "contractor",
    "soundness_test",
    "attempt",
    "retest_welds",
    "trained_on",
)
Piece = dict[str, Value]
TACK_THICKNESS = memory("6.16, Table 6.12, line 4")


def welder_sets(pieces: Sequence[Tested], settings: Settings) -> tuple[LimitSet, ...]:
    """The alternatives that a welder's tests allow."""
    return _sets(pieces, settings, _welder)


def operator_sets(pieces: Sequence[Tested], settings: Settings) -> tuple[LimitSet, ...]:
    """The alternatives that an operator's tests allow."""
    return _sets(pieces, settings, _operator)


def tack_sets(pieces: Sequence[Tested], settings: Settings) -> tuple[LimitSet, ...]:
    """The alternatives that a tack welder's tests allow."""
    return _sets(pieces, settings, _tack)


def _sets(
    pieces: Sequence[Tested], settings: Settings, limits_of: Callable[[Tested, Settings], tuple[Limit, ...]]
) -> tuple[LimitSet, ...]:
    every = [*pieces, *joined(pieces)]
    return tuple(LimitSet(_label(piece), limits_of(piece, settings), STANDARD) for piece in every)


def joined(pieces: Sequence[Tested]) -> list[Piece]:
    """Two or more tests that differ in position only, as one test in all their positions.

    Tests without a vertical part join those of either progression. Example: 3G uphill and 4G give one in 3G and 4G.
    """
    found: list[Piece] = []
    for group in _alike(pieces):
        vertical = [piece for piece in group if "V" in parts_of(terms(piece, "aws_position"))]
        level = [piece for piece in group if piece not in vertical]
        for progression in dict.fromkeys(piece.get("progression") for piece in vertical) or {None: None}:
            members = [*level, *(piece for piece in vertical if piece.get("progression") == progression)]
            if len(members) > 1:
                found.append(_one(members, progression))
    return found


def _alike(pieces: Sequence[Tested]) -> list[list[Tested]]:
    groups: dict[tuple[Value | None, ...], list[Tested]] = {}
    for piece in pieces:
        groups.setdefault(tuple(piece.get(name) for name in ESSENTIAL), []).append(piece)
    return list(groups.values())


def _one(members: Sequence[Tested], progression: Value | None) -> Piece:
    names = tuple(dict.fromkeys(p for piece in members for p in terms(piece, "aws_position")))
    one: Piece = dict(members[0]) | {"aws_position": names}
    one.pop("progression", None)
    return one if progression is None else one | {"progression": progression}


def _label(piece: Tested) -> str:
    where = " + ".join(terms(piece, "aws_position")) or "position not stated"
    return f"{term(piece, 'process') or 'process not stated'}, {where}"


def _welder(piece: Tested, settings: Settings) -> tuple[Limit, ...]:
    return (
        *person.welder_limits(piece, settings),
        *person.tested_mode_limits(piece, HAND, "a welder"),
        *_weld(piece, settings),
        *essentials.f_number_limits(piece),
        *essentials.progression_limits(piece, settings),
    )


def _operator(piece: Tested, settings: Settings) -> tuple[Limit, ...]:
    electroslag = term(piece, "process") in sizes.ELECTROSLAG
    return (
        *person.operator_limits(piece),
        *person.tested_mode_limits(piece, MACHINE, "an operator"),
        *_weld(piece, settings),
        # Electroslag and electrogas welds run upwards by their nature.
        *(() if electroslag else essentials.progression_limits(piece, settings, "operator")),
        *essentials.electrode_limits(piece),
    )


def _tack(piece: Tested, settings: Settings) -> tuple[Limit, ...]:
    return (
        *person.tack_limits(),
        *person.tested_mode_limits(piece, HAND, "a tack welder"),
        *person.attempt_limits(piece, tack=True),
        *person.employer_limits(piece),
        *essentials.process_limits(piece, settings),
        *essentials.f_number_limits(piece),
        positions.tack_position_limit(piece),
        *essentials.progression_limits(piece, settings, "tack welder"),
        _tack_thickness(piece),
    )


def _weld(piece: Tested, settings: Settings) -> tuple[Limit, ...]:
    """What a welder's and an operator's test of a weld have in common."""
    shared = (
        *person.attempt_limits(piece),
        *person.employer_limits(piece),
        *person.weld_type_limits(piece),
        *essentials.process_limits(piece, settings),
        *sizes.size_limits(piece, settings),
    )
    if term(piece, "process") in sizes.ELECTROSLAG:
        return (*shared, positions.tested_position_limit(piece, positions.TABLE_6_10))
    limits = (*shared, *positions.position_limits(piece))
    if term(piece, "weld_type") in ("fillet", "plug"):
        return limits
    on_pipe = essentials.plate_backing_on_pipe() if term(piece, "product") == "plate" else ()
    branch = (*positions.branch_limits(piece), *positions.angle_limits())
    return (*limits, *branch, *essentials.backing_limits(piece), *on_pipe)


def _tack_thickness(piece: Tested) -> Limit:
    thinnest = sizes.THINNEST.mm(system_of(piece) or "us")
    because = "tack welds on 1/8 in [3 mm] and thicker"
    return Limit("parent_t", Within(Interval(thinnest, None, "mm")), TACK_THICKNESS, because, reason="thickness")


def as_standard(sets: tuple[LimitSet, ...], standard: str, numbered: Callable[[str], str]) -> tuple[LimitSet, ...]:
    """The sets under another edition's name and numbering, where its figures are the same."""
    return tuple(
        replace(one, standard=standard, limits=tuple(_renumbered(limit, standard, numbered) for limit in one.limits))
        for one in sets
    )


def _renumbered(limit: Limit, standard: str, numbered: Callable[[str], str]) -> Limit:
    return replace(
        limit,
        clause=replace(limit.clause, standard=standard, ref=numbered(limit.clause.ref)),
        readings=tuple(numbered(reading) for reading in limit.readings),
    )
