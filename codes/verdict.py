"""The answer to a question: a finding for every variable, and the worst of them."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import Enum

from codes.clauses import Clause, Mark
from codes.limits import Allowed, Nothing
from codes.values import SteelPair, Value, atoms, text
from codes.words import lower_first

ONE_END = ("from ", "up to ", "above ", "below ")
"""How the words of an interval with one end begin."""


def as_range(allowed: str) -> str:
    """What is allowed, to be read after "outside" or "within". Example: "the range from 100 °C", "3 to 16 mm"."""
    return f"the range {allowed}" if allowed.startswith(ONE_END) else allowed


AT_LIMIT, AT_OPEN_END = "at its limit", "misses at an end that is left out"
IN_PLURAL = frozenset({
    "Parent materials", "Layers", "Positions of the impact tests", "Positions of the hardness tests",
    "Tests at the extreme positions", "Several arcs", "Sides and backing", "Current and polarity",
})  # fmt: skip
"""Labels of which a sentence says "are"."""


class Outcome(Enum):
    """The three answers. Not stated is never covered."""

    COVERED = "covered"
    OUTSIDE = "outside"
    NOT_STATED = "not stated"

    @property
    def rank(self) -> int:
        """Worst first: outside 0, not stated 1, covered 2."""
        return _RANKS[self._value_]


# By their words: a member of an Enum works out its hash anew each time, and every verdict is sorted by this.
_RANKS = {"outside": 0, "not stated": 1, "covered": 2}


@dataclass(frozen=True, slots=True)
class Finding:
    """What was asked of one variable, what is allowed, by which clause, and by how much it fits or misses."""

    variable: str
    label: str
    outcome: Outcome
    wanted: str
    allowed: str
    clause: Clause
    because: str = ""
    tested: str = ""
    margin: Decimal | None = None
    unit: str = ""
    readings: tuple[str, ...] = ()
    reason: str = ""
    needs: str = ""
    missing: str = ""
    limit: Allowed | None = None
    value: Value | None = None

    @property
    def mark(self) -> Mark:
        """How certain the rule is that decided this finding."""
        return self.clause.mark

    @property
    def margin_unit(self) -> str:
        """The unit of the margin; of parent materials it is one of specified yield strengths."""
        steels = self.value is not None and any(isinstance(atom, SteelPair) for atom in atoms(self.value))
        return self.unit or ("MPa" if steels else "")

    @property
    def margin_text(self) -> str:
        """The margin with its unit; "misses by" where it is outside. At the end itself there is no size to state."""
        if self.margin is None:
            return ""
        if not self.margin:
            return AT_OPEN_END if self.outcome is Outcome.OUTSIDE else AT_LIMIT
        size = self._size
        return f"misses by {size}" if self.margin < 0 else f"{size} to spare"

    @property
    def _size(self) -> str:
        return text(abs(self.margin or Decimal(0)), self.margin_unit)

    @property
    def sentence(self) -> str:
        """The finding in one sentence, clause included."""
        source = f": {self.because} ({self.clause})." if self.because else f" ({self.clause})."
        said = f"{self.label} {self.wanted}".rstrip()
        if self.outcome is Outcome.COVERED:
            return said + f" {'are' if self._is_plural else 'is'} covered by {self._allowed}{source}"
        if self.outcome is Outcome.NOT_STATED:
            return self._not_stated + source
        if isinstance(self.limit, Nothing):
            return said + f" {'are' if self._is_plural else 'is'} not covered{source}"
        # At an end that is itself left out the miss has no size.
        by = f", by {self._size}" if self.margin else ""
        return f"{said} {'are' if self._is_plural else 'is'} outside {self._allowed}{by}{source}"

    @property
    def _is_plural(self) -> bool:
        return self.label in IN_PLURAL

    @property
    def _allowed(self) -> str:
        return as_range(self.allowed)

    @property
    def _not_stated(self) -> str:
        missing = self.missing or self.allowed
        if not self.wanted and missing == f"{lower_first(self.label)} not stated":
            return f"{self.label} {'are' if self._is_plural else 'is'} not stated, {self._allowed} would be covered"
        return f"{self.label} {self.wanted}".rstrip() + f" cannot be judged, {missing}"


@dataclass(frozen=True, slots=True)
class Verdict:
    """The findings of one demand against one limit set, worst first, and the answer they give together."""

    demand: Mapping[str, Value]
    outcome: Outcome
    findings: tuple[Finding, ...]
    label: str = ""
    standard: str = ""

    @property
    def worst(self) -> tuple[Finding, ...]:
        """The findings that keep the demand from being covered."""
        return tuple(f for f in self.findings if f.outcome is not Outcome.COVERED)

    @property
    def reasons(self) -> tuple[str, ...]:
        """The reason keys of what fails or is missing, each once."""
        return tuple(dict.fromkeys(f.reason for f in self.worst))

    @property
    def readings(self) -> tuple[str, ...]:
        """The switches that the findings rest on, each once."""
        return tuple(dict.fromkeys(r for f in self.findings for r in f.readings))

    @property
    def unconfirmed(self) -> tuple[str, ...]:
        """The clauses that the findings rest on and that no public source confirmed in full, each once."""
        return tuple(dict.fromkeys(str(f.clause) for f in self.findings if f.mark is not Mark.CONFIRMED))

    @property
    def sentence(self) -> str:
        """The answer in one sentence."""
        by = f" by {self.label}" if self.label else ""
        if self.outcome is Outcome.COVERED:
            return f"Covered{by}."
        first = self.worst[0].sentence if self.worst else "no limits to check against."
        more = f" And {len(self.worst) - 1} more." if len(self.worst) > 1 else ""
        return (
            f"{'Outside' if self.outcome is Outcome.OUTSIDE else 'Not stated'}"
            f"{f' for {self.label}' if self.label else ''}: {first}{more}"
        )
