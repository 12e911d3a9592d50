"""What to test next for chosen jobs as of a date: the fewest pieces, what each buys, and what no piece helps."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import islice

from codes.masks import any_of
from codes.readings import Settings
from codes.values import SteelPair, atoms
from codes.variables import label_of
from codes.verdict import Outcome
from codes.words import lower_first
from joints.day import Day, Say
from joints.demands import joint_demand
from joints.models import Job, Joint
from joints.planning.bought import Table
from joints.planning.gates import extras_of, same_system
from joints.planning.needs import PERSON, PROCEDURE, Blocked, Collector, Need, Open, Reason
from joints.planning.person_pieces import person_pieces
from joints.planning.pieces import Piece
from joints.planning.procedure_pieces import procedure_pieces
from joints.planning.smallest import Smallest, smallest_cover

MOST = 12_000
"""Suggestions of one kind; the page says where more were left out."""


@dataclass(frozen=True, slots=True)
class Bought:
    """One chosen piece: the needs it covers and the joints that they belong to."""

    piece: Piece
    needs: tuple[Need, ...]
    joints: tuple[int, ...]
    alone: int
    """Joints of which no other chosen piece covers this part."""
    extras: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Part:
    """The smallest set of one kind: procedure tests, or people's tests."""

    kind: str
    bought: tuple[Bought, ...]
    cover: Smallest
    suggested: int

    @property
    def cut_off(self) -> bool:
        """True where the tables suggest more pieces than were looked at."""
        return self.suggested >= MOST


@dataclass(frozen=True, slots=True)
class Plan:
    """The whole answer. Joints by their keys; `nearest`: joint -> why not today, phase by phase."""

    on: date
    joints: int
    open: tuple[int, ...]
    solved: tuple[int, ...]
    parts: tuple[Part, ...]
    blocked: tuple[Blocked, ...]
    nearest: dict[int, list[str]]

    @property
    def sentence(self) -> str:
        """The answer in one sentence."""
        if not self.open:
            return (
                "Every joint is covered: nothing needs to be tested." if self.joints else "No joints are on file yet."
            )
        left = len(self.open) - len(self.solved)
        rest = f"; {left:,} {'remains' if left == 1 else 'remain'} that no test piece helps" if left else ""
        if not self.solved:
            return f"No test piece helps: {left:,} joints are not covered, for other reasons."
        pieces = " and ".join(_count(len(part.bought), part.kind) for part in self.parts if part.bought)
        return f"{pieces} would cover {len(self.solved):,} of {len(self.open):,} uncovered joints{rest}."


def _count(number: int, kind: str) -> str:
    words = {PROCEDURE: ("procedure test", "procedure tests"), PERSON: ("test of a person", "tests of people")}[kind]
    return f"{number} {words[number != 1]}"


def _silent(done: int, total: int, message: str) -> None:
    """Tells nobody."""


def plan_for(job_ids: Iterable[int], day: Day, say: Say = _silent) -> Plan:
    """The plan for jobs by their keys, as work in the background asks for it."""
    return plan(Job.objects.filter(pk__in=list(job_ids)), day, say)


def plan(jobs: Iterable[Job], day: Day, say: Say = _silent) -> Plan:
    """The plan for chosen jobs of one plant on the day's date."""
    wanted = {job.pk: job for job in jobs}
    plants = {job.plant_id for job in wanted.values()}
    day = day.at(plants.pop()) if len(plants) == 1 else day
    rows = Joint.objects.filter(assembly__job__in=wanted).order_by("assembly__order_key", "order_key", "pk")
    answers = day.answers(rows, say)
    uncovered = [one.pk for one in answers if one.result.outcome is not Outcome.COVERED]
    collector = Collector(day)
    picked = rows.select_related("assembly", "final_workstation", "tack_workstation")
    keep = set(uncovered)
    for joint in picked:
        if joint.pk in keep:
            say(len(collector.found.nearest), len(keep), "Finding what uncovered joints need")
            collector.add(joint.pk, joint_demand(joint, wanted[joint.assembly.job_id], day.settings))
    return solve(collector.found, len(answers), uncovered, day.on, day.settings, say)


