"""A limit: what a record, or a procedure, allows of one variable, by which clause and from which tested value."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Protocol, runtime_checkable

from codes.clauses import Clause
from codes.values import Atom, Interval, Value, number
from codes.variables import label_of
from codes.where_so import WHERE
from codes.words import lower_first, terms_words


class Allowed(Protocol):
    """A set of allowed values of one variable."""

    def admits(self, atom: Atom) -> bool:
        """True where every point of the atom is allowed."""

    def margin(self, atom: Atom) -> Decimal | None:
        """Distance to the nearest end: positive inside, negative outside, None where there is no measure."""

    def __str__(self) -> str:
        """The set in words."""


@runtime_checkable
class Questions(Protocol):
    """An allowed set that can say what a refused atom leaves open (a steel without its yield strength)."""

    def unstated(self, atom: Atom) -> str:
        """What must be stated before the atom can be judged; "" where it is refused whatever the missing fact."""


@dataclass(frozen=True, slots=True)
class Within:
    """A number, or an interval, that lies in an interval."""

    interval: Interval

    def admits(self, atom: Atom) -> bool:
        if isinstance(atom, Interval):
            return self.interval.holds_all(atom)
        return isinstance(atom, Decimal) and self.interval.holds(atom)

    def margin(self, atom: Atom) -> Decimal | None:
        ends = (atom.lo, atom.hi) if isinstance(atom, Interval) else (atom, atom)
        lo, hi = self.interval.lo, self.interval.hi
        if isinstance(atom, Interval) and self._endless(atom):
            return self._miss(atom)
        gaps: list[Decimal] = []
        if lo is not None and isinstance(ends[0], Decimal):
            gaps.append(ends[0] - lo)
        if hi is not None and isinstance(ends[1], Decimal):
            gaps.append(hi - ends[1])
        return min(gaps) if gaps else None

    def _endless(self, atom: Interval) -> bool:
        ours = self.interval
        return (ours.hi is not None and atom.hi is None) or (ours.lo is not None and atom.lo is None)

    def _miss(self, atom: Interval) -> Decimal | None:
        """Of one without an end where a limit is set: by how much its other end misses, or None inside."""
        lo, hi = self.interval.lo, self.interval.hi
        if hi is not None and atom.lo is not None and atom.lo > hi:
            return hi - atom.lo
        return atom.hi - lo if lo is not None and atom.hi is not None and atom.hi < lo else None

    def __str__(self) -> str:
        return str(self.interval)


@dataclass(frozen=True, slots=True)
class OneOf:
    """One of the named terms; their order is the order of display."""

    terms: tuple[str, ...]

    def admits(self, atom: Atom) -> bool:
        return isinstance(atom, str) and atom in self.terms

    def margin(self, atom: Atom) -> Decimal | None:
        return None

    def __str__(self) -> str:
        return ", ".join(self.terms) if self.terms else "none"


@dataclass(frozen=True, slots=True)
class Free:
    """The code does not restrict the variable: the demand need not even state it."""

    def admits(self, atom: Atom) -> bool:
        return True

    def margin(self, atom: Atom) -> Decimal | None:
        return None

    def __str__(self) -> str:
        return "not restricted"


@dataclass(frozen=True, slots=True)
class Nothing:
    """Nothing is allowed, for the reason that the limit's derivation gives."""

    def admits(self, atom: Atom) -> bool:
        return False

    def margin(self, atom: Atom) -> Decimal | None:
        return None

    def __str__(self) -> str:
        return "nothing"


@dataclass(frozen=True, slots=True)
class Unrecorded:
    """The record does not state the named field, so what it allows cannot be known: the answer is 'not stated'."""

    field: str

    def admits(self, atom: Atom) -> bool:
        return False

    def margin(self, atom: Atom) -> Decimal | None:
        return None

    def __str__(self) -> str:
        return f"unknown: the record does not state {self.field}"


