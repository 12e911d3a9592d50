"""Where a rule stands, and how sure the register is of it."""

from dataclasses import dataclass
from enum import Enum


class Mark(Enum):
    """How certain a table or rule is, on the one scale of the whole register."""

    CONFIRMED = "confirmed"
    PART = "partly confirmed"
    MEMORY = "from memory"
    DOUBT = "doubtful"
    OWN = "own rule"


@dataclass(frozen=True, slots=True)
class Clause:
    """A place in a standard: edition, clause and table, the mark, and the public source of the figure.

    Example: `Clause("ISO 9606-1:2012", "5.7, Table 6", Mark.MEMORY)` prints "ISO 9606-1:2012, 5.7, Table 6".
    """

    standard: str
    ref: str
    mark: Mark = Mark.MEMORY
    source: str = ""

    def __str__(self) -> str:
        return f"{self.standard}, {self.ref}" if self.ref else self.standard
