"""What differs between the editions of ASME IX that are held, as one table: topic -> the last edition that has it."""

from dataclasses import dataclass

from codes.asme_ix_2021.sources import CHANGES_2021, POSITION_2019
from codes.clauses import Mark


@dataclass(frozen=True, slots=True)
class Topic:
    """One difference. `until` is the last edition in which the rule stands."""

    paragraphs: tuple[str, ...]
    words: str
    until: int
    mark: Mark
    source: str


TOPICS = (
    Topic(("405.2",), "change to vertical uphill, with toughness", 2017, Mark.CONFIRMED, POSITION_2019),
    Topic(("403.10",), "base thickness, short-circuiting transfer", 2019, Mark.CONFIRMED, CHANGES_2021),
    Topic(("404.32",), "deposit, short-circuiting transfer (procedures)", 2019, Mark.CONFIRMED, CHANGES_2021),
)
"""Transfer mode (409.2) after 2021 is a doubt and so a switch, not a row here."""


def stands(paragraph: str, year: int) -> bool:
    """True where the paragraph belongs to the procedure lists of that edition. Example: 405.2 stands in 2017 only."""
    return all(year <= topic.until for topic in TOPICS if paragraph in topic.paragraphs)
