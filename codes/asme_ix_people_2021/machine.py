"""ASME IX, QW-361: operators of automatic (361.1) and of machine welding (361.2) as limits.

P-number, F-number, deposited thickness, transfer mode, current and gas are no variables of an operator.
"""

from codes.asme_ix_people_2021.clauses import KIND, OPERATORS, confirmed, doubtful, memory
from codes.asme_ix_people_2021.metals import BACKED, FULL, OPEN, detail_of
from codes.asme_ix_people_2021.positions import note_limits, position_limits
from codes.asme_ix_people_2021.process import process_limits
from codes.asme_ix_people_2021.switches import MACHINE_FOR_AUTOMATIC, OPERATOR_DIAMETER
from codes.aws_processes import GTAW, letter_name
from codes.clauses import Clause
from codes.continuity import HAND, MACHINE
from codes.editions import Tested
from codes.limits import Free, Limit, Nothing, OneOf, unless
from codes.pieces import term, unrecorded
from codes.readings import Settings
from codes.unit_sets import system_of

AUTOMATIC = memory("QW-361.1")
NO_MACHINE_TEST = doubtful("QW-361.1")
SIZES = doubtful("QW-361.2, QW-461.9")


def _machine(line: str) -> Clause:
    return confirmed(f"QW-361.2({line})", OPERATORS)


def operator_limits(piece: Tested, settings: Settings) -> tuple[Limit, ...]:
    """By machine only, and then by the list of the tested kind."""
    because = "an operator's qualification never covers welding by hand, tacks and repairs beside the machine included"
    not_by_hand = Limit("mechanisation", OneOf(MACHINE), KIND, because, reason="mechanisation")
    mode = term(piece, "mechanisation")
    if mode is None:
        unknown = unrecorded("mechanisation", KIND, field="machine or automatic welding")
        return (not_by_hand, unknown, *process_limits(piece, settings))
    if mode not in MACHINE:
        because = f"tested {mode.replace('_', ' ')}: a welder's test never covers machine or automatic welding"
        return (Limit("mechanisation", Nothing(), KIND, because, reason="mechanisation", tested=mode),)
    shared = (not_by_hand, *process_limits(piece, settings))
    return (*shared, *(_automatic(mode) if mode == "automatic" else _by_machine(piece, settings)))


def _automatic(mode: str) -> tuple[Limit, ...]:
    """Process and mode only; the positions of a robot are governed by the procedure."""
    because = "tested automatic: machine welding, where the operator corrects, needs its own test"
    by_hand_too = (unless("mechanisation", *HAND),)
    free = "no position in the list of automatic welding; the procedure governs it"
    return (
        Limit("mechanisation", OneOf((mode,)), AUTOMATIC, because, by_hand_too, reason="mechanisation", tested=mode),
        Limit("aws_position", Free(), NO_MACHINE_TEST, free),
    )


def _by_machine(piece: Tested, settings: Settings) -> tuple[Limit, ...]:
    used = (MACHINE_FOR_AUTOMATIC.used(settings),)
    strict = MACHINE_FOR_AUTOMATIC.option(settings) == "strict"
    modes = ("fully_mechanised",) if strict else MACHINE
    because = f"tested machine welding: covers {' and '.join(m.replace('_', ' ') for m in modes)}"
    where, when = NO_MACHINE_TEST, (unless("mechanisation", *HAND),)
    mode = Limit("mechanisation", OneOf(modes), where, because, when, used, "mechanisation", tested="fully_mechanised")
    return (
        mode,
        _weld_type(piece),
        _kept(piece, "visual_control", "b", "visual_control"),
        *_device(piece, "arc_length_control", "c", "avc"),
        *_device(piece, "joint_tracking", "d", "joint_tracking"),
        *_positions(piece, settings),
        *_backing(piece),
        _passes(piece),
    )


def _weld_type(piece: Tested) -> Limit:
    tested = term(piece, "weld_type")
    where = memory("QW-303")
    if tested is None:
        return unrecorded("weld_type", where)
    covers = ("fillet",) if tested == "fillet" else ("butt_cjp", "butt_pjp", "branch", "fillet")
    because = "a fillet test covers fillets only" if tested == "fillet" else "a groove test covers grooves and fillets"
    return Limit("weld_type", OneOf(covers), where, because, reason="weld_type", tested=tested)


def _kept(piece: Tested, name: str, line: str, reason: str) -> Limit:
    tested = term(piece, name)
    if tested is None:
        return unrecorded(name, _machine(line), reason)
    because = f"tested {tested}: a change either way is a new test"
    return Limit(name, OneOf((tested,)), _machine(line), because, reason=reason, tested=tested)


def _device(piece: Tested, name: str, line: str, reason: str) -> tuple[Limit, ...]:
    """A control that was on in the test may not be left out; one that was off may be added."""
    if name == "arc_length_control" and letter_name(term(piece, "process")) != GTAW:
        return ()
    tested = term(piece, name)
    if tested is None:
        return (unrecorded(name, _machine(line), reason),)
    if tested == "no":
        return (Limit(name, Free(), _machine(line), "tested without: may be added", reason=reason, tested=tested),)
    because = "tested with it on: may not be left out"
    return (Limit(name, OneOf(("yes",)), _machine(line), because, reason=reason, tested=tested),)


def _positions(piece: Tested, settings: Settings) -> tuple[Limit, ...]:
    system = system_of(piece)
    if system is None:
        return (unrecorded("aws_position", SIZES, "position", field="whether it was made in US or SI units"),)
    if OPERATOR_DIAMETER.option(settings) == "no":
        return position_limits(piece, system, diameters=False)
    return (*position_limits(piece, system), *note_limits(piece, system))


def _backing(piece: Tested) -> tuple[Limit, ...]:
    """Backing deleted (both sides counts as backed), insert deleted."""
    tested = detail_of(piece)
    where = _machine("g")
    if tested is None:
        return (unrecorded("weld_detail", where, "backing", when=(FULL,), field="backing, or none"),)
    if tested == "ci":
        because = "tested with a consumable insert: not left out, except where backed"
        limit = Limit("weld_detail", OneOf(("ci", *BACKED)), _machine("f"), because, (FULL,), reason="insert")
        return (limit,)
    covers = (*OPEN, *BACKED) if tested in OPEN else BACKED
    because = "tested without backing: with and without" if tested in OPEN else "tested with backing: not without"
    return (Limit("weld_detail", OneOf(covers), where, because, (FULL,), reason="backing", tested=tested),)


def _passes(piece: Tested) -> Limit:
    tested = term(piece, "run_type")
    where = _machine("h")
    if tested is None:
        return unrecorded("run_type", where, "passes_per_side", field="one pass per side or several")
    if tested == "multi_run":
        because = "tested several passes per side: one as well"
        return Limit("run_type", Free(), where, because, reason="passes_per_side", tested=tested)
    because = "tested one pass per side: not several"
    return Limit("run_type", OneOf(("single_run",)), where, because, reason="passes_per_side", tested=tested)
