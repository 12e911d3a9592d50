"""AWS D1.1: the entries of a record (PQR), one for each process, filler diameter and kind of pass of a test piece."""

from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal

from codes.aws_d1_1.book import Book
from codes.aws_d1_1.piece import Piece
from codes.aws_d1_1.unit_sets import Units
from codes.aws_d1_1_2020.switches import PASS_VALUES, lenient
from codes.parse import BadField
from codes.readings import Settings
from codes.values import Interval, Value, atoms

# What the entries of one test piece have in common; an entry that leaves one out takes it from its fellows.
SHARED = (
    "unit_system", "contractor", "steels", "parent_t", "diameter", "pipe_test", "product", "weld_type", "joint_type",
    "weld_detail", "gouging", "backing_material", "groove_type", "groove_angle", "root_opening", "root_face",
    "groove_depth", "aws_position", "progression", "rotated", "preheat", "interpass_min", "interpass", "pwht",
    "pwht_temperature", "pwht_minutes", "impact_tested", "impact_vertical_up",
)  # fmt: skip

MEASURED = ("current", "voltage", "wire_feed", "travel_speed", "gas_flow")
"""What is read off while welding, once for each pass."""


def pieces_of(tested: Sequence[Mapping[str, Value]], book: Book, units: Units, settings: Settings) -> tuple[Piece, ...]:
    """The entries, shared values filled in, passes averaged. Raises BadField for an entry that no test can have."""
    found: list[Piece] = []
    for own in tested:
        values = _shared(own, tested) | dict(own)
        if len(atoms(values.get("filler_diameter", ()))) > 1:
            raise BadField("filler_diameter", "make one entry for each filler diameter")
        found.extend(Piece(one, units, book, settings) for one in _passes(values, settings))
    return tuple(found)


def _shared(own: Mapping[str, Value], tested: Sequence[Mapping[str, Value]]) -> dict[str, Value]:
    fellows = (one for one in tested if one is not own and "piece" in own and one.get("piece") == own["piece"])
    return {name: one[name] for one in fellows for name in SHARED if name in one}


def _passes(values: dict[str, Value], settings: Settings) -> Iterator[dict[str, Value]]:
    """The entry with one reference for each measured variable: averages, or one entry for each pass."""
    lists = {name: _numbers(name, values[name]) for name in MEASURED if name in values}
    count = max((len(numbers) for numbers in lists.values()), default=1)
    if count == 1 or not lenient(PASS_VALUES, settings):
        yield values | {name: sum(numbers) / Decimal(len(numbers)) for name, numbers in lists.items()}
        return
    for name, numbers in lists.items():
        if len(numbers) not in (1, count):
            raise BadField(name, f"states {len(numbers)} values where others state {count}; one for each pass")
    for i in range(count):
        yield values | {name: numbers[i if len(numbers) > 1 else 0] for name, numbers in lists.items()}


def _numbers(name: str, value: Value) -> list[Decimal]:
    found: list[Decimal] = []
    for atom in atoms(value):
        if isinstance(atom, Interval) and atom.lo is not None and atom.hi is not None:
            found.append((atom.lo + atom.hi) / 2)
        elif isinstance(atom, Decimal):
            found.append(atom)
        else:
            raise BadField(name, "a record states measured figures, or ranges with both ends")
    return found
