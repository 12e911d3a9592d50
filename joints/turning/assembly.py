"""The turning plan of an assembly on file, in the words of the page."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from codes.position_names import position_of
from codes.values import number
from joints.day import Day
from joints.models import Assembly, Joint, Workstation
from joints.stations import station_of
from joints.turning.placed import Placed, placed
from joints.turning.plan import Plan, plan
from joints.turning.sweep import degrees
from joints.turning.tasks import NO_GEOMETRY, Left, Question, Ready, question


@dataclass(frozen=True, slots=True)
class Made:
    """A weld at a stop: where it lies there, which procedures cover it, and how many people may weld it."""

    joint: Joint
    token: str
    placed: Placed | None
    labels: tuple[str, ...]
    people: int
    has_margin: bool

    @property
    def position(self) -> str:
        """ISO and AWS name of what it is qualified as."""
        return position_of(self.token, self.joint.weld_type)


@dataclass(frozen=True, slots=True)
class Halt:
    """A stop on the page: its number in the order of turning, the turn [degrees], how far it is from the one before."""

    order: int
    turn: Decimal
    turned: Decimal
    made: tuple[Made, ...]


@dataclass(frozen=True, slots=True)
class Turning:
    """The plan on the page. `elsewhere`: joints of the assembly that are welded at another place."""

    station: Workstation
    first: Decimal
    last: Decimal
    start: Decimal
    halts: tuple[Halt, ...]
    turned: Decimal
    proof: str
    left: tuple[Left, ...]
    elsewhere: tuple[tuple[Joint, Workstation | None], ...]

    @property
    def planned(self) -> int:
        """How many welds have a stop."""
        return sum(len(halt.made) for halt in self.halts)

    @property
    def left_by_reason(self) -> dict[str, list[Joint]]:
        """Why welds have no stop -> those that have none for that reason."""
        found: dict[str, list[Joint]] = {}
        for one in self.left:
            found.setdefault(one.why, []).append(one.joint)
        return found

    @property
    def sentence(self) -> str:
        """The answer in words."""
        if not self.halts and self.left and all(one.why == NO_GEOMETRY for one in self.left):
            return "No plan yet: the geometry of no weld here is stated."
        if not self.halts:
            return "No weld of this assembly has a stop at which it can be made there."
        stops = "1 stop brings" if len(self.halts) == 1 else f"{len(self.halts)} stops bring"
        welds = "1 weld" if self.planned == 1 else f"{self.planned} welds"
        whole = f"all {welds}" if not self.left and self.planned > 1 else welds
        rest = f"; {len(self.left)} {'has' if len(self.left) == 1 else 'have'} none" if self.left else ""
        return f"{stops} {whole} into qualified positions, {number(self.turned)}° of turning{rest}."


def turning_of(assembly: Assembly, station: Workstation, day: Day, prefer: bool = True) -> Turning:
    """The plan for the welds of an assembly that belong to a station, on a day."""
    every = list(joints_of(assembly))
    here = [joint for joint in every if station_of(joint, "final") == station]
    asked = question(here, assembly.job, station, day)
    found = plan([one.task for one in asked.ready], asked.start, prefer)
    return Turning(
        station=station,
        first=degrees(asked.first),
        last=degrees(asked.last),
        start=degrees(asked.first + asked.start),
        halts=_halts(found, asked),
        turned=degrees(found.turned),
        proof=_proof(found, asked),
        left=asked.left,
        elsewhere=tuple((joint, place) for joint in every if (place := station_of(joint, "final")) != station),
    )


def joints_of(assembly: Assembly) -> Sequence[Joint]:
    """The joints of an assembly with all that a plan looks at."""
    around = ("assembly__geometry", "assembly__job", "geometry", "final_workstation", "tack_workstation")
    return list(Joint.objects.filter(assembly=assembly).select_related(*around).order_by("order_key", "pk"))


def _halts(found: Plan, asked: Question) -> tuple[Halt, ...]:
    ready = {one.task.name: one for one in asked.ready}
    halts: list[Halt] = []
    before = asked.start
    for order, stop in enumerate(found.stops, start=1):
        turn = degrees(asked.first + stop.at)
        made = tuple(_made(ready[name], stop.at, turn) for name in stop.made)
        halts.append(Halt(order, turn, degrees(abs(stop.at - before)), made))
        before = stop.at
    return tuple(halts)


def _made(one: Ready, at: int, turn: Decimal) -> Made:
    token, answer = one.covers[one.places[at]]
    return Made(one.joint, token, placed(one.joint, turn), answer.labels, len(answer.person_ids), one.has_margin)


def _proof(found: Plan, asked: Question) -> str:
    """Why fewer stops do not do, in words."""
    if len(found.stops) < 2:
        return ""
    names: Mapping[str, str] = {one.task.name: one.joint.number for one in asked.ready}
    apart = [names[name] for name in found.proof.apart]
    if len(apart) == len(found.stops):
        return f"Fewer stops will not do: of joints {', '.join(apart)} no two can be welded at one stop."
    return (
        f"Fewer stops will not do: a complete search over the stops found no {len(found.stops) - 1} that hold every "
        f"weld ({found.proof.searched} branches)."
    )
