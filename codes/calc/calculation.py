"""A calculation by name: its typed inputs, each with label, unit and need, and the function that does it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from enum import Enum

from codes.calc.result import Result

UNITS_NOTE = 'a figure in the unit named, or {"value": 12.5, "unit": "in/min"}, or "12.5 in/min"'


class Kind(Enum):
    """What an input looks like in a question and on a form."""

    NUMBER = "number"
    NUMBERS = "numbers"
    RANGE = "range"
    TERM = "term"
    TERMS = "terms"
    YES_NO = "yes_no"
    TEXT = "text"
    ANALYSIS = "analysis"
    VECTOR = "vector"
    PAIRS = "pairs"
    LINES = "lines"


@dataclass(frozen=True, slots=True)
class Input:
    """One input. `needed`: "always", "" (optional), or in words when it must be stated.

    `options`: token -> words of a TERM; `vocabulary`: the terms of `codes.terms` instead.
    """

    name: str
    label: str
    unit: str = ""
    kind: Kind = Kind.NUMBER
    needed: str = ""
    help: str = ""
    options: Mapping[str, str] = field(default_factory=dict)
    vocabulary: str = ""


@dataclass(frozen=True, slots=True)
class Calculation:
    """A calculation: `function` takes the inputs by name, leaves out what is not stated, and gives a Result.

    `unit`: the unit of the value ("" for words or figures without one).
    """

    name: str
    label: str
    family: str
    unit: str
    function: Callable[..., Result]
    inputs: tuple[Input, ...]

    def input(self, name: str) -> Input:
        """The input of that name. Raises KeyError."""
        for one in self.inputs:
            if one.name == name:
                return one
        raise KeyError(name)


def asked(name: str, label: str, unit: str = "", help: str = "", kind: Kind = Kind.NUMBER) -> Input:
    """An input that must be stated."""
    return Input(name, label, unit, kind, "always", help)


def optional(
    name: str, label: str, unit: str = "", help: str = "", kind: Kind = Kind.NUMBER, needed: str = ""
) -> Input:
    """An input that may be left out, or that `needed` asks for under a condition."""
    return Input(name, label, unit, kind, needed, help)


def choice(name: str, label: str, options: Mapping[str, str], needed: str = "", help: str = "") -> Input:
    """An input with a fixed set of words."""
    return Input(name, label, "", Kind.TERM, needed, help, options)


def yes_no(name: str, label: str, help: str = "", needed: str = "") -> Input:
    """A yes or no."""
    return Input(name, label, "", Kind.YES_NO, needed, help)


def process(needed: str = "") -> Input:
    """The welding process, in the terms of ISO 4063 or their AWS names."""
    return Input("process", "Process", "", Kind.TERM, needed, "ISO 4063 number", vocabulary="process")
