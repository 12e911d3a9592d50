"""What one mapping of tested or written values says, as the clauses of AWS D1.1 read it."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal

from codes.aws_d1_1.book import Book
from codes.aws_d1_1.fillers import Filler, classify
from codes.aws_d1_1.unit_sets import Size, Units, words
from codes.aws_processes import FCAW, GMAW, GTAW, SAW, SMAW, letter_name
from codes.clauses import Clause
from codes.limits import Limit, Unrecorded, When
from codes.parse import BadField
from codes.readings import Settings
from codes.values import Atom, Interval, SteelPair, Value, atoms
from codes.variables import label_of
from codes.words import lower_first

FAMILIES = (SMAW, SAW, GMAW, FCAW, GTAW)
"""The processes that have a column in the tables of variables."""


def family_of(process: str) -> str:
    """The AWS letters that a process number counts as; "" for a process with no column. Example: "136" is FCAW."""
    name = letter_name(process)
    return name if name in FAMILIES else ""


@dataclass(frozen=True, slots=True)
class Piece:
    """One process of a test, or of a written procedure: its values, the set of figures, the edition, the readings."""

    values: Mapping[str, Value]
    units: Units
    book: Book
    settings: Settings

    def atoms(self, name: str) -> tuple[Atom, ...]:
        """All single values stated of a variable."""
        return atoms(self.values.get(name, ()))

    def words(self, name: str) -> tuple[str, ...]:
        """The terms or texts stated of a variable."""
        return tuple(atom for atom in self.atoms(name) if isinstance(atom, str))

    def word(self, name: str) -> str:
        """The first term stated of a variable, or nothing."""
        return next(iter(self.words(name)), "")

    def numbers(self, name: str) -> tuple[Decimal, ...]:
        """All numbers stated of a variable; a range gives its two ends."""
        return tuple(one for atom in self.atoms(name) for one in _ends(atom))

    def least(self, name: str) -> Decimal | None:
        """The smallest number stated of a variable."""
        return min(self.numbers(name), default=None)

    def most(self, name: str) -> Decimal | None:
        """The largest number stated of a variable."""
        return max(self.numbers(name), default=None)

    def pairs(self) -> tuple[SteelPair, ...]:
        """The pairs of parent materials."""
        return tuple(atom for atom in self.atoms("steels") if isinstance(atom, SteelPair))

    def mm(self, size: Size) -> Decimal:
        """A figure of the code in the set of this record."""
        return size.mm(self.units)

    def said(self, value: Decimal, unit: str = "mm") -> str:
        """A value in the units of this record."""
        return words(value, self.units, unit)

    @property
    def process(self) -> str:
        """The process number, or nothing."""
        return self.word("process")

    @property
    def family(self) -> str:
        """SMAW, SAW, GMAW, FCAW, GTAW or nothing."""
        return family_of(self.process)

    @property
    def filler(self) -> Filler | None:
        """The filler's classification, None where it is not stated or not known."""
        return classify(self.word("filler_designation"))


def _ends(atom: Atom) -> Iterator[Decimal]:
    if isinstance(atom, Interval):
        yield from (end for end in (atom.lo, atom.hi) if end is not None)
    elif isinstance(atom, Decimal):
        yield atom


def units_of(values: Mapping[str, Value]) -> Units | None:
    """The set of figures that a record states, None where it states none. Raises BadField for two of them."""
    stated = [atom for atom in atoms(values.get("unit_system", ())) if isinstance(atom, str)]
    if len(stated) > 1:
        raise BadField("unit_system", "a record is made to one set of figures; state us or si")
    return Units(stated[0]) if stated else None


def unrecorded(variable: str, clause: Clause, field: str = "", when: tuple[When, ...] = (), reason: str = "") -> Limit:
    """The limit of a variable whose tested value the record leaves out."""
    return Limit(variable, Unrecorded(field or lower_first(label_of(variable))), clause, "", when, reason=reason)
