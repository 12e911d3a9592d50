"""The same answers for many joints: demands that no limit tells apart are asked once, and answered by bit masks.

Words are made only where somebody reads them, by the explaining answer, which is then asked about the procedures and
certificates that decide. A property test holds the two together.
"""

from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property
from threading import Lock

from codes.columns import Columns, Sorted
from codes.readings import DEFAULTS, Settings
from codes.values import Value
from codes.verdict import Outcome
from joints.answers import PhaseAnswer, reasons_as_told, worst
from joints.bulk_coder import Coder
from joints.bulk_judge import MaskJudge, Question, Said, question
from joints.bulk_people import Able, Holders
from joints.bulk_rows import Gates
from joints.coverage import phase_answer, place_gates, place_of
from joints.demands import JointDemand, PhaseDemand
from joints.judge import Judge
from joints.margins import Room, room_of, tightest
from joints.sentences import covered_sentence, joint_sentence
from qualifications.offers import CertificateOffer
from wps.offers import ProcedureOffer

ROOMS = 20_000
"""So many margins are kept at most; then all are forgotten."""


@dataclass(frozen=True)
class PhaseResult:
    """One phase, without its findings."""

    outcome: Outcome
    labels: tuple[str, ...]
    people: Able
    say: Callable[[], tuple[str, tuple[str, ...]]] = field(repr=False, compare=False)
    """The sentence and the reason keys."""
    roomy: Callable[[], Room | None] = field(repr=False, compare=False, default=lambda: None)
    """The least margin (joints.margins)."""

    @property
    def person_ids(self) -> frozenset[int]:
        """The people who may weld it."""
        return self.people.ids

    @cached_property
    def _said(self) -> tuple[str, tuple[str, ...]]:
        return self.say()

    @cached_property
    def room(self) -> Room | None:
        """The least margin, by its share of what is asked; worked out when somebody asks."""
        return self.roomy()

    @property
    def sentence(self) -> str:
        """The answer in one sentence."""
        return self._said[0]

    @property
    def reasons(self) -> tuple[str, ...]:
        """Why not, as keys."""
        return () if self.outcome is Outcome.COVERED else self._said[1]


@dataclass(frozen=True, slots=True)
class JointResult:
    """One joint, without its findings."""

    on: date
    tack: PhaseResult
    final: PhaseResult
    outcome: Outcome
    """The worse of the two phases."""

    @property
    def sentence(self) -> str:
        """The answer in words."""
        return joint_sentence(self.tack, self.final, self.on)

    @property
    def room(self) -> Room | None:
        """The least margin of both phases."""
        return tightest((self.tack.room, self.final.room))

    @property
    def reasons(self) -> tuple[str, ...]:
        """The reason keys of both phases, each once, first those that the sentence tells of."""
        return reasons_as_told(self.tack, self.final)


@dataclass(frozen=True, slots=True)
class Core:
    """What all phases share that no limit tells apart: by index the procedures and certificates that decide."""

    outcome: Outcome
    labels: tuple[str, ...]
    people: Able
    procedures: tuple[ProcedureOffer, ...]
    """Those that cover it, else the one that comes nearest."""
    nearest: CertificateOffer | None
    """Where nobody may weld it: the certificate that comes nearest."""


@dataclass(slots=True)
class _Kind:
    """Questions with the same job, phase, workstation and tack length, and what was answered so far."""

    coder: Coder
    gates: dict[bool, Gates]
    place: Columns
    """What the workstation and the job itself say."""
    known: dict[Hashable, Core] = field(default_factory=dict)
    held: dict[Hashable, Holders] = field(default_factory=dict)

    def has_place_for(self, asked: Question) -> bool:
        """True where workstation and job say nothing against it."""
        return not any(self.place.judged(demand, codes).bad for demand, codes in asked.each)


