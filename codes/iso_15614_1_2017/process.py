"""ISO 15614-1:2017, clause 1 and 8.4.1: level, process, mechanisation, and the place of a process in the weld."""

from decimal import Decimal

from codes.clauses import Mark
from codes.iso_15614_1_2017.piece import Piece, unrecorded
from codes.iso_15614_1_2017.sources import LEVELS_FAQ, clause
from codes.iso_15614_1_2017.switches import LEVEL_1_SERVICE, MECHANISED_DEGREES, lenient
from codes.limits import Free, Limit, OneOf, span

LEVEL = clause("clause 1 and 8.1, levels", Mark.CONFIRMED, LEVELS_FAQ)
PROCESS = clause("8.4.1", Mark.MEMORY)
MECHANISATION = clause("8.4.1, mechanisation", Mark.DOUBT)
MACHINE_DEGREES = ("fully_mechanised", "automatic")


def limits(piece: Piece) -> tuple[Limit, ...]:
    """Level, process, mechanisation and place."""
    return (_level(piece), _process(piece), _mechanisation(piece), *_place(piece))


def _level(piece: Piece) -> Limit:
    """A level-2 record serves both levels, a level-1 record level 1 only; a contract that names none means level 2."""
    tested = piece.least("level")
    if tested is None:
        return unrecorded("level", LEVEL, "the level of the test")
    highest = Decimal(piece.level)
    because = f"record of level {tested}; where no level is named, level 2 applies in full"
    readings = (LEVEL_1_SERVICE.used(piece.settings),) if tested == 2 else ()
    allowed = span(Decimal(1), highest)
    return Limit("level", allowed, LEVEL, because, readings=readings, tested=str(tested), assumed=Decimal(2))


def _process(piece: Piece) -> Limit:
    tested = piece.words("process")
    if not tested:
        return unrecorded("process", PROCESS)
    because = f"tested with {' and '.join(tested)}: each process for itself"
    return Limit("process", OneOf(tested), PROCESS, because, tested=", ".join(tested))


def _mechanisation(piece: Piece) -> Limit:
    if piece.level == 1:
        return Limit("mechanisation", Free(), PROCESS, "level 1: the degree may change")
    tested = piece.words("mechanisation")
    if not tested:
        return unrecorded("mechanisation", PROCESS)
    because = f"tested {' and '.join(tested).replace('_', ' ')}: each degree has its own test"
    if not set(tested) & set(MACHINE_DEGREES):
        return Limit("mechanisation", OneOf(tested), PROCESS, because, tested=", ".join(tested))
    readings = (MECHANISED_DEGREES.used(piece.settings),)
    if lenient(MECHANISED_DEGREES, piece.settings):
        tested = tuple(dict.fromkeys((*tested, *MACHINE_DEGREES)))
    return Limit("mechanisation", OneOf(tested), MECHANISATION, because, (), readings, tested=", ".join(tested))


def _place(piece: Piece) -> tuple[Limit, ...]:
    """A process of a multi-process test covers its own place only; the whole weld needs its own full test."""
    if not piece.multi_process:
        return (Limit("place", Free(), PROCESS, "the whole test weld was made with this process"),)
    tested = piece.words("place")
    if not tested:
        return (unrecorded("place", PROCESS, "where in the weld the process was used"),)
    because = "one of several processes of the test: the order and place of the test only"
    return (Limit("place", OneOf(tested), PROCESS, because, tested=", ".join(tested)),)
