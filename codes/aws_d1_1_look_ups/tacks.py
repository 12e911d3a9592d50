"""AWS D1.1, 7.17 and 7.3.2 [5.17, 5.3.2]: tack and temporary welds, and how long electrodes may lie open."""

from dataclasses import dataclass
from decimal import Decimal

from codes.aws_d1_1.book import BOOK_2020, Book, rule
from codes.aws_d1_1_look_ups.figure import Figure
from codes.clauses import Clause, Mark

EXPOSED = rule("low hydrogen")

FORUM = "AWS Forum on tack welds, 2011 and 2013; rest from memory"


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule in words, with its place."""

    text: str
    clause: Clause


_RULES = (
    ("tacks", Mark.PART, FORUM, "A qualified procedure and a qualified person, as for the final weld."),
    ("tacks", Mark.PART, FORUM, "Tacks that stay in the final weld: electrodes that meet its requirements, cleaned."),
    ("tacks", Mark.PART, FORUM, "Tacks of several passes end in steps."),
    ("tacks", Mark.PART, FORUM, "Tacks that do not stay: inside the visual limits of welds, or taken off."),
    ("tacks", Mark.PART, FORUM, "Cracked tacks are removed."),
    (
        "tacks",
        Mark.MEMORY,
        "from memory",
        "No preheat for single-pass tacks that continuous submerged arc welding melts again.",
    ),
)
# Strength class [ksi] from -> hours that covered electrodes may lie open (column A); suffix R.
EXPOSURE = ((100, Decimal("0.5")), (90, Decimal(1)), (80, Decimal(2)), (70, Decimal(4)))
EXPOSURE_R = Decimal(9)


def tack_rules(book: Book = BOOK_2020) -> tuple[Rule, ...]:
    """The rules for tack welds, in the order in which they are met."""
    return tuple(Rule(text, book.clause(place, mark, source)) for place, mark, source, text in _RULES)


def exposure_hours(strength_ksi: int, moisture_resistant: bool = False, book: Book = BOOK_2020) -> Figure:
    """Hours that a low-hydrogen electrode may lie open; None below 70 ksi. Example: 70 ksi 4 h, with suffix R 9 h."""
    clause = EXPOSED.of(book)
    if moisture_resistant:
        return Figure(EXPOSURE_R, clause, "moisture-resistant covering (suffix R)")
    hours = next((hours for least, hours in EXPOSURE if strength_ksi >= least), None)
    return Figure(hours, clause, f"class {strength_ksi} ksi" if hours else f"no row for {strength_ksi} ksi")
