"""What a demand or a test can say of one variable: a term, a number, an interval, a steel, or several of them."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal


def bare(name: str) -> str:
    """A name without blanks and signs. Letters of every script stay: 10ХСНД and 10ХНДП are two steels, not both 10."""
    return re.sub(r"[\W_]", "", name)


def number(value: Decimal) -> str:
    """Print a decimal without exponent or trailing zeros. Example: Decimal("7.50") gives "7.5"."""
    text = format(value, "f")
    return text.rstrip("0").rstrip(".") if "." in text else text


@dataclass(frozen=True, slots=True)
class Interval:
    """All numbers from lo to hi, ends included unless open; None means no end on that side.

    Raises ValueError where lo lies above hi. Example: Interval(D(3), D(16), "mm") holds 16, not 16.1.
    """

    lo: Decimal | None
    hi: Decimal | None
    unit: str = ""
    lo_open: bool = False
    hi_open: bool = False

    def __post_init__(self) -> None:
        if self.lo is not None and self.hi is not None:
            empty = self.lo > self.hi or (self.lo == self.hi and (self.lo_open or self.hi_open))
            if empty:
                raise ValueError(f"an interval cannot run from {self.lo} to {self.hi}")

    def holds(self, value: Decimal) -> bool:
        """True where the number lies inside; an included end is inside."""
        above = self.lo is None or value > self.lo or (value == self.lo and not self.lo_open)
        below = self.hi is None or value < self.hi or (value == self.hi and not self.hi_open)
        return above and below

    def holds_all(self, other: "Interval") -> bool:
        """True where every point of the other interval lies inside this one."""
        return not self.outside(other)

    def overlap(self, other: "Interval") -> "Interval | None":
        """The common part, or None where there is none."""
        lo, lo_open = _later(self.lo, self.lo_open, other.lo, other.lo_open)
        hi, hi_open = _earlier(self.hi, self.hi_open, other.hi, other.hi_open)
        try:
            return Interval(lo, hi, self.unit or other.unit, lo_open, hi_open)
        except ValueError:
            return None

    def outside(self, other: "Interval") -> "tuple[Interval, ...]":
        """The pieces of the other interval that this one does not hold (none, one or two)."""
        pieces: list[Interval] = []
        if self.lo is not None:
            below = other.overlap(Interval(None, self.lo, other.unit, hi_open=not self.lo_open))
            if below:
                pieces.append(below)
        if self.hi is not None:
            above = other.overlap(Interval(self.hi, None, other.unit, lo_open=not self.hi_open))
            if above:
                pieces.append(above)
        return tuple(pieces)

    def __str__(self) -> str:
        unit = self.unit if self.unit in ("", "°") else f" {self.unit}"
        if self.lo is None and self.hi is None:
            return "any value"
        if self.lo is None:
            return f"{'below' if self.hi_open else 'up to'} {number(self.hi)}{unit}"  # type: ignore[arg-type]
        if self.hi is None:
            return f"{'above' if self.lo_open else 'from'} {number(self.lo)}{unit}"
        if self.lo == self.hi:
            return f"{number(self.lo)}{unit}"
        return (
            f"{'above ' if self.lo_open else ''}{number(self.lo)} to "
            f"{'below ' if self.hi_open else ''}{number(self.hi)}{unit}"
        )


def _later(a: Decimal | None, a_open: bool, b: Decimal | None, b_open: bool) -> tuple[Decimal | None, bool]:
    """The higher of two lower ends; of equal ones the open one."""
    if a is None or b is None:
        return (b, b_open) if a is None else (a, a_open)
    return max((a, a_open), (b, b_open))


def _earlier(a: Decimal | None, a_open: bool, b: Decimal | None, b_open: bool) -> tuple[Decimal | None, bool]:
    """The lower of two upper ends; of equal ones the open one."""
    if a is None or b is None:
        return (b, b_open) if a is None else (a, a_open)
    end, closed = min((a, not a_open), (b, not b_open))
    return end, not closed


@dataclass(frozen=True, slots=True)
class Steel:
    """One parent material: ISO/TR 15608 group ("1.2"; "" where not stated), specified minimum yield in MPa, grade."""

    group: str = ""
    yield_mpa: Decimal | None = None
    grade: str = ""

    @property
    def main_group(self) -> str:
        """The group without its sub-group. Example: "1.2" gives "1"."""
        return self.group.split(".")[0]

    @property
    def group_said(self) -> str:
        """The group as a reader names it. Example: "group 1.2"; "P-1 Gr 1" of ASME IX says it itself."""
        return self.group if self.group.startswith("P") else f"group {self.group}" if self.group else ""

    def __str__(self) -> str:
        facts = [self.group_said] if self.group else []
        facts += [f"{number(self.yield_mpa)} MPa"] if self.yield_mpa is not None else []
        known = ", ".join(facts)
        if self.grade and known:
            return f"{self.grade} ({known})"
        return self.grade or known or "steel not stated"


@dataclass(frozen=True, slots=True)
class SteelPair:
    """The two parent materials of a joint, in no particular order."""

    first: Steel
    second: Steel

    def __iter__(self) -> Iterator[Steel]:
        return iter((self.first, self.second))

    def __str__(self) -> str:
        return f"{self.first} to {self.second}"


Atom = str | Decimal | Interval | SteelPair
"""One value. Yes/no variables use the terms "yes" and "no"."""

Value = Atom | tuple[Atom, ...]
"""One value, or several that all occur (positions of a pipe joint, both thicknesses of a fillet)."""


def atoms(value: Value) -> tuple[Atom, ...]:
    """The single values of a value."""
    return value if isinstance(value, tuple) else (value,)


def text(value: Value, unit: str = "") -> str:
    """The value in words, unit included."""
    return " + ".join(_atom_text(atom, unit) for atom in atoms(value))


def _atom_text(atom: Atom, unit: str) -> str:
    if isinstance(atom, Decimal):
        return f"{number(atom)}{unit}" if unit == "°" else f"{number(atom)} {unit}".strip()
    return str(atom)
