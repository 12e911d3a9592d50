"""Many answers counted: assemblies by answer, and the reasons why not."""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from codes.variables import VARIABLES, label_of
from codes.verdict import Outcome
from joints.day import Answered

WHOM = {"procedure": "No procedure", "person": "Nobody qualified", "place": "Workstation or job"}
WORDS = {
    "none approved": "none approved for the phase",
    "nobody": "no certificate of the right kind",
    "records": "no record that supports it",
    "workstation": "process not run at the workstation",
    "validity": "certificate not valid on the day",
    "validity_not_started": "certificate not valid yet",
    "validity_confirmation": "six-month confirmation missing",
    "validity_expiry": "certificate expired",
    "revoked": "certificate revoked",
    "thickness_s": "deposited thickness",
    "thickness_t": "parent thickness",
    "wpqr_age": "record unused for too long",
    "qualification_method": "route of qualification",
    "coordinator_level": "coordinator's knowledge",
    "tack_length": "tack length",
    "missing_data": "facts missing on file",
}
SHOWN = 25
"""Joints named under one reason."""


@dataclass(slots=True)
class Tally:
    """How many joints got which answer."""

    covered: int = 0
    outside: int = 0
    not_stated: int = 0

    @property
    def total(self) -> int:
        """All joints."""
        return self.covered + self.outside + self.not_stated

    @property
    def open(self) -> int:
        """The joints that are not covered."""
        return self.outside + self.not_stated

    def add(self, outcome: Outcome) -> None:
        """Count one more."""
        name = outcome.value.replace(" ", "_")
        setattr(self, name, getattr(self, name) + 1)


@dataclass(slots=True)
class AssemblyTally:
    """One assembly of the matrix."""

    pk: int
    mark: str
    tally: Tally = field(default_factory=Tally)


@dataclass(slots=True)
class Reason:
    """Why joints are not covered: how many, and the first of them."""

    key: str
    count: int = 0
    joints: list[Answered] = field(default_factory=list)

    @property
    def text(self) -> str:
        """In words. Example: "No procedure: parent thickness"."""
        whom, _, what = self.key.partition(":")
        return f"{WHOM.get(whom, whom)}: {reason_words(what)}"

    @property
    def more(self) -> int:
        """How many are not named."""
        return self.count - len(self.joints)


@dataclass(frozen=True, slots=True)
class Matrix:
    """A job, or several, on one day."""

    total: Tally
    assemblies: tuple[AssemblyTally, ...]
    reasons: tuple[Reason, ...]

    @property
    def sentence(self) -> str:
        """The answer in one sentence."""
        if not self.total.total:
            return "No joints are on file yet."
        if not self.total.open:
            return f"All {self.total.total:,} joints are covered."
        parts = [
            f"{number:,} {words}"
            for number, words in ((self.total.outside, "outside"), (self.total.not_stated, "not stated"))
            if number
        ]
        return f"{self.total.covered:,} of {self.total.total:,} joints are covered; {', '.join(parts)}."


def reason_words(key: str) -> str:
    """A reason key in words. Example: reason_words("parent_t") is "parent thickness"."""
    if key in WORDS:
        return WORDS[key]
    label = label_of(key) if key in VARIABLES else key.replace("_", " ")
    return label[:1].lower() + label[1:]


def matrix(answers: Sequence[Answered]) -> Matrix:
    """The answers counted, assemblies in the order of the answers, reasons the commonest first."""
    total = Tally()
    assemblies: dict[int, AssemblyTally] = {}
    for one in answers:
        total.add(one.result.outcome)
        known = assemblies.setdefault(one.assembly_id, AssemblyTally(one.assembly_id, one.mark))
        known.tally.add(one.result.outcome)
    return Matrix(total, tuple(assemblies.values()), reasons(answers))


def reasons(answers: Iterable[Answered]) -> tuple[Reason, ...]:
    """Why joints are not covered; a joint with several reasons counts under each."""
    counted: Counter[str] = Counter()
    named: dict[str, list[Answered]] = {}
    for one in answers:
        for key in one.result.reasons:
            counted[key] += 1
            if len(shown := named.setdefault(key, [])) < SHOWN:
                shown.append(one)
    return tuple(Reason(key, number, named[key]) for key, number in counted.most_common())