def solve(found: Open, joints: int, uncovered: Sequence[int], on: date, settings: Settings, say: Say = _silent) -> Plan:
    """The fewest pieces for what was collected. A joint of which some part stays open is not tested for."""
    tables = {kind: _table(kind, found.needs, on, settings, say) for kind in (PROCEDURE, PERSON)}
    for table in tables.values():
        _block_uncoverable(table, found)
    lost = {joint for blocked in found.blocked.values() for joint in blocked.joints}
    solved = tuple(joint for joint in uncovered if joint not in lost)
    parts = tuple(_part(kind, table, set(solved), on, settings, say) for kind, table in tables.items())
    blocked = tuple(sorted(found.both_phases(), key=lambda one: -len(one.joints)))
    return Plan(on, joints, tuple(uncovered), solved, parts, blocked, found.nearest)


def _table(kind: str, needs: Sequence[Need], on: date, settings: Settings, say: Say) -> Table:
    mine = [need for need in needs if need.kind == kind]
    pieces: list[Piece] = []

    def each() -> None:
        say(len(pieces), 0, "Suggesting pieces from the tables")

    made = procedure_pieces(mine, settings, each) if kind == PROCEDURE else person_pieces(mine, settings)
    for piece in islice(made, MOST):
        each()
        pieces.append(piece)
    return Table(pieces, mine, on, settings, lambda: say(0, 0, "Trying each piece on each need"))


def _block_uncoverable(table: Table, found: Open) -> None:
    able = 0
    for column in table.columns:
        able |= column
    for row, need in enumerate(table.needs):
        if not able >> row & 1:
            why = _why(need, table)
            for joint in need.joints:
                found.block(joint, why)


ASKED_FIRST = ("process", "mechanisation", "weld_type", "product", "steels", "parent_t", "position")


def _why(need: Need, table: Table) -> Reason:
    """Why no suggested piece covers a need."""
    demand = need.boxes[0]
    missing = [name for name in ASKED_FIRST if name not in demand]
    if missing:
        return Reason(f"{' and '.join(lower_first(label_of(name)) for name in missing)} not stated")
    if table.pieces and not any(same_system(need, piece) for piece in table.pieces):
        return Reason(f"tests to {need.requirements.procedure_code} are not suggested here, only those to ISO")
    steels = [pair for pair in atoms(demand["steels"]) if isinstance(pair, SteelPair)]
    if any(not steel.group for pair in steels for steel in pair):
        return Reason("the group of a steel is not known")
    nearest = table.nearest(need)
    said = nearest.sentence if nearest is not None else "no table suggests a piece; plan the test by hand"
    return Reason(lower_first(said), need.phase.phase, need.kind)


def _part(kind: str, table: Table, solved: set[int], on: date, settings: Settings, say: Say) -> Part:
    rows = sum(1 << row for row, need in enumerate(table.needs) if solved & set(need.joints))
    cover = smallest_cover(table.columns, rows, each=lambda: say(0, 0, "Looking for the smallest set of pieces"))
    got = {index: table.columns[index] & rows for index in cover.chosen}
    bought = []
    for index in sorted(got, key=lambda i: -got[i].bit_count()):
        others = any_of(got[i] for i in got if i != index)
        needs = _picked(table.needs, got[index])
        only = _joints(_picked(table.needs, got[index] & ~others), solved)
        piece = table.pieces[index]
        extras = [e for need in needs for e in extras_of(need, piece, on, settings)] if kind == PROCEDURE else []
        bought.append(Bought(piece, needs, _joints(needs, solved), len(only), tuple(dict.fromkeys(extras))))
    return Part(kind, tuple(bought), cover, len(table.pieces))


def _picked(needs: Sequence[Need], mask: int) -> tuple[Need, ...]:
    return tuple(need for row, need in enumerate(needs) if mask >> row & 1)


def _joints(needs: Iterable[Need], solved: set[int]) -> tuple[int, ...]:
    return tuple(dict.fromkeys(joint for need in needs for joint in need.joints if joint in solved))
