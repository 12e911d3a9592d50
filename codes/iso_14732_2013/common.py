"""ISO 14732:2013, 4.1 and 4.2: what mechanised and automatic welding have in common.

Who is meant at all, the compulsory functional knowledge, role, process, kind of machine welding, single or multi run.
"""

from codes.clauses import Clause
from codes.editions import Tested
from codes.iso_14732_2013.clauses import FUNCTIONAL, MODE, PROCESS, ROLE, RUNS, SCOPE
from codes.limits import Limit, Nothing, OneOf, Unrecorded, unless
from codes.variables import label_of
from codes.words import lower_first

HAND = ("manual", "partly_mechanised")
MACHINE = ("fully_mechanised", "automatic")

# Tested -> covered.
ROLE_ROWS = {"operator": ("operator",), "setter": ("setter",), "both": ("operator", "setter", "both")}
RUN_ROWS = {"single_run": ("single_run",), "multi_run": ("multi_run", "single_run")}


def stated(piece: Tested, name: str) -> str | None:
    """The tested term or text, None where the record does not state it (or states several)."""
    value = piece.get(name)
    return value if isinstance(value, str) and value else None


def unrecorded(name: str, clause: Clause, reason: str) -> Limit:
    """The limit of a variable that the record does not state."""
    return Limit(name, Unrecorded(lower_first(label_of(name))), clause, reason=reason)


def common_limits(piece: Tested) -> tuple[Limit, ...]:
    """Scope, functional knowledge, process, mode, role and runs."""
    return (*scope_limits(piece), *functional_limits(piece), process_limit(piece), role_limit(piece), run_limit(piece))


def scope_limits(piece: Tested) -> tuple[Limit, ...]:
    """No torch held by hand; and the tested one of mechanised and automatic (a robot is automatic)."""
    because = (
        "an ISO 14732 certificate never covers the hand torch; the weld, and tack and repair by hand inside the cell, "
        "need a welder qualified to ISO 9606-1"
    )
    hand = Limit("mechanisation", OneOf(MACHINE), SCOPE, because, reason="standard")
    tested = stated(piece, "mechanisation")
    if tested is None:
        return (hand, unrecorded("mechanisation", MODE, "operator_mode"))
    if tested not in MACHINE:
        because = f"tested {tested.replace('_', ' ')}: this is no qualification of an operator"
        return (hand, Limit("mechanisation", Nothing(), SCOPE, because, reason="standard", tested=tested))
    words = tested.replace("_", " ")
    because = f"tested {words}: a change between mechanised and automatic is a new test"
    not_by_hand = (unless("mechanisation", *HAND),)
    mode = Limit("mechanisation", OneOf((tested,)), MODE, because, not_by_hand, reason="operator_mode", tested=tested)
    return (hand, mode)


def functional_limits(piece: Tested) -> tuple[Limit, ...]:
    """Without a record of the functional-knowledge check nothing is covered, whatever else was tested."""
    known = stated(piece, "functional_knowledge")
    if known == "yes":
        return ()
    because = "no check of functional knowledge of the unit is on record; every method of qualification asks for one"
    return (Limit("process", Nothing(), FUNCTIONAL, because, reason="functional_test", tested=known or ""),)


def process_limit(piece: Tested) -> Limit:
    """The tested ISO 4063 number and no other."""
    tested = stated(piece, "process")
    if tested is None:
        return unrecorded("process", PROCESS, "process")
    because = f"tested {tested}: equal number only"
    return Limit("process", OneOf((tested,)), PROCESS, because, reason="process", tested=tested)


def role_limit(piece: Tested) -> Limit:
    """Operator and weld setter are separate unless the certificate says both."""
    tested = stated(piece, "role")
    if tested is None:
        return unrecorded("role", ROLE, "role")
    because = f"qualified as {'operator and setter' if tested == 'both' else tested}"
    return Limit("role", OneOf(ROLE_ROWS[tested]), ROLE, because, reason="role", tested=tested)


def run_limit(piece: Tested) -> Limit:
    """Multi run covers a single run per side; a single run does not cover multi run."""
    tested = stated(piece, "run_type")
    if tested is None:
        return unrecorded("run_type", RUNS, "run_technique")
    words = {"single_run": "tested single run: multi run is a new test", "multi_run": "tested multi run: both"}[tested]
    return Limit("run_type", OneOf(RUN_ROWS[tested]), RUNS, words, reason="run_technique", tested=tested)
