"""AWS D1.1:2020: limits of welders, operators and tack welders, and tests in several positions read together.

Tests join only where everything essential but the position agrees (3G with 4G, 2G with 5G); otherwise each stands
alone, with its own thickness and its own electrode group.
"""

from collections.abc import Callable, Sequence

from codes.aws_d1_1_people_2020 import essentials, person, positions, sizes
from codes.aws_d1_1_people_2020.clauses import RETEST, STANDARD, TACK_RETEST, WHO, memory
from codes.aws_d1_1_people_2020.figures import THINNEST
from codes.continuity import HAND, MACHINE
from codes.editions import Tested
from codes.limits import Limit, LimitSet, Within
from codes.pieces import term
from codes.readings import Settings
from codes.unit_sets import system_of
from codes.us_people import attempt_limits, joined, label_of_piece, tested_mode_limits
from codes.values import Interval

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
    every = [*pieces, *joined(pieces, ESSENTIAL)]
    return tuple(LimitSet(label_of_piece(piece), limits_of(piece, settings), STANDARD) for piece in every)


def _welder(piece: Tested, settings: Settings) -> tuple[Limit, ...]:
    return (
        *person.welder_limits(piece, settings),
        *tested_mode_limits(piece, HAND, "a welder", WHO),
        *_weld(piece, settings),
        *essentials.f_number_limits(piece),
        *essentials.progression_limits(piece, settings),
    )


def _operator(piece: Tested, settings: Settings) -> tuple[Limit, ...]:
    electroslag = term(piece, "process") in sizes.ELECTROSLAG
    return (
        *person.operator_limits(piece),
        *tested_mode_limits(piece, MACHINE, "an operator", WHO),
        *_weld(piece, settings),
        # Electroslag and electrogas welds run upwards by their nature.
        *(() if electroslag else essentials.progression_limits(piece, settings, "operator")),
        *essentials.electrode_limits(piece),
    )


def _tack(piece: Tested, settings: Settings) -> tuple[Limit, ...]:
    return (
        *person.tack_limits(),
        *tested_mode_limits(piece, HAND, "a tack welder", WHO),
        *attempt_limits(piece, TACK_RETEST, least=1),
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
        *attempt_limits(piece, RETEST),
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
    thinnest = THINNEST.mm(system_of(piece) or "us")
    because = "tack welds on 1/8 in [3 mm] and thicker"
    return Limit("parent_t", Within(Interval(thinnest, None, "mm")), TACK_THICKNESS, because, reason="thickness")
