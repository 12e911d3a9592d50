"""What a calculation gives: the value, its unit, every intermediate value, what to mind, and where it comes from."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, Context, Decimal

from codes.calc.exact import kept
from codes.clauses import Clause, Mark
from codes.values import number

Figure = Decimal | str
"""A number, or a word such as a position or a group."""

PRINTED: Mapping[str, Decimal] = {
    "kJ/mm": Decimal("0.01"),
    "J/mm": Decimal(1),
    "%": Decimal("0.01"),
    "°C": Decimal(1),
    "mm²": Decimal("0.1"),
    "kg/m": Decimal("0.001"),
    "kg": Decimal("0.001"),
    "kg/h": Decimal("0.01"),
    "mm": Decimal("0.1"),
    "mm/min": Decimal(1),
    "min": Decimal("0.1"),
    "s": Decimal("0.1"),
    "l": Decimal("0.1"),
    "°": Decimal("0.1"),
    "MPa": Decimal("0.1"),
    "N/mm": Decimal("0.1"),
    "kJ/in": Decimal("0.1"),
    "in": Decimal("0.001"),
    "in/min": Decimal("0.1"),
    "°F": Decimal(1),
    "m": Decimal("0.01"),
    "ft": Decimal("0.01"),
    "lb": Decimal("0.001"),
    "lb/ft": Decimal("0.001"),
    "lb/h": Decimal("0.01"),
    "ksi": Decimal("0.1"),
    "ft³": Decimal("0.01"),
    "kip/in": Decimal("0.01"),
}
"""The step to which a value is rounded on paper; never before it is compared with a limit."""
LABELS: Mapping[str, str] = {
    "aws": "AWS position",
    "aws_rotation": "AWS rotation",
    "aws_test_position": "AWS test position",
    "beta_w": "βw",
    "celsius": "in the SI column",
    "CET_counting": "CET that counts",
    "CET_parent": "CET of the parent metal",
    "F2_greatest": "F2 for the greatest",
    "F2_least": "F2 for the least",
    "fahrenheit": "in the US column",
    "iso": "ISO position",
    "sigma_perpendicular": "σ⊥",
    "tau_parallel": "τ∥",
    "tau_perpendicular": "τ⊥",
}
"""Intermediate values that are not called as they are named."""
PRINTED_ELSE = Decimal("0.0001")
AT_LEAST, AT_MOST = ROUND_CEILING, ROUND_FLOOR
"""How a value is rounded on paper that must not be undercut (a throat needed), or not be passed (a resistance)."""
WIDE = Context(prec=80)
"""Wide enough for any figure that usable inputs give, down to the printed step."""


class Refused(ValueError):
    """A method that cannot be used: `field` names the input, `problem` says what is wrong and what the range is."""

    def __init__(self, field: str, problem: str) -> None:
        super().__init__(f"{field}: {problem}")
        self.field = field
        self.problem = problem


@dataclass(frozen=True, slots=True)
class Step:
    """One intermediate value. `name` is one word, with _ for a blank."""

    name: str
    value: Figure
    unit: str = ""

    @property
    def label(self) -> str:
        """The name as people read it. Example: "arc_energy" gives "arc energy", "aws" "AWS position"."""
        return LABELS.get(self.name) or self.name.replace("_", " ")


@dataclass(frozen=True, slots=True)
class Result:
    """A calculated value. `flags`: assumptions made and what to mind, in words. `formula`: with its symbols.

    `shown` is the value as printed. `fixed_units`: the code states its own figures for each unit system, so that the
    value may not be converted (the other system's figure is among the steps). `rounding`: to the nearest figure, or
    AT_LEAST, AT_MOST where a rounded figure could promise more than the value holds. `as_its_unit`: printed to the
    places of its unit, not in a way of its own (a preheat to the next 5 °C).
    """

    value: Figure
    unit: str
    steps: tuple[Step, ...]
    flags: tuple[str, ...]
    clause: Clause
    formula: str
    shown: str = ""
    fixed_units: bool = False
    rounding: str = ROUND_HALF_EVEN
    as_its_unit: bool = True

    @property
    def mark(self) -> Mark:
        """How certain the rule is."""
        return self.clause.mark

    @property
    def figure(self) -> Decimal:
        """The value as a number. Raises TypeError where it is a word."""
        if not isinstance(self.value, Decimal):
            raise TypeError(f"{self.value} is not a number")
        return self.value

    def step(self, name: str) -> Figure:
        """The intermediate value of that name. Raises KeyError."""
        for step in self.steps:
            if step.name == name:
                return step.value
        raise KeyError(name)

    def number(self, name: str) -> Decimal:
        """The intermediate value of that name as a number. Raises KeyError, TypeError."""
        value = self.step(name)
        if not isinstance(value, Decimal):
            raise TypeError(f"{name} is {value}, not a number")
        return value


class Working:
    """Collects intermediate values and flags in the order in which they arise."""

    def __init__(self) -> None:
        self.steps: list[Step] = []
        self.flags: list[str] = []

    def step(self, name: str, value: Decimal, unit: str = "") -> Decimal:
        """Keep the value to 28 digits and hand it on unrounded."""
        self.steps.append(Step(name, kept(value), unit))
        return value

    def word(self, name: str, value: str) -> str:
        """Keep a word and hand it on."""
        self.steps.append(Step(name, value))
        return value

    def flag(self, text: str, when: bool = True) -> None:
        """Keep what a reader must know, once."""
        if when and text not in self.flags:
            self.flags.append(text)

    def take(self, result: Result) -> Decimal:
        """Keep the steps and flags of a result on the way to this one and hand on its value."""
        self.steps.extend(result.steps)
        for text in result.flags:
            self.flag(text)
        return result.figure

    def result(
        self,
        value: Figure,
        unit: str,
        clause: Clause,
        formula: str,
        shown: str = "",
        fixed_units: bool = False,
        rounding: str = ROUND_HALF_EVEN,
    ) -> Result:
        """The result; its value keeps 28 digits."""
        final = kept(value) if isinstance(value, Decimal) else value
        steps, flags = tuple(self.steps), tuple(self.flags)
        text = shown or printed(final, unit, rounding)
        return Result(final, unit, steps, flags, clause, formula, text, fixed_units, rounding, not shown)


def printed(value: Figure, unit: str, rounding: str = ROUND_HALF_EVEN) -> str:
    """A value as it stands on paper. Example: (Decimal("0.8321"), "kJ/mm") gives "0.83 kJ/mm"."""
    if isinstance(value, str):
        return f"{value} {unit}".strip()
    step = PRINTED.get(unit, PRINTED_ELSE)
    text = number(value) if value == value.to_integral_value() else str(value.quantize(step, rounding, WIDE))
    return in_unit(text, unit)


def in_unit(figure: str, unit: str) -> str:
    """A figure with its unit; an angle has no blank before its sign. Example: ("45", "°") gives "45°"."""
    return f"{figure}{'' if unit == '°' else ' '}{unit}".strip()


def up_to_five(celsius: Decimal) -> Decimal:
    """A minimum preheat as printed: up to the next 5 °C, the stricter way. Example: 55 stays 55, 55.1 gives 60."""
    return (celsius / 5).to_integral_value(ROUND_CEILING) * 5


def positive(field: str, value: Decimal, unit: str = "") -> Decimal:
    """The value. Raises Refused unless it is above 0."""
    if value <= 0:
        raise Refused(field, f"{in_unit(number(value), unit)}; it must be above 0")
    return value


def not_negative(field: str, value: Decimal, unit: str = "") -> Decimal:
    """The value. Raises Refused where it is below 0."""
    if value < 0:
        raise Refused(field, f"{in_unit(number(value), unit)}; it must be 0 or more")
    return value


def within(field: str, value: Decimal, lo: str, hi: str, unit: str, method: str) -> Decimal:
    """The value. Raises Refused where it lies outside lo to hi, ends included, the range of the named method."""
    if not Decimal(lo) <= value <= Decimal(hi):
        told, end = in_unit(number(kept(value)), unit), in_unit(hi, unit)
        raise Refused(field, f"{told} is outside {lo} to {end}, the range of {method}")
    return value


def one_of(field: str, first: object, *others: tuple[str, object]) -> None:
    """Raises Refused unless exactly one of the alternatives is stated (not None)."""
    stated = [name for name, value in ((field, first), *others) if value is not None]
    names = " or ".join([field, *(name for name, _ in others)])
    if len(stated) != 1:
        raise Refused(field, f"state {names}" + (f", not both: {', '.join(stated)}" if stated else ""))