class Engine:
    """The offers of one day, ready for many questions."""

    def __init__(
        self,
        procedures: Sequence[ProcedureOffer],
        certificates: Sequence[CertificateOffer],
        on: date,
        settings: Settings = DEFAULTS,
    ) -> None:
        self.procedures, self.certificates, self.on, self.settings = procedures, certificates, on, settings
        self.judge = MaskJudge(procedures, certificates, on, settings)
        self._plain = Judge(on, settings)
        self._kinds: dict[Hashable, _Kind] = {}
        self._rooms: dict[Hashable, Room | None] = {}
        self.lock = Lock()
        """Held by whoever asks: the judge remembers what it was asked last."""

    @property
    def asked(self) -> int:
        """How many different phases were answered so far."""
        return sum(len(kind.known) for kind in self._kinds.values())

    def result(self, joint: JointDemand) -> JointResult:
        """The answer to one joint."""
        tack, final = (self.phase(phase, joint) for phase in joint.phases)
        return JointResult(self.on, tack, final, worst((tack.outcome, final.outcome)))

    def phase(self, phase: PhaseDemand, joint: JointDemand) -> PhaseResult:
        """The answer to one phase."""
        core = self.core(phase, joint)

        def say() -> tuple[str, tuple[str, ...]]:
            covered = core.outcome is Outcome.COVERED
            return (self._covered(phase, core), ()) if covered else self._words(phase, joint, core)

        return PhaseResult(core.outcome, core.labels, core.people, say, lambda: self._room(phase, joint, core))

    def _covered(self, phase: PhaseDemand, core: Core) -> str:
        return covered_sentence(phase.phase, core.labels, core.people.ids, self.on)

    def core(self, phase: PhaseDemand, joint: JointDemand) -> Core:
        """What decides a phase, answered once for all that no limit tells apart."""
        kind, key, codes = self._coded(phase, joint)
        known = kind.known.get(key)
        if known is None:
            asked = self._asked(kind, phase, joint, codes)
            known = kind.known[key] = self._answered(asked, joint, kind.has_place_for(asked))
        return known

    def holders(self, phase: PhaseDemand, joint: JointDemand) -> Holders:
        """Which certificates would let somebody weld the phase on any day on which they are valid.

        None where no procedure covers it, or where workstation or job refuse it.
        """
        kind, key, codes = self._coded(phase, joint)
        known = kind.held.get(key)
        if known is None:
            asked = self._asked(kind, phase, joint, codes)
            good = self.judge.covering(asked, self.judge.said(asked)) if kind.has_place_for(asked) else 0
            known = kind.held[key] = self.judge.holders(asked, good)
        return known

    def _coded(self, phase: PhaseDemand, joint: JointDemand) -> tuple[_Kind, Hashable, list[dict[str, int]]]:
        named = phase.phase, phase.place, joint.requirements.key, joint.tack_length
        kind = self._kinds.get(named)
        if kind is None:
            kind = self._kinds[named] = self._new_kind(phase, joint)
        codes = [kind.coder.codes(demand) for demand in phase.demands]
        return kind, tuple(tuple(sorted(one.values())) for one in codes), codes

    def _asked(self, kind: _Kind, phase: PhaseDemand, joint: JointDemand, codes: Sequence[dict[str, int]]) -> Question:
        gates = kind.gates["level" in phase.demands[0]]
        return question(phase, joint.requirements, kind.coder, codes, gates)

    def _new_kind(self, phase: PhaseDemand, joint: JointDemand) -> _Kind:
        asked, judge = joint.requirements, self.judge
        levels: tuple[tuple[bool, dict[str, Value]], ...] = ((True, {"level": ""}), (False, {}))
        gates = {said: Gates(judge.rows, judge.gates_of(asked, level, phase.phase)) for said, level in levels}
        place = place_gates(phase, joint, self.on, self.settings)
        more = [limit for one in (*gates.values(), *place) for limit in one.limits]
        judge.coder = judge.coder.minding(more)
        limits = Sorted((1 << index, one.limits) for index, one in enumerate(place))
        filled = [(one.extra, 1 << index) for index, one in enumerate(place)]
        return _Kind(judge.coder, gates, Columns(limits, lambda process: filled))

    def _answered(self, asked: Question, joint: JointDemand, placed: bool) -> Core:
        """The answer; `placed`: workstation and job say nothing against it."""
        said = self.judge.said(asked)
        good = self.judge.covering(asked, said)
        if placed and good and (people := self.judge.able(asked, good)):
            offers = self.judge.offers(good)
            return Core(Outcome.COVERED, tuple([offer.label for offer in offers]), people, offers, None)
        return self._refused(asked, joint, said, good, placed)

    def _refused(self, asked: Question, joint: JointDemand, said: Sequence[Said], good: int, placed: bool) -> Core:
        """The answer where it is not: procedure, person and place each say theirs, and the worst counts."""
        near = None if good else self.judge.nearest(asked, said)
        chosen = good or (near[0] if near is not None else 0)
        outcomes = [Outcome.COVERED if good else near[1] if near is not None else Outcome.OUTSIDE]
        people = self.judge.able(asked, chosen)
        certificate = None if people else self.judge.nearest_certificate(asked, chosen)
        if not people:
            # One that covers a part of the work is no answer either.
            open_only = certificate is not None and certificate[1] is Outcome.NOT_STATED
            outcomes.append(Outcome.NOT_STATED if open_only else Outcome.OUTSIDE)
        place = None if placed else place_of(asked.phase, joint, self._plain)
        outcomes += [place.misses.outcome] if place is not None else []
        offers = self.judge.offers(chosen)
        labels = tuple([offer.label for offer in offers]) if good else ()
        return Core(worst(outcomes), labels, people, offers, certificate[0] if certificate is not None else None)

    def _words(self, phase: PhaseDemand, joint: JointDemand, core: Core) -> tuple[str, tuple[str, ...]]:
        """The sentence and the reasons of a phase that is not covered."""
        found = self.explained(phase, joint, core)
        return found.sentence, found.reasons

    def _room(self, phase: PhaseDemand, joint: JointDemand, core: Core) -> Room | None:
        """The least margin, kept for demands that state the very same; alike certificates are asked once."""
        key = phase.key, joint.requirements.key, joint.tack_length
        if key not in self._rooms:
            if len(self._rooms) >= ROOMS:
                self._rooms.clear()
            able = sorted(
                (one for one in self.certificates if one.person_id in core.people.ids),
                key=lambda one: (one.person_name, one.certificate_id),
            )
            if len(phase.demands) == 1:
                valid = [one for one in able if one.validity.state(self.on).valid]
                able = list({(id(one.sets), one.kind, one.code): one for one in reversed(valid)}.values())
            deciding = able or ([core.nearest] if core.nearest is not None else [])
            self._rooms[key] = room_of(phase_answer(phase, joint, core.procedures, deciding, self._plain))
        return self._rooms[key]

    def explained(self, phase: PhaseDemand, joint: JointDemand, core: Core) -> PhaseAnswer:
        """The explained answer of a phase, asked only about what decides it."""
        able = [one for one in self.certificates if one.person_id in core.people.ids]
        deciding = able or ([core.nearest] if core.nearest is not None else [])
        return phase_answer(phase, joint, core.procedures, deciding, self._plain)