@dataclass(frozen=True, slots=True)
class When:
    """A condition on the demand: the limit counts where its `variable` lies in `allowed` (or does not, if negated)."""

    variable: str
    allowed: Allowed
    negate: bool = False

    def met_by(self, value: Value | None) -> bool | None:
        """True, False, or None where the demand does not state the variable.

        A demand that meets the condition with some of its values meets it: the limit must then hold.
        """
        if value is None:
            return None
        if not isinstance(value, tuple):
            return self._met_by_part(value)
        return any(self._met_by_part(atom) for atom in value)

    def _met_by_part(self, atom: Atom) -> bool:
        if isinstance(atom, Interval) and isinstance(self.allowed, Within):
            if self.negate:
                return not self.allowed.admits(atom)
            return self.allowed.interval.overlap(atom) is not None
        return self.allowed.admits(atom) is not self.negate

    def __str__(self) -> str:
        if self.variable in WHERE and self.allowed in (YES, NO):
            where, where_not = WHERE[self.variable]
            return where if (self.allowed == YES) is not self.negate else where_not
        name = lower_first(label_of(self.variable))
        several = isinstance(self.allowed, OneOf) and len(self.allowed.terms) > 1
        return f"{name} is {('none of ' if several else 'not ') if self.negate else ''}{self.words}"

    @property
    def words(self) -> str:
        """The set of the condition in words."""
        return allowed_words(self.variable, self.allowed)


YES, NO = OneOf(("yes",)), OneOf(("no",))


def allowed_words(variable: str, allowed: Allowed) -> str:
    """The allowed set as a reader sees it. Example: OneOf(("PB",)) of the position gives "PB · 2F"."""
    return terms_words(variable, allowed.terms) if isinstance(allowed, OneOf) else str(allowed)


def when_is(variable: str, *terms: str) -> When:
    """The condition that a variable is one of the terms. Example: when_is("weld_type", "fillet")."""
    return When(variable, OneOf(terms))


def unless(variable: str, *terms: str) -> When:
    """The condition that a variable is none of the terms."""
    return When(variable, OneOf(terms), negate=True)


@dataclass(frozen=True, slots=True)
class Limit:
    """What is allowed of one variable.

    `because` is the derivation in one line with the tested value in it ("tested s = 8 mm: 3 to 2 s").
    `when`: all conditions must be met for the limit to count. `readings`: switches that decided it, as text.
    `reason`: the reason key (defaults to the variable). `needs`: the named test or evidence that would make a
    demand outside the limit acceptable; such a miss is answered 'not stated', never 'covered'.
    `assumed`: the value that the code itself puts where the demand is silent ("no level named: level 2").
    `least_only`: of several numbers only the smallest is judged ("the thinner part decides").
    """

    variable: str
    allowed: Allowed
    clause: Clause
    because: str = ""
    when: tuple[When, ...] = ()
    readings: tuple[str, ...] = ()
    reason: str = ""
    needs: str = ""
    tested: str = ""
    assumed: Value | None = None
    least_only: bool = False

    @property
    def says(self) -> tuple[object, ...]:
        """All that decides what the limit answers: limits with equal ones answer every demand alike."""
        return self.variable, self.allowed, self.when, bool(self.needs), self.assumed, self.least_only

    @property
    def words(self) -> str:
        """What is allowed, in words."""
        return allowed_words(self.variable, self.allowed)

    @property
    def ruled_out(self) -> str:
        """Where nothing is allowed of the terms that the limit itself asks for: those, in words; else "".

        Example: weld type nothing, where weld type is branch connection, gives "branch connection".
        """
        own = [one for one in self.when if one.variable == self.variable and not one.negate]
        return own[0].words if isinstance(self.allowed, Nothing) and len(self.when) == len(own) == 1 else ""


@dataclass(frozen=True, slots=True)
class LimitSet:
    """All limits that must hold together: one record (or one process of it, or one allowed combination of pieces).

    A demand is covered by a record if it is covered by one of the record's limit sets, never by a mixture.
    """

    label: str
    limits: tuple[Limit, ...]
    standard: str = ""

    def __post_init__(self) -> None:
        # So that a demand which meets no condition at all is never covered by silence.
        if self.limits and all(limit.when for limit in self.limits):
            raise ValueError(f"limit set {self.label} has conditional limits only")


def span(lo: Decimal | None, hi: Decimal | None, unit: str = "") -> Within:
    """Shorthand for a closed range. Example: str(span(D(3), D(16), "mm")) is "3 to 16 mm"."""
    return Within(Interval(lo, hi, unit))


def times(factor: Decimal, value: Decimal, unit: str = "mm") -> str:
    """A derivation in figures. Example: times(D(2), D(8)) gives "2 x 8 mm = 16 mm"."""
    return f"{number(factor)} x {number(value)} {unit} = {number(factor * value)} {unit}"
