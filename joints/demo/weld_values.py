"""What the controller of the cell logged, judged against the procedures: most inside, some outside for a while.

A sample every fifth of a second, as such controllers write them; the figures wander a little about the middle.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from django.contrib.auth.models import User

from joints.models import Job
from joints.weld_values.take_in import take_in
from wps.models import ProcedureRevision, Status

HEAD = "time [s];joint;run;current [A];voltage [V];speed [mm/min]"
STEP_MS = 200
Middle = tuple[int, int, int]
"""Current [A], voltage in tenths [V], travel speed [mm/min]."""


@dataclass(frozen=True, slots=True)
class Leaves:
    """From a sample on, for so many samples, by so much more or less than the middle (A, tenths of V, mm/min)."""

    first: int
    samples: int
    by: Middle


@dataclass(frozen=True, slots=True)
class Run:
    """One run of one joint: its name in the log, how many samples it has, and where it leaves its window."""

    joint: str
    run: str
    middle: Middle
    samples: int
    leaves: tuple[Leaves, ...] = ()


SINGLE: Middle = (270, 285, 455)
ROOT: Middle = (255, 270, 420)
FILL: Middle = (280, 295, 400)
LOGS: dict[tuple[str, str], tuple[Run, ...]] = {
    ("WPS 001", "cell-R1-B101.csv"): (
        Run("B101/1", "1", SINGLE, 132),
        Run("B101/2", "1", SINGLE, 132),
        Run("B101/3", "1", SINGLE, 224, (Leaves(60, 7, (31, 4, 0)),)),
        Run("B101/4", "1", SINGLE, 224),
        Run("B101/5", "1", SINGLE, 132, (Leaves(40, 16, (0, 0, -82)), Leaves(110, 3, (-29, -18, 0)))),
        Run("B101/6", "1", SINGLE, 132),
        Run("B101/9", "1", SINGLE, 210),
        Run("B101/11", "2", SINGLE, 210),  # the procedure has one run only
    ),
    ("WPS 002", "cell-R1-B108.csv"): (
        Run("B108/1", "root", ROOT, 143),
        Run("B108/1", "fill and cap", FILL, 150),
        Run("B108/2", "root", ROOT, 143),
        Run("B108/2", "fill and cap", FILL, 150, (Leaves(20, 12, (0, 18, 0)),)),
    ),
}


def load_weld_values(by: User) -> None:
    """Each log, taken in as a supervisor would."""
    for (number, name), runs in LOGS.items():
        approved = ProcedureRevision.objects.filter(procedure__number=number, status=Status.APPROVED)
        text = "\n".join([HEAD, *(line for run in runs for line in _lines(run)), ""])
        take_in(Job.objects.get(number="26-104"), approved.get(), name, [text.encode()], by)


def _lines(run: Run) -> Iterator[str]:
    for at in range(run.samples):
        current, tenths, speed = (middle + off for middle, off in zip(run.middle, _off(run, at), strict=True))
        # The last two samples are the crater: the arc is off.
        current = 0 if at >= run.samples - 2 else current
        yield f"{at * STEP_MS / 1000:.1f};{run.joint};{run.run};{current};{tenths / 10:.1f};{speed}"


def _off(run: Run, at: int) -> Middle:
    left = next((one.by for one in run.leaves if one.first <= at < one.first + one.samples), (0, 0, 0))
    return left[0] + at * 7 % 11 - 5, left[1] + at * 5 % 7 - 3, left[2] + at * 3 % 13 - 6
