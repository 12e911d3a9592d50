"""ASME IX, QW-350 and QW-360: limits of welders and operators, and tests in several positions read together.

Tests join only where everything essential but the position agrees; otherwise each stands alone, with its own
deposit and its own fillers. A piece of several processes is recorded as one piece for each process.
"""

from collections.abc import Callable, Sequence

from codes.asme_ix_people_2021 import machine, metals, positions, process, sizes
from codes.asme_ix_people_2021.clauses import KIND, ORGANISATION, RETEST, STANDARD, WELD_TYPE
from codes.aws_processes import SAW, letter_name
from codes.continuity import HAND
from codes.editions import Tested
from codes.limits import Free, Limit, LimitSet, OneOf
from codes.pieces import IfStated, term, unrecorded
from codes.readings import Settings
from codes.unit_sets import system_of
from codes.us_people import attempt_limits, joined, label_of_piece, tested_mode_limits

ESSENTIAL = (
    "process",
    "transfer_mode",
    "mechanisation",
    "unit_system",
    "weld_type",
    "product",
    "diameter",
    "parent_t",
    "deposit_t",
    "layers",
    "f_number",
    "filler_designation",
    "product_form",
    "p_number",
    "steels",
    "weld_detail",
    "place",
    "backing_gas",
    "current_type",
    "run_type",
    "visual_control",
    "joint_tracking",
    "arc_length_control",
    "contractor",
    "soundness_test",
    "attempt",
    "retest_welds",
    "trained_on",
)
COVERS = {"fillet": ("fillet",)} | dict.fromkeys(positions.GROOVES, (*positions.GROOVES, "fillet"))


def welder_sets(pieces: Sequence[Tested], settings: Settings) -> tuple[LimitSet, ...]:
    """The alternatives that a welder's tests allow."""
    return _sets(pieces, settings, welder_limits)


def operator_sets(pieces: Sequence[Tested], settings: Settings) -> tuple[LimitSet, ...]:
    """The alternatives that an operator's tests allow."""
    return _sets(pieces, settings, operator_limits)


def _sets(
    pieces: Sequence[Tested], settings: Settings, limits_of: Callable[[Tested, Settings], tuple[Limit, ...]]
) -> tuple[LimitSet, ...]:
    every = [*pieces, *joined(pieces, ESSENTIAL)]
    return tuple(LimitSet(label_of_piece(piece), limits_of(piece, settings), STANDARD) for piece in every)


def welder_limits(piece: Tested, settings: Settings) -> tuple[Limit, ...]:
    """One test of a welder: manual or semiautomatic, never a machine."""
    because = "a welder's qualification never covers machine or automatic welding, the robot included"
    by_hand = Limit("mechanisation", OneOf(HAND), KIND, because, reason="mechanisation")
    upright = () if letter_name(term(piece, "process")) == SAW else positions.progression_limits(piece)
    return (
        by_hand,
        *tested_mode_limits(piece, HAND, "a welder", KIND),
        *_status(piece),
        _weld_type(piece),
        *process.process_limits(piece, settings),
        *process.mode_limits(piece),
        *_sizes(piece),
        *upright,
        *metals.p_number_limits(piece),
        *metals.f_number_limits(piece, settings),
        *metals.backing_limits(piece),
        *process.backing_gas_limits(piece),
        *process.gtaw_limits(piece),
    )


def operator_limits(piece: Tested, settings: Settings) -> tuple[Limit, ...]:
    """One test of an operator."""
    return (*machine.operator_limits(piece, settings), *_status(piece))


def _sizes(piece: Tested) -> tuple[Limit, ...]:
    system = system_of(piece)
    if system is None:
        field = "whether it was made in US or SI units"
        return (unrecorded("aws_position", positions.T_461_9, "position", field=field),)
    groove = () if term(piece, "weld_type") == "fillet" else (sizes.deposit_limit(piece, system),)
    return (
        *positions.position_limits(piece, system),
        *positions.note_limits(piece, system),
        *sizes.diameter_limits(piece, system),
        *sizes.fillet_limits(piece, system),
        *groove,
    )


def _weld_type(piece: Tested) -> Limit:
    tested = term(piece, "weld_type")
    if tested not in COVERS:
        return unrecorded("weld_type", WELD_TYPE, field="whether the test weld was a groove or a fillet")
    fillet = tested == "fillet"
    because = "a fillet test covers fillets only" if fillet else "a groove test covers grooves and fillets"
    return Limit("weld_type", OneOf(COVERS[tested]), WELD_TYPE, because, reason="weld_type", tested=tested)


def _status(piece: Tested) -> tuple[Limit, ...]:
    """How the test was passed, and for whom."""
    tested = term(piece, "contractor")
    when = (IfStated("contractor", Free()),)
    if tested is None:
        organisation = unrecorded("contractor", ORGANISATION, "employer", when=when, field="for whom the test was made")
    else:
        because = f"tested for {tested}: each organisation qualifies its own welders and operators"
        organisation = Limit("contractor", OneOf((tested,)), ORGANISATION, because, when, reason="employer")
    return (*attempt_limits(piece, RETEST), organisation)
