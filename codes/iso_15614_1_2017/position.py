"""ISO 15614-1:2017, 8.4.2: welding positions, at both levels."""

from codes.clauses import Mark
from codes.iso_15614_1_2017.piece import Piece, unrecorded
from codes.iso_15614_1_2017.sources import POSITION_FORUM, TEXT, clause
from codes.iso_15614_1_2017.switches import ONE_REQUIREMENT, lenient
from codes.limits import Limit, OneOf, Unrecorded, When, when_is

POSITION = clause("8.4.2", Mark.PART, f"{POSITION_FORUM}; {TEXT}")

DOWN = ("PG", "PJ", "J-L045")
NOT_DOWN = ("PA", "PB", "PC", "PD", "PE", "PF", "PH", "H-L045")
ALL_ROUND = ("PH", "H-L045")
"""One fixed pipe holds both the highest and the lowest heat input."""

HIGHEST, LOWEST = "PF", "PC"
"""On plate: where heat input is usually highest and lowest."""

REQUIREMENTS = (
    ("impact", "impact_required", "hardness_required"),
    ("hardness", "hardness_required", "impact_required"),
)


def limits(piece: Piece) -> tuple[Limit, ...]:
    """Any position covers all but vertical down; impact and hardness requirements bind to where they were tested."""
    tested = piece.words("position")
    if not tested:
        return (unrecorded("position", POSITION),)
    words = ", ".join(tested)
    because = f"tested in {words}: every position but vertical down, which needs its own test"
    always = Limit("position", OneOf(_all_from(tested)), POSITION, because, tested=words)
    return (always, *(_required(piece, *names) for names in REQUIREMENTS))


def _all_from(tested: tuple[str, ...]) -> tuple[str, ...]:
    down = tuple(position for position in DOWN if position in tested)
    return (*NOT_DOWN, *down) if set(tested) - set(DOWN) else down


def _required(piece: Piece, test: str, required: str, other: str) -> Limit:
    """The positions where the joint requires impact (or hardness) properties."""
    when: tuple[When, ...] = (when_is(required, "yes"),)
    places = places_of(piece, test)
    if places is None:
        return Limit("position", Unrecorded(f"the positions of the {test} tests"), POSITION, "", when)
    where = ", ".join(places)
    if tests_at_extremes(piece):
        down = tuple(position for position in places if position in DOWN)
        because = f"{test} tested in {where}: impact at the highest and hardness at the lowest heat input cover all"
        return Limit("position", OneOf((*NOT_DOWN, *down)), POSITION, because, when, tested=where)
    readings = (ONE_REQUIREMENT.used(piece.settings),)
    if lenient(ONE_REQUIREMENT, piece.settings):
        # With one requirement alone the heat input decides, so the tested position binds only where both are asked.
        when = (*when, when_is(other, "yes"))
    because = f"{test} properties shown for {where} only"
    return Limit("position", OneOf(places), POSITION, because, when, readings, tested=where)


def places_of(piece: Piece, test: str) -> tuple[str, ...] | None:
    """The positions of the impact or hardness tests; None where several were welded and the record does not say.

    Without such tests (a thin joint needs none) the positions welded stand for themselves.
    """
    welded = piece.words("position")
    stated = piece.words(f"{test}_positions")
    if stated:
        return stated
    made = piece.word(f"{test}_tested")
    return welded if len(welded) == 1 or made == "no" else None


def tests_made(piece: Piece, test: str) -> bool:
    """True where the record says that impact (or hardness) tests were made, or where."""
    return piece.word(f"{test}_tested") == "yes" or bool(piece.words(f"{test}_positions"))


def tests_at_extremes(piece: Piece) -> bool:
    """True where impact was tested at the highest and hardness at the lowest heat input.

    Stated by the record; else by the usual places: PF and PC on plate, or both on one fixed pipe in PH or H-L045.
    """
    if not (tests_made(piece, "impact") and tests_made(piece, "hardness")):
        return False
    impact, hardness = places_of(piece, "impact") or (), places_of(piece, "hardness") or ()
    if not impact or not hardness or piece.word("extreme_positions") == "no":
        return False
    several = len({*impact, *hardness}) > 1
    if piece.word("extreme_positions") == "yes" and several:
        return True
    on_pipe = any(position in impact and position in hardness for position in ALL_ROUND)
    return on_pipe or (HIGHEST in impact and LOWEST in hardness)
