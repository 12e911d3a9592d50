"""What uncovered joints need: one procedure test or one person's test for each different demand.

A need is a demand of one phase that no procedure (or nobody) covers. Joints that ask the same share it.
"""

from collections.abc import Hashable, Mapping
from dataclasses import dataclass, field, replace
from decimal import Decimal

from codes.values import Value
from codes.verdict import Outcome
from codes.words import lower_first
from joints.answers import PhaseAnswer
from joints.day import Day
from joints.demands import JointDemand, PhaseDemand, Requirements
from joints.merge import merged, owned_by
from joints.sentences import of_tacks

PROCEDURE, PERSON = "procedure", "person"
ONE_RUN_THROAT = Decimal(6)
"""Own rule: a fillet up to this throat [mm] can be welded in one run."""
SEVERAL_RUNS_THROAT = Decimal(5)
"""Own rule: a fillet from this throat [mm] can be welded in several runs. A butt weld is welded in several."""

UNKNOWN = "unknown: the record does not state "
"""How a limit begins that hangs on a fact nobody stated; of a joint it is the joint that does not."""

Demand = Mapping[str, Value]


@dataclass(slots=True)
class Need:
    """One demand that lacks a procedure or a person: `boxes` are its forms, of which one must be covered.

    `filled`: the boxes hold what a procedure on file states; else a new procedure will decide it.
    """

    kind: str
    phase: PhaseDemand
    boxes: tuple[Demand, ...]
    filled: bool
    requirements: Requirements
    nearest: str
    joints: list[int] = field(default_factory=list)

    @property
    def process(self) -> str:
        """The process, "" where none is stated."""
        return str(self.boxes[0].get("process", ""))


@dataclass(frozen=True, slots=True)
class Reason:
    """Why no test piece helps. `phase`: of which it is said, "" where of the whole joint; `about`: what refuses."""

    said: str
    phase: str = ""
    about: str = ""


@dataclass(slots=True)
class Blocked:
    """Joints that no test piece helps, each once and in order, with one reason. `phases`: of which it is said."""

    reason: Reason
    phases: tuple[str, ...]
    joints: dict[int, None] = field(default_factory=dict)

    @property
    def why(self) -> str:
        """The reason in words, with the phases that it is said of."""
        said, phase, about = self.reason.said, self.reason.phase, self.reason.about
        if not phase:
            return said
        both = len(self.phases) > 1
        if not about:
            return f"{'tack and final' if both else phase} phase: {said}"
        return f"{'tack and final' if both else phase} phase, {about}: {said}"


@dataclass(slots=True)
class Open:
    """What is open: needs by what they ask, what is blocked, and each joint's share in both."""

    needs: list[Need] = field(default_factory=list)
    blocked: dict[Reason, Blocked] = field(default_factory=dict)
    nearest: dict[int, list[str]] = field(default_factory=dict)
    of_joint: dict[int, list[Need]] = field(default_factory=dict)

    def block(self, joint: int, why: Reason) -> None:
        """Count a joint under a reason."""
        self.blocked.setdefault(why, Blocked(why, (why.phase,))).joints[joint] = None

    def both_phases(self) -> list[Blocked]:
        """What is blocked; one reason where tacks and final weld of the same joints have the same."""
        found: dict[Hashable, Blocked] = {}
        for why, one in self.blocked.items():
            alike = found.setdefault((why.said, why.about, bool(why.phase), tuple(one.joints)), one)
            if alike is not one:
                found[why.said, why.about, True, tuple(one.joints)] = replace(alike, phases=(*alike.phases, why.phase))
        return list(found.values())


class Collector:
    """Takes in uncovered joints one by one; what was judged for an equal phase is used again."""

    def __init__(self, day: Day) -> None:
        self.day, self.found = day, Open()
        self._answers: dict[Hashable, PhaseAnswer] = {}
        self._needs: dict[Hashable, tuple[list[Need], Reason | None]] = {}

    def add(self, joint: int, demand: JointDemand) -> None:
        """One joint that is not covered."""
        for phase in demand.phases:
            key = phase.key, demand.requirements.key, demand.tack_length
            if key not in self._answers:
                engine = self.day.engine
                with engine.lock:
                    self._answers[key] = engine.explained(phase, demand, engine.core(phase, demand))
            answer = self._answers[key]
            if answer.outcome is not Outcome.COVERED:
                self._open(joint, phase, demand, answer, key)

    def _open(self, joint: int, phase: PhaseDemand, demand: JointDemand, answer: PhaseAnswer, key: Hashable) -> None:
        if key not in self._needs:
            self._needs[key] = self._needs_of(phase, demand, answer)
            self.found.needs += self._needs[key][0]
        needs, why = self._needs[key]
        said = of_tacks(answer.sentence) if phase.phase == "tack" else answer.sentence
        self.found.nearest.setdefault(joint, []).append(said)
        if why:
            self.found.block(joint, why)
        for need in needs:
            need.joints.append(joint)
            self.found.of_joint.setdefault(joint, []).append(need)

    def _needs_of(
        self, phase: PhaseDemand, demand: JointDemand, answer: PhaseAnswer
    ) -> tuple[list[Need], Reason | None]:
        """The needs of one phase, or why no test piece helps."""
        place = answer.place
        if place is not None and place.outcome is not Outcome.COVERED:
            first = place.findings[0]
            if first.variable == "steels" and not first.wanted and phase.notes:
                # What the shop asks of the steels is not the point where they are not known: the note says which.
                return [], Reason(phase.notes[0].partition("; ")[0])
            said = lower_first(first.sentence)
            if first.missing.startswith(UNKNOWN):
                said = f"{first.missing.removeprefix(UNKNOWN)} is not stated ({first.clause})"
            return [], Reason(said, phase.phase, "workstation or job")
        if len(phase.demands) > 1:
            several = "several processes share the weld, and the procedure decides how much each deposits"
            return [], Reason(f"{several}; plan that test by hand", phase.phase)
        covering = [o for o in self.day.procedures if o.label in answer.labels]
        owned = owned_by(phase.demands)
        plain = as_suggested(phase.demands[0])
        needs = []
        if not covering:
            needs.append(Need(PROCEDURE, phase, plain, False, demand.requirements, answer.sentence))
        if not answer.people:
            boxes = tuple(merged(offer, phase.demands[0], owned) for offer in covering)
            # Whoever is tested in several runs may weld one, so whichever run type the new procedure takes is covered.
            boxes = boxes or plain[-1:]
            needs.append(Need(PERSON, phase, boxes, bool(covering), demand.requirements, answer.sentence))
        return needs, None


def as_suggested(demand: Demand) -> tuple[Demand, ...]:
    """The demand with each run type that a new procedure may state, one run first, where the joint leaves it open."""
    if "run_type" in demand:
        return (demand,)
    throat = demand.get("throat_a")
    runs = ["multi_run"]
    if demand.get("weld_type") == "fillet" and isinstance(throat, Decimal):
        one, several = throat <= ONE_RUN_THROAT, throat >= SEVERAL_RUNS_THROAT
        runs = [run for run, can in (("single_run", one), ("multi_run", several)) if can]
    return tuple({**demand, "run_type": run} for run in runs)
