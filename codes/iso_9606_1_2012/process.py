"""ISO 9606-1:2012, 5.2: which processes and transfer modes a test covers, and that no machine is covered."""

from dataclasses import dataclass

from codes.clauses import Clause
from codes.editions import Tested
from codes.iso_9606_1_2012.clauses import ARVISA, HANDOUT, OVERVIEW, SCOPE, clause, confirmed, doubtful, partly
from codes.iso_9606_1_2012.switches import MIG_MAG, MODE_136
from codes.iso_9606_1_2012.tested import term
from codes.limits import Free, Limit, OneOf, Unrecorded
from codes.readings import Settings

HAND = ("manual", "partly_mechanised")


@dataclass(frozen=True, slots=True)
class ProcessRow:
    """A tested process and the processes it covers (ISO 4063 numbers)."""

    tested: str
    covers: tuple[str, ...]
    clause: Clause


TIG = ("141", "142", "143", "145")

PROCESS_ROWS = (
    ProcessRow("111", ("111",), confirmed("5.2", OVERVIEW)),
    ProcessRow("114", ("114",), clause("5.2")),
    # 121 and 125 also have to pass the filler types of Table 5.
    ProcessRow("121", ("121", "125"), clause("5.2")),
    ProcessRow("125", ("125", "121"), clause("5.2")),
    ProcessRow("131", ("131",), doubtful("5.2")),
    ProcessRow("132", ("132",), doubtful("5.2")),
    ProcessRow("133", ("133",), doubtful("5.2")),
    ProcessRow("135", ("135", "138"), confirmed("5.2", HANDOUT, OVERVIEW)),
    ProcessRow("136", ("136",), confirmed("5.2", HANDOUT, OVERVIEW)),
    ProcessRow("137", ("137",), doubtful("5.2")),
    ProcessRow("138", ("138", "135"), clause("5.2")),
    ProcessRow("141", TIG, confirmed("5.2", HANDOUT, OVERVIEW)),
    ProcessRow("142", ("142",), clause("5.2")),
    ProcessRow("143", TIG, confirmed("5.2", OVERVIEW)),
    ProcessRow("145", TIG, partly("5.2", OVERVIEW)),
    ProcessRow("15", ("15",), clause("5.2")),
    ProcessRow("311", ("311",), clause("5.2")),
)

MIG_MAG_PAIR = {"131": "135", "135": "131"}

MODES = ("dip", "globular", "spray", "pulsed")
NAMED_MODE_PROCESSES = ("131", "135", "138")
OTHER_MODE_PROCESSES = ("132", "133", "136", "137")
MODE_CLAUSE = confirmed("5.2", OVERVIEW, ARVISA, HANDOUT)
MODE_OTHER_CLAUSE = doubtful("5.2")


def mechanisation_limit() -> Limit:
    """Only welding by hand, or with the torch in the hand."""
    because = (
        "an ISO 9606-1 certificate covers hand-held welding only, never a machine or a robot; "
        "the weld needs a welding operator qualified to ISO 14732"
    )
    return Limit("mechanisation", OneOf(HAND), SCOPE, because, reason="standard")


def process_limit(piece: Tested, settings: Settings) -> Limit:
    """The processes that the tested one covers. Example: 135 gives 135 and 138; 136 gives 136 alone."""
    tested = term(piece, "process")
    if tested is None:
        return Limit("process", Unrecorded("the process"), clause("5.2"), reason="process")
    row = process_row(tested)
    covers, readings = row.covers, ()
    because = f"tested {tested}: covers {', '.join(covers)}"
    if tested in MIG_MAG_PAIR:
        if MIG_MAG.option(settings) == "wide":
            covers = (*covers, MIG_MAG_PAIR[tested])
            because = f"tested {tested}: covers {', '.join(covers)}"
        return _processes(tested, covers, row.clause, because, (MIG_MAG.used(settings),))
    return _processes(tested, covers, row.clause, because, readings)


def _processes(tested: str, covers: tuple[str, ...], where: Clause, because: str, readings: tuple[str, ...]) -> Limit:
    return Limit("process", OneOf(covers), where, because, readings=readings, reason="process", tested=tested)


def process_row(tested: str) -> ProcessRow:
    """The row of a process; one that the clause does not list covers its own number only."""
    for row in PROCESS_ROWS:
        if row.tested == tested:
            return row
    return ProcessRow(tested, (tested,), doubtful("5.2"))


def mode_limits(piece: Tested, settings: Settings) -> tuple[Limit, ...]:
    """Dip covers every transfer mode; globular, spray and pulsed cover one another but not dip.

    A mode that the certificate does not state, and a waveform-controlled short arc, count as not dip.
    """
    process = term(piece, "process")
    if process in NAMED_MODE_PROCESSES:
        return (_mode_limit(piece, MODE_CLAUSE, ()),)
    if process not in OTHER_MODE_PROCESSES:
        return ()
    readings = (MODE_136.used(settings),)
    if MODE_136.option(settings) == "strict":
        return (_mode_limit(piece, MODE_OTHER_CLAUSE, readings),)
    because = f"the clause names 131, 135 and 138, not {process}"
    return (Limit("transfer_mode", Free(), MODE_OTHER_CLAUSE, because, readings=readings),)


def _mode_limit(piece: Tested, where: Clause, readings: tuple[str, ...]) -> Limit:
    tested = term(piece, "transfer_mode")
    if tested == "dip":
        because = "tested in dip transfer: covers every mode"
        return Limit("transfer_mode", Free(), where, because, readings=readings, tested="dip")
    stated = f"tested in {tested} transfer" if tested else "the certificate states no transfer mode"
    because = f"{stated}: covers globular, spray and pulsed, not dip"
    allowed = OneOf(MODES[1:])
    return Limit(
        "transfer_mode", allowed, where, because, readings=readings, reason="transfer_mode", tested=tested or ""
    )
