"""QW-251.2: a record without toughness tests serves no joint that needs them. Also the unit system of the record."""

from codes.asme_ix_2021.piece import TOUGH, Piece
from codes.asme_ix_2021.sources import OWN_RULE, SUPPLEMENTARY, Rule
from codes.clauses import Mark
from codes.limits import Free, Limit, OneOf, span
from codes.unit_sets import system_of
from codes.values import number

TOUGHNESS = Rule("QW-251.2", Mark.PART, SUPPLEMENTARY)
TEMPERATURE = Rule("QW-403.6, test temperature", Mark.OWN, OWN_RULE)
UNITS = Rule("Introduction, units", Mark.MEMORY)


def limits(piece: Piece) -> tuple[Limit, ...]:
    """Whether toughness was tested; the test temperature, which the construction code sets; the unit system."""
    units = () if system_of(piece.values) else (piece.unrecorded("unit_system", UNITS),)
    tested = piece.word("impact_tested")
    if tested is None:
        field = "whether toughness tests were made"
        return (piece.unrecorded("impact_required", TOUGHNESS, "toughness", (TOUGH,), field), _asked(piece), *units)
    if tested == "no":
        because = "no toughness tests: only joints that need none"
        where = piece.at(TOUGHNESS)
        return (Limit("impact_required", OneOf(("no",)), where, because, (), (), "toughness", tested="no"), *units)
    because = "toughness tested: the supplementary essential variables bind where it is required"
    found = Limit("impact_required", OneOf(("yes", "no")), piece.at(TOUGHNESS), because, (), (), "toughness")
    return (found, *_temperature(piece), *units)


def _asked(piece: Piece) -> Limit:
    """Whether toughness is required must be known in any case: supplementary variables hang on it."""
    allowed = OneOf(("yes", "no"))
    return Limit("impact_required", allowed, piece.at(TOUGHNESS), "decides which variables bind", reason="toughness")


def _temperature(piece: Piece) -> tuple[Limit, ...]:
    """Section IX itself sets no test temperature; where both state one, a warmer test proves nothing colder."""
    tested = piece.most("impact_temperature")
    if tested is None:
        because = "test temperature not recorded: compare with the construction code by hand"
        return (Limit("impact_temperature", Free(), piece.at(TEMPERATURE), because, (TOUGH,), (), "toughness"),)
    because = f"tested at {number(tested)} °C: not colder; the construction code sets temperature and energy"
    allowed = span(tested, None, "°C")
    where = piece.at(TEMPERATURE)
    return (Limit("impact_temperature", allowed, where, because, (TOUGH,), (), "toughness", assumed=tested),)
