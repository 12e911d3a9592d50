"""AWS D1.1, 6.2.1 [4.2.1.1] and 1.4 [1.5]: whose test it is, its process, and its set of figures."""

from collections.abc import Iterable, Iterator
from dataclasses import replace

from codes.aws_d1_1.book import CONTRACTOR_BLOG, OWN, Book, rule
from codes.aws_d1_1.piece import Piece, unrecorded
from codes.aws_d1_1.unit_sets import Units
from codes.aws_d1_1_2020.switches import MIXED_UNITS, lenient
from codes.clauses import Mark
from codes.limits import Free, Limit, OneOf, unless, when_is
from codes.readings import Settings
from codes.variables import unit_of

PROCESS = rule("processes", Mark.OWN, OWN)
CONTRACTOR = rule("contractor", Mark.PART, f"{CONTRACTOR_BLOG}; the Engineer's acceptance from memory")
UNIT_SYSTEM = rule("units", Mark.MEMORY)

SIZED = ("mm", "°C")
"""Units of the variables for which the code gives two sets of figures."""


def limits(piece: Piece) -> tuple[Limit, ...]:
    """Process, contractor and unit system."""
    return (_process(piece), _contractor(piece), unit_system(piece.book, piece.units, piece.settings))


def _process(piece: Piece) -> Limit:
    """Numbers of ISO 4063 stand for themselves: solid and metal-cored wire are two, though AWS calls both GMAW."""
    clause = PROCESS.of(piece.book)
    if not piece.family:
        field = f"a process with a column in the table ({piece.process} has none)" if piece.process else "the process"
        return unrecorded("process", clause, field)
    because = f"tested {piece.process} ({piece.family})"
    return Limit("process", OneOf((piece.process,)), clause, because, tested=piece.process)


def _contractor(piece: Piece) -> Limit:
    clause = CONTRACTOR.of(piece.book)
    when = (unless("engineer_acceptance", "yes"),)
    tested = piece.words("contractor")
    if not tested:
        return unrecorded("contractor", clause, "the contractor who made the test", when)
    because = f"tested by {tested[0]}; others need the Engineer's acceptance of documented evidence"
    return Limit("contractor", OneOf(tested), clause, because, when, tested=tested[0])


def unit_system(book: Book, units: Units, settings: Settings) -> Limit:
    """Only demands in the record's own set of figures are compared with it; others are answered 'not stated'."""
    clause = UNIT_SYSTEM.of(book)
    readings = (MIXED_UNITS.used(settings),)
    because = f"the record is in {units.value.upper()} figures"
    if lenient(MIXED_UNITS, settings):
        return Limit("unit_system", Free(), clause, because, readings=readings)
    needs = f"the demand in {units.value.upper()} figures, or a record in its own"
    return Limit("unit_system", OneOf((units.value,)), clause, because, (), readings, needs=needs)


def in_own_figures(limits: Iterable[Limit], units: Units, settings: Settings) -> Iterator[Limit]:
    """The limits, those on sizes and temperatures only for a demand in the same set of figures.

    So that 20 mm of an SI drawing is neither inside nor outside "3/4 in": it is not compared.
    """
    own = when_is("unit_system", units.value)
    for limit in limits:
        names = (limit.variable, *(when.variable for when in limit.when))
        sized = any(unit_of(name) in SIZED for name in names)
        yield replace(limit, when=(*limit.when, own)) if sized and not lenient(MIXED_UNITS, settings) else limit


def no_unit_system(book: Book) -> Limit:
    """The limit of a record that does not say to which set of figures it was made."""
    return unrecorded("unit_system", UNIT_SYSTEM.of(book), "its unit system (us or si)")
