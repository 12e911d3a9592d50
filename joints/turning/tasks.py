"""The welds of an assembly as tasks of a turning plan: at which turns each may be made, by procedure and by person.

A weld may be made at a turn where its position is covered, and stays so within two degrees either way, where
a position would be borderline; a weld that never has that margin is planned without it.
"""

from collections.abc import Iterable, Mapping, Sequence
from copy import copy
from dataclasses import dataclass, field

from codes.calc.position import BORDER
from codes.calc.result import Refused
from codes.position_names import position_of
from codes.verdict import Outcome
from joints.bulk import PhaseResult
from joints.day import Day
from joints.demands import joint_demand
from joints.models import Job, Joint, Workstation
from joints.sizes import welds_of
from joints.turning.models import Vector
from joints.turning.plan import FLAT, HORIZONTAL, NOT_HERE, OTHER, Task
from joints.turning.reach import arc_of, beam_of, plain_vector, system_of, tokens_of, weld_kind
from joints.turning.sweep import PER_DEGREE, sweep

MARGIN = int(BORDER) * PER_DEGREE + 1
"""More than two degrees, since exactly two are borderline still [half degrees]."""
LIES: Mapping[str, int] = {"PA": FLAT, "F": FLAT, "PB": HORIZONTAL, "PC": HORIZONTAL, "H": HORIZONTAL}


@dataclass(frozen=True, slots=True)
class Ready:
    """A weld that can be planned: its task, and for each place it comes into what covers it there."""

    joint: Joint
    task: Task
    places: tuple[str, ...]
    covers: Mapping[str, tuple[str, PhaseResult]]
    has_margin: bool


NO_GEOMETRY = "the geometry is not stated"


@dataclass(frozen=True, slots=True)
class Left:
    """A weld that no stop is found for, and why."""

    joint: Joint
    why: str


@dataclass(frozen=True, slots=True)
class Question:
    """What is planned: the arc in half degrees, the welds that are ready, and those that are left."""

    first: int
    last: int
    ready: tuple[Ready, ...]
    left: tuple[Left, ...]

    @property
    def start(self) -> int:
        """The step of the arc that turning starts from: web vertical, or the end of the arc nearest to it."""
        return min(max(0, self.first), self.last) - self.first


def question(joints: Iterable[Joint], job: Job, station: Workstation, day: Day) -> Question:
    """The joints of an assembly that are welded at a station, as tasks; each asked once for each position."""
    first, last = arc_of(station)
    ready: list[Ready] = []
    left: list[Left] = []
    for joint in joints:
        found = _asked(joint, job, first, last, day)
        (ready if isinstance(found, Ready) else left).append(found)  # type: ignore[arg-type]
    return Question(first, last, tuple(ready), tuple(left))


@dataclass(frozen=True, slots=True)
class _Places:
    """The places of a weld on the arc and a margin beyond both its ends."""

    places: tuple[str, ...]
    system: str
    kind: str
    answers: dict[str, PhaseResult] = field(default_factory=dict)

    def tokens(self, place: str) -> tuple[str, ...]:
        return tokens_of(self.system, self.kind, place)

    @property
    def on_arc(self) -> tuple[str, ...]:
        return self.places[MARGIN : len(self.places) - MARGIN]


def _asked(joint: Joint, job: Job, first: int, last: int, day: Day) -> Ready | Left:
    geometry, kind = getattr(joint, "geometry", None), weld_kind(joint)
    if not kind:
        return Left(joint, "the position is not said by one axis: plan branches and pipes by hand")
    if welds_of(joint.weld_type, joint.weld_detail) > 1:
        return Left(joint, "one joint stands for two fillets on two sides that face apart: state a joint for each")
    if geometry is None:
        return Left(joint, NO_GEOMETRY)
    system = system_of(job.procedure_code)
    axis, face, beam = map(plain_vector, (geometry.axis, geometry.face, beam_of(joint)))
    try:
        found = _Places(_swept(system, kind, axis, face, beam, first, last), system, kind)
    except Refused as refused:
        return Left(joint, f"the geometry does not do: {refused.field} {refused.problem}")
    return _judged(joint, job, found, day)


def _swept(system: str, kind: str, axis: Vector, face: Vector, beam: Vector, first: int, last: int) -> tuple[str, ...]:
    return sweep(system, kind, axis, face, beam, first - MARGIN, last + MARGIN)


def _judged(joint: Joint, job: Job, found: _Places, day: Day) -> Ready | Left:
    """The weld with what covers it in each place, or why nothing does."""
    covers: dict[str, tuple[str, PhaseResult]] = {}
    for place in dict.fromkeys(found.places):
        for token in found.tokens(place):
            answer = found.answers[token] = _answer(joint, job, token, day)
            if answer.outcome is Outcome.COVERED and place not in covers:
                covers[place] = token, answer
    may = [place in covers for place in found.places]
    clear = [all(may[at : at + 2 * MARGIN + 1]) for at in range(len(found.on_arc))]
    allowed = clear if any(clear) else may[MARGIN : len(may) - MARGIN]
    if not any(allowed):
        return Left(joint, _why(joint, job, found, covers, day))
    lies = tuple(LIES.get(p, OTHER) if ok else NOT_HERE for p, ok in zip(found.on_arc, allowed, strict=True))
    return Ready(joint, Task(str(joint.pk), lies), found.on_arc, covers, any(clear))


def _answer(joint: Joint, job: Job, token: str, day: Day) -> PhaseResult:
    """The final weld as if it were made in that position."""
    turned = copy(joint)
    turned.position = token
    return day.at(job.plant_id).engine.result(joint_demand(turned, job, day.settings)).final


def _why(joint: Joint, job: Job, found: _Places, covers: Mapping[str, tuple[str, PhaseResult]], day: Day) -> str:
    """Why no turn does: not covered anywhere, or covered only where the arc does not bring it."""
    reached = [token for place in dict.fromkeys(found.on_arc) for token in found.tokens(place)]
    names = _names(reached, joint)
    elsewhere = [t for t in ("PA", "PB", "PC", "PF", "PG", "PD", "PE") if t not in reached and _fits(found.kind, t)]
    good = [t for t in elsewhere if _answer(joint, job, t, day).outcome is Outcome.COVERED]
    if good:
        return f"the arc brings it into {names}; procedures and people are qualified for {_names(good, joint)} only"
    return f"not covered in {names}: {found.answers[reached[0]].sentence}"


def _fits(kind: str, token: str) -> bool:
    """PB and PD are positions of fillets."""
    return kind == "fillet" or token not in ("PB", "PD")


def _names(tokens: Sequence[str], joint: Joint) -> str:
    return ", ".join(position_of(token, joint.weld_type) for token in dict.fromkeys(tokens))
