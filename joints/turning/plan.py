"""The turning plan: the fewest stops of a rotator at which every weld can be made, then the least total turning.

Turns are whole steps counted from the start of the arc. The positions of a weld change at finitely many turns, so that
stops are columns of a cover: a stop holds the welds that may be made there. Exact; the proof says why fewer do not do.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from joints.turning.cover import Search
from joints.turning.stops import fewest_stops, turning

NOT_HERE = -1
FLAT, HORIZONTAL, OTHER = 0, 1, 2
"""How well a weld lies; less is better."""


@dataclass(frozen=True, slots=True)
class Task:
    """A weld and how it lies at each step of the arc: FLAT, HORIZONTAL, OTHER, or NOT_HERE where nobody may weld it."""

    name: str
    lies: tuple[int, ...]

    def __post_init__(self) -> None:
        if all(lie == NOT_HERE for lie in self.lies):
            raise ValueError(f"{self.name} cannot be made at any turn; leave it out of the plan and say why")


@dataclass(frozen=True, slots=True)
class Stop:
    """A turn, as a step of the arc, and the welds that are made there."""

    at: int
    made: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Proof:
    """Why fewer stops do not do: welds of which no two can be made at one stop, or, where these are fewer than the
    stops, that a complete search found nothing (`searched` branches).
    """

    apart: tuple[str, ...]
    searched: int


@dataclass(frozen=True, slots=True)
class Plan:
    """Stops in the order in which they are turned to, the steps turned in all, and the proof."""

    stops: tuple[Stop, ...]
    turned: int
    proof: Proof


def plan(tasks: Sequence[Task], start: int, prefer: bool = True) -> Plan:
    """The plan for welds on an arc, turned from `start`; empty without welds.

    `prefer`: a weld that can lie flat or horizontal is made so, whatever the turns it takes; else any position does.
    Raises ValueError where the arcs differ or the start lies outside. Example: two welds that lie flat at steps 0 to 3
    and 2 to 5, from 0: one stop at 2.
    """
    if not tasks:
        return Plan((), 0, Proof((), 0))
    arcs = {len(task.lies) for task in tasks}
    if len(arcs) != 1 or not 0 <= start < min(arcs):
        raise ValueError("all welds are asked on one arc, and the start lies on it")
    may = [_may(task, prefer) for task in tasks]
    columns = _columns(may, arcs.pop())
    chosen = fewest_stops(columns, (1 << len(tasks)) - 1, start)
    proof = _proof(columns, tasks, len(chosen))
    order = _order(chosen, start)
    return Plan(_made(order, tasks, may), turning([at - start for at in chosen]), proof)


def _may(task: Task, prefer: bool) -> tuple[bool, ...]:
    """Where the weld may be made: flat or horizontal where it can be, else wherever it may."""
    well = tuple(lie in (FLAT, HORIZONTAL) for lie in task.lies)
    return well if prefer and any(well) else tuple(lie != NOT_HERE for lie in task.lies)


def _columns(may: Sequence[Sequence[bool]], steps: int) -> list[int]:
    """For each step the welds that may be made there, as bits."""
    return [sum(1 << number for number, one in enumerate(may) if one[at]) for at in range(steps)]


def _proof(columns: Sequence[int], tasks: Sequence[Task], number: int) -> Proof:
    universe = (1 << len(tasks)) - 1
    search = Search(columns, universe)
    apart = search.apart(search.rows)
    names = tuple(tasks[row.bit_length() - 1].name for row in apart)
    if len(apart) < number:
        search.within(number - 1)
    return Proof(names, search.nodes)


def _order(stops: Sequence[int], start: int) -> list[int]:
    """The order of least turning: the shorter side first."""
    below, above = [at for at in stops if at < start], [at for at in stops if at >= start]
    near_first = sorted(below, reverse=True), sorted(above)
    if not below or not above:
        return [*near_first[0], *near_first[1]]
    if start - min(below) < max(above) - start:
        return [*near_first[0], *near_first[1]]
    return [*near_first[1], *near_first[0]]


def _made(order: Sequence[int], tasks: Sequence[Task], may: Sequence[Sequence[bool]]) -> tuple[Stop, ...]:
    """Each weld at the stop where it lies best, the first of these."""
    held: dict[int, list[str]] = {at: [] for at in order}
    for task, allowed in zip(tasks, may, strict=True):
        held[min((at for at in order if allowed[at]), key=lambda at: task.lies[at])].append(task.name)
    return tuple(Stop(at, tuple(made)) for at, made in held.items())
