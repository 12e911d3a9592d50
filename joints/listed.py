"""A file of joints answered without taking it in: each row read as an import reads it, and asked of a day."""

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from joints.answers import JointAnswer
from joints.bulk import JointResult
from joints.day import Day
from joints.demands import joint_demand
from joints.imports.fields import STATED_FIELDS, value_of
from joints.imports.files import read_file
from joints.imports.rows import Problem, Setting, read_rows
from joints.models import Assembly, Job, Joint, Workstation
from joints.stations import stations_for


class BadList(ValueError):
    """The file cannot be answered: `problems` names row, column and remedy of each fault."""

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        self.problems = problems
        super().__init__(f"{len(problems)} cells cannot be read")


@dataclass(frozen=True, slots=True)
class Listed:
    """One row and its answer."""

    row: int
    joint: Joint
    result: JointResult


def read_joints(data: bytes, job: Job) -> list[tuple[int, Joint]]:
    """The joints of a CSV or XLSX file, not saved. Raises Refusal for the whole file, BadList for its cells."""
    stations = {station.name: station for station in stations_for(job)}
    reading = read_rows(read_file(data), Setting({name: one.pk for name, one in stations.items()}))
    if reading.errors:
        raise BadList(tuple(reading.errors))
    return [(int(str(row["row"])), _joint(dict(row["values"]), job, stations)) for row in reading.rows]  # type: ignore[call-overload]


def _joint(values: Mapping[str, str], job: Job, stations: Mapping[str, Workstation]) -> Joint:
    keys = {name: one.pk for name, one in stations.items()}
    fields = dict(value_of(name, values.get(name, ""), keys) for name in STATED_FIELDS)
    joint = Joint(assembly=Assembly(job=job, mark=values["assembly"]), **fields)
    for phase in ("final", "tack"):
        if name := values.get(f"{phase}_workstation"):
            setattr(joint, f"{phase}_workstation", stations[name])
    return joint


def answered(joints: list[tuple[int, Joint]], job: Job, day: Day) -> Iterator[Listed]:
    """The answer to each row, in order."""
    with day.engine.lock:
        for row, joint in joints:
            yield Listed(row, joint, day.engine.result(joint_demand(joint, job, day.settings)))


def explained(joint: Joint, job: Job, day: Day) -> JointAnswer:
    """The answer to one row with every finding."""
    return day.explain(joint, job)


def counts(found: list[Listed]) -> dict[str, int]:
    """How many rows have which outcome."""
    return dict(Counter(one.result.outcome.value for one in found))
