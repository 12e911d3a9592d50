"""What every look-up has in common: its row, its clause as plain data, and figures in the units of a question."""

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal

from codes.aws_d1_1.unit_sets import Units, words
from codes.aws_d1_1_look_ups import Figure
from codes.calc.calculation import Input
from codes.clauses import Clause
from codes.door.calculation import Answer
from codes.values import number


@dataclass(frozen=True, slots=True)
class LookUp:
    """A look-up: `function` takes the inputs by name and gives what it found as plain data."""

    name: str
    label: str
    function: Callable[..., Answer]
    inputs: tuple[Input, ...]


def cited(clause: Clause) -> Answer:
    """Place, mark and source of what was found."""
    return {"clause": str(clause), "mark": clause.mark.value, "source": clause.source}


def figure_answer(found: Figure, unit_system: str, unit: str = "mm") -> Answer:
    """A figure in SI, as a reader of the set of figures sees it, with its derivation. None where there is none."""
    units = Units(unit_system)
    value = None if found.value is None else number(found.value)
    shown = None if found.value is None else words(found.value, units, unit)
    return {
        "value": value,
        "unit": unit,
        "shown": shown,
        "because": found.because,
        "readings": list(found.readings),
    } | cited(found.clause)


def listed(thickness: Decimal, other: Decimal | None) -> tuple[Decimal, Decimal]:
    """The thicknesses of both parts; one that is not stated is like the other."""
    return thickness, thickness if other is None else other
