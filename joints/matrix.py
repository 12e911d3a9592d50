"""Many answers counted: assemblies by answer, and the reasons why not."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from codes.variables import VARIABLES, label_of
from codes.verdict import Outcome
from codes.words import lower_first
from joints.day import Answered, Say
from joints.margins import Room

WHOM = {"procedure": "No procedure", "person": "Nobody qualified", "place": "Workstation or job"}
SAME = {
    "thickness": "parent_t",
    "thickness_t": "parent_t",
    "thickness_s": "deposit_t",
    "joint_deposit_t": "deposit_t",
    "throat": "throat_a",
    "yield": "steels",
    "material_group": "steels",
    "polarity": "current_type",
    "backing": "weld_detail",
    "product_type": "product",
    "standard": "standard",
}
"""Reasons that mean the same to whoever plans: what the procedure's range and what its records refuse."""
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
    "continuity": "process not welded for six months",
    "standard": "made to another standard",
    "wpqr_age": "record unused for too long",
    "qualification_method": "route of qualification",
    "coordinator_level": "coordinator's knowledge",
    "run_technique": "run type",
    "pjp_size": "size of a partial penetration",
    "tack_length": "tack length",
    "missing_data": "facts missing on file",
    "impact_cap": "thickness where toughness is required",
    "impact_test": "temperature of the impact tests",
}
SHOWN = 40
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
    room: Room | None = None
    """The least margin of its joints, where it was asked for; `tight`: key and number of the joint that has it."""
    tight: tuple[int, str] = (0, "")

    def make_room(self, one: Answered) -> None:
        """Keep the margin of a joint where it is the least so far."""
        found = one.result.room
        if found is not None and (self.room is None or found.share < self.room.share):
            self.room, self.tight = found, (one.pk, one.number)


@dataclass(frozen=True, slots=True)
class Named:
    """A joint by name."""

    pk: int
    mark: str
    number: str


@dataclass(slots=True)
class Reason:
    """The leading reason of joints that are not covered: how many, and the first of them by what is said of them."""

    key: str
    count: int = 0
    said: dict[str, list[Named]] = field(default_factory=dict)

    @property
    def text(self) -> str:
        """In words. Example: "No procedure: parent thickness"."""
        whom, _, what = self.key.partition(":")
        return f"{WHOM.get(whom, whom)}: {reason_words(what)}"

    @property
    def more(self) -> int:
        """How many are not named."""
        return self.count - sum(len(joints) for joints in self.said.values())

    def add(self, one: Answered) -> None:
        """Count one more; the first ones are named."""
        if not self.more and self.count < SHOWN:
            self.said.setdefault(one.result.sentence, []).append(Named(one.pk, one.mark, one.number))
        self.count += 1


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
        if self.total.total == 1:
            return f"The only joint is {self._only}."
        if not self.total.open:
            return f"All {self.total.total:,} joints are covered."
        parts = [
            f"{number:,} {words}"
            for number, words in ((self.total.outside, "outside"), (self.total.not_stated, "not stated"))
            if number
        ]
        return f"{self.total.covered:,} of {self.total.total:,} joints are covered; {', '.join(parts)}."

    @property
    def _only(self) -> str:
        return "covered" if self.total.covered else "outside" if self.total.outside else "not stated"

    @property
    def open_sentence(self) -> str:
        """How many are not covered. Example: "48 of 277 joints are not covered: 40 outside, 8 not stated."."""
        if not self.total.open:
            return self.sentence
        parts = ((self.total.outside, "outside"), (self.total.not_stated, "not stated"))
        said = ", ".join(f"{number:,} {words}" for number, words in parts if number)
        joints = "joint" if self.total.total == 1 else "joints"
        verb = "is" if self.total.open == 1 else "are"
        return f"{self.total.open:,} of {self.total.total:,} {joints} {verb} not covered: {said}."


def reason_words(key: str) -> str:
    """A reason key in words. Example: reason_words("parent_t") is "parent thickness"."""
    if key in WORDS:
        return WORDS[key]
    label = label_of(key) if key in VARIABLES else key.replace("_", " ")
    return lower_first(label)


def matrix(answers: Sequence[Answered], rooms: bool = False, say: Say | None = None) -> Matrix:
    """The answers counted, assemblies in the order of the answers, reasons the commonest first.

    `rooms`: with the least margin of each assembly, which takes far longer than to count; `say` is told how far it is.
    """
    total = Tally()
    assemblies: dict[int, AssemblyTally] = {}
    for done, one in enumerate(answers):
        total.add(one.result.outcome)
        known = assemblies.setdefault(one.assembly_id, AssemblyTally(one.assembly_id, one.mark))
        known.tally.add(one.result.outcome)
        if say is not None:
            say(done, len(answers), "Finding the least margins" if rooms else "Counting")
        if rooms:
            known.make_room(one)
    return Matrix(total, tuple(assemblies.values()), reasons(answers, say))


def plain_reason(key: str) -> str:
    """A reason key with those that mean the same under one name. Example: "procedure:thickness" counts as parent_t."""
    whom, _, what = key.partition(":")
    return f"{whom}:{SAME.get(what, what)}"


def reasons(answers: Sequence[Answered], say: Say | None = None) -> tuple[Reason, ...]:
    """Why joints are not covered, the commonest first; a joint counts once, under its leading reason."""
    found: dict[str, Reason] = {}
    for done, one in enumerate(answers):
        if say is not None:
            say(done, len(answers), "Finding the reasons")
        if one.result.reasons:
            key = plain_reason(one.result.reasons[0])
            found.setdefault(key, Reason(key)).add(one)
    return tuple(sorted(found.values(), key=lambda reason: -reason.count))
