"""One process of one test piece, as the clauses of ISO 15614-1 read it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from codes.clauses import Clause
from codes.limits import Limit, Unrecorded, When
from codes.parse import BadField
from codes.readings import Settings
from codes.values import Interval, SteelPair, Value, atoms, number
from codes.variables import label_of
from codes.words import lower_first

Tested = Mapping[str, Value]

# What the processes of one test piece have in common; a mapping that leaves one out takes it from its fellows.
SHARED = (
    "level",
    "steels",
    "backing_steel",
    "backing_stays",
    "delivery_state",
    "parent_t",
    "diameter",
    "branch_angle",
    "product",
    "weld_type",
    "joint_type",
    "weld_detail",
    "gouging",
    "position",
    "rotated",
    "preheat",
    "interpass",
    "post_heat",
    "post_heat_temperature",
    "post_heat_minutes",
    "pwht",
    "pwht_temperature",
    "pwht_minutes",
    "pwht_class",
    "impact_tested",
    "impact_temperature",
    "impact_positions",
    "hardness_tested",
    "hardness_positions",
    "extreme_positions",
    "hardness_hv10",
)

PER_PROCESS = (
    *("place", "mechanisation", "deposit_t", "run_type", "filler_type", "filler_designation", "filler_make"),
    *("hydrogen_class", "filler_diameter", "current_type", "pulsed_current", "heat_input", "transfer_mode", "gas"),
    "gas_co2",
)
"""What each process of a test piece has of its own."""


@dataclass(frozen=True, slots=True)
class Piece:
    """One process of a test piece: its values, the level judged by, the readings, and whether it had company."""

    values: Tested
    level: int
    settings: Settings
    multi_process: bool = False
    label: str = ""

    def words(self, name: str) -> tuple[str, ...]:
        """The terms or texts stated of a variable."""
        if name not in self.values:
            return ()
        return tuple(atom for atom in atoms(self.values.get(name, ())) if isinstance(atom, str))

    def word(self, name: str) -> str | None:
        """The first term stated of a variable."""
        return next(iter(self.words(name)), None)

    def numbers(self, name: str) -> tuple[Decimal, ...]:
        """All numbers stated of a variable; a range gives its two ends."""
        if name not in self.values:
            return ()
        return tuple(one for atom in atoms(self.values.get(name, ())) for one in _ends(atom))

    def least(self, name: str) -> Decimal | None:
        """The smallest number stated of a variable."""
        return min(self.numbers(name), default=None)

    def most(self, name: str) -> Decimal | None:
        """The largest number stated of a variable."""
        return max(self.numbers(name), default=None)

    def steel_pairs(self, name: str) -> tuple[SteelPair, ...]:
        """The pairs of parent materials stated of a variable."""
        return tuple(atom for atom in atoms(self.values.get(name, ())) if isinstance(atom, SteelPair))

    def at_level(self, level: int) -> "Piece":
        """The same test judged by the columns of another level."""
        return replace(self, level=level, label=f"{self.label}, by level {level}")

    @property
    def process(self) -> str:
        """The process number, or nothing."""
        return self.word("process") or ""

    @property
    def is_fillet(self) -> bool:
        """True for a fillet-weld test."""
        return self.word("weld_type") == "fillet"


def _ends(atom: object) -> tuple[Decimal, ...]:
    if isinstance(atom, Interval):
        return tuple(end for end in (atom.lo, atom.hi) if end is not None)
    return (atom,) if isinstance(atom, Decimal) else ()


def pieces_of(tested: Sequence[Tested], settings: Settings) -> tuple[Piece, ...]:
    """The processes of a record, each with what its test piece shares. Raises BadField for a level other than 1 or 2.

    Mappings with the same `piece` belong to one test piece; a mapping without it is a test piece of its own.
    """
    tested = tuple(part for number, one in enumerate(tested, start=1) for part in _parts(one, number))
    found = []
    for own in tested:
        fellows = [other for other in tested if other is not own and _same_piece(own, other)]
        shared = {name: one[name] for one in fellows for name in SHARED if name in one}
        values = shared | dict(own)
        company = any(other.get("process") != own.get("process") for other in fellows)
        found.append(Piece(values, _level(values), settings, company, _label(values, company)))
    return tuple(found)


def _parts(own: Tested, number: int) -> tuple[Tested, ...]:
    """A mapping that names several processes as one mapping for each, of the same test piece.

    What is stated as often as there are processes is one value for each; one deposited thickness for all of them is
    that of the whole weld, so the share of each is not stated. Example: 141 and 135 with s = 4 and 16 mm.
    """
    processes = atoms(own.get("process", ()))
    if len(processes) < 2:
        return (own,)
    piece = own.get("piece", f"{number}")
    parts = []
    for index, process in enumerate(processes):
        part: dict[str, Value] = {**own, "process": process, "piece": piece}
        for name in PER_PROCESS:
            values = atoms(own.get(name, ()))
            if len(values) == len(processes):
                part[name] = values[index]
            elif name == "deposit_t":
                part.pop(name, None)
        parts.append(part)
    return tuple(parts)


def _same_piece(one: Tested, other: Tested) -> bool:
    return "piece" in one and one["piece"] == other.get("piece")


def _level(values: Tested) -> int:
    level = values.get("level", Decimal(2))
    if level not in (Decimal(1), Decimal(2)):
        raise BadField("level", "a procedure test is of level 1 or 2")
    return 1 if level == 1 else 2


def _label(values: Tested, company: bool) -> str:
    process = values.get("process", "not recorded")
    place = values.get("place")
    where = f" ({place})" if company and isinstance(place, str) else ""
    piece = f"piece {values['piece']}, " if "piece" in values else ""
    return f"{piece}process {process}{where}"


def unrecorded(variable: str, clause: Clause, field: str = "", when: tuple[When, ...] = (), reason: str = "") -> Limit:
    """The limit of a variable whose tested value the record leaves out."""
    words = field or lower_first(label_of(variable))
    return Limit(variable, Unrecorded(words), clause, "", when, reason=reason)


def mm(value: Decimal) -> str:
    """A length in words. Example: mm(Decimal("12.50")) is "12.5 mm"."""
    return f"{number(value)} mm"
