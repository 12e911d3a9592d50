"""How much room an answer has: the tightest figure of what covers a joint, or by how much the nearest misses.

Figures of different units are compared by their share of what the joint asks: 2 mm of 10 mm are tighter than 5 mm of
20 mm. Of several procedures that cover a joint the one with the most room counts, and so of people, since any of them
will do. Only what the joint decides counts: what a procedure states itself (a preheat) it may state otherwise. What has
no measure (a position) has no margin, nor has the day, which the weeks ahead answer.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from decimal import Decimal

from codes.units import System
from codes.values import Interval, Value, atoms
from codes.verdict import AT_OPEN_END, Finding, Outcome, Verdict, as_range
from joints.answers import CertificateAnswer, JointAnswer, PhaseAnswer
from joints.merge import OWNED, US_OWNED
from joints.us_demands import SIZES
from register.own_units.findings import finding_in

NONE = (0, (0,), (Decimal(0),))
"""What stands for a size that is none."""


@dataclass(frozen=True, slots=True)
class Room:
    """The least margin of a joint. `share`: of what is asked, below 0 where it misses; `giver`: the procedure or
    certificate whose range it is; the rest in words. `in_us`: what `IN_US` names, for a reader in US units.
    """

    share: Decimal
    margin: str
    label: str
    wanted: str
    allowed: str
    clause: str
    because: str
    giver: str
    phase: str
    in_us: tuple[str, ...] = ()

    def for_reader(self, system: System) -> "Room":
        """The same in the reader's units; one that was kept without US units stays in SI."""
        if system is System.SI or not self.in_us:
            return self
        return replace(self, **dict(zip(IN_US, self.in_us, strict=False)))

    @property
    def sentence(self) -> str:
        """Example: "Parent thickness 28 mm within 3 to 30 mm by WPS 014 rev C (ISO 15614-1:2017, Table 7)"."""
        missed = self.share < 0 or self.margin == AT_OPEN_END
        into = f"{'outside' if missed else 'within'} {as_range(self.allowed)}"
        clause = self.clause.removeprefix(f"{self.giver}, ")
        if clause == STATED:
            return f"{self.label} {self.wanted} {into}, as {self.giver} states"
        # A certificate names its standard behind its number, and so does the clause: once is enough.
        name, _, standard = self.giver.removesuffix(")").rpartition(" (")
        giver = name if name and clause.startswith(f"{standard}, ") else self.giver
        return f"{self.label} {self.wanted} {into} by {giver} ({clause})"

    @property
    def why(self) -> str:
        """What the range rests on, where it is more than what the procedure states."""
        return "" if self.clause.endswith(f", {STATED}") else self.because


STATED = "range stated"
"""The place of a range in a procedure's own window."""
IN_US = ("margin", "wanted", "allowed", "because")
JOINT_DECIDES = OWNED | US_OWNED | frozenset(SIZES)


def is_measured(finding: Finding) -> bool:
    """True where a finding has a margin with a unit, of a size that is there at all."""
    return finding.margin is not None and bool(finding.unit) and finding.value not in NONE and finding.variable != "on"


def room_of(answer: PhaseAnswer) -> Room | None:
    """The least margin of a phase: of its procedure, of its person, of its place."""
    return tightest(_parts(answer))


def joint_room(answer: JointAnswer) -> Room | None:
    """The least margin of a joint, tack and final."""
    return tightest(room_of(phase) for phase in answer.phases)


def tightest(rooms: Iterable[Room | None]) -> Room | None:
    """The least of several; the first of equals."""
    return min((room for room in rooms if room is not None), key=lambda room: room.share, default=None)


def _parts(answer: PhaseAnswer) -> Iterator[Room | None]:
    phase = answer.phase
    if answer.covering:
        yield _roomiest(_least(one.verdict, one.label, phase) for one in answer.covering)
    elif answer.nearest_procedure is not None:
        yield _miss(answer.nearest_procedure.verdict, answer.nearest_procedure.label, phase)
    if answer.people:
        for people in _by_process(answer.people):
            yield _roomiest(_least(one.verdict, one.label, phase) for one in people)
    elif answer.nearest_certificate is not None:
        yield _miss(answer.nearest_certificate.verdict, answer.nearest_certificate.label, phase)
    if answer.place is not None and answer.place.worst:
        yield _miss(answer.place, answer.place.label, phase)


def _by_process(people: Iterable[CertificateAnswer]) -> Iterator[list[CertificateAnswer]]:
    """Where several processes share a weld, each wants a certificate of its own."""
    found: dict[Value | None, list[CertificateAnswer]] = {}
    for one in people:
        found.setdefault(one.verdict.demand.get("process"), []).append(one)
    yield from found.values()


def _roomiest(rooms: Iterable[Room | None]) -> Room | None:
    """That with the most room; None where one of them has no limit with a measure."""
    every = list(rooms)
    if any(room is None for room in every):
        return None
    return max((room for room in every if room is not None), key=lambda room: room.share, default=None)


def _least(verdict: Verdict, giver: str, phase: str) -> Room | None:
    own = (one for one in verdict.findings if one.variable in JOINT_DECIDES and is_measured(one))
    return _of_tightest(own, giver, phase)


def _miss(verdict: Verdict, giver: str, phase: str) -> Room | None:
    outside = (one for one in verdict.worst if one.outcome is Outcome.OUTSIDE and is_measured(one))
    return _of_tightest(outside, giver, phase)


def _of_tightest(findings: Iterable[Finding], giver: str, phase: str) -> Room | None:
    finding = min(findings, key=_share, default=None)
    if finding is None:
        return None
    us = finding_in(finding, System.US)
    return Room(
        share=_share(finding),
        margin=finding.margin_text,
        label=finding.label,
        wanted=finding.wanted,
        allowed=finding.allowed,
        clause=str(finding.clause),
        because=finding.because,
        giver=giver,
        phase=phase,
        in_us=(us.margin_text, us.wanted, us.allowed, us.because),
    )


def _share(finding: Finding) -> Decimal:
    """The margin by the size of what is asked."""
    size = max((abs(number) for number in _numbers(finding.value)), default=Decimal(0)) or Decimal(1)
    return (finding.margin if finding.margin is not None else Decimal(0)) / size


def _numbers(value: Value | None) -> Iterator[Decimal]:
    for atom in atoms(value) if value is not None else ():
        if isinstance(atom, Decimal):
            yield atom
        elif isinstance(atom, Interval):
            yield from (end for end in (atom.lo, atom.hi) if end is not None)
