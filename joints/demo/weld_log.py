"""Half a year of the invented shop's weld log: a weld of each person in most weeks, by a fixed pattern."""

from collections import defaultdict
from collections.abc import Iterator
from datetime import date

from django.contrib.auth.models import User
from simple_history.utils import bulk_create_with_history

from joints.demo.firm import Calendar
from joints.demo.materials import MECHANISATION
from joints.demo.tables import Row, rows
from joints.models import Job, Joint
from qualifications.models import Person, WeldLogEntry

Labels = defaultdict[tuple[str, str, str], list[tuple[Job, str]]]
WEEKS = 27
# process, as welded by hand or in the cell -> weld type, position and WPS of the welds that come round in turn
WELDS: dict[str, tuple[tuple[str, str, str], ...]] = {
    "135": (("fillet", "PB", "WPS 020"), ("fillet", "PB", "WPS 021"), ("fillet", "PA", "WPS 021")),
    "136": (("fillet", "PB", "WPS 030"),),
    "111": (("fillet", "PB", "WPS 040"), ("fillet", "PA", "WPS 040")),
    "141": (("butt_cjp", "PA", "WPS 044"), ("butt_cjp", "PH", "WPS 044")),
    "121": (("fillet", "PB", "WPS 011"), ("fillet", "PA", "WPS 011")),
    "138": (("fillet", "PB", "WPS 003"),),
    "cell": (("fillet", "PB", "WPS 001"), ("fillet", "PB", "WPS 002")),
}
BUTTS = ("butt_cjp", "PA", "WPS 023")
"""Every fourth week whoever is tested for butt welds in 135 makes one."""
BUTT_WELDERS = ("T01", "T02", "T03", "T04", "T15")
SPLICER = "S03"
SPLICES = ("butt_cjp", "PA", "WPS 010")
LAST_WEEK = {"T06": 6, "R04": 11, "T11": 6, "T13": 18, "T15": 4}
"""Who welded last so many weeks ago, and nothing since."""


def load_weld_log(days: Calendar, people: dict[str, Person], by: User) -> None:
    """All entries, oldest first."""
    labels = _labels()
    entries = [
        _entry(row, week, at, days, people[row["stamp"]], labels, by)
        for week in range(WEEKS, 0, -1)
        for at, row in enumerate(rows("people"))
        if week >= LAST_WEEK.get(row["stamp"], 1) and (week + at) % 7
    ]
    name = {"history_user_name": by.username}
    bulk_create_with_history(entries, WeldLogEntry, batch_size=200, default_user=by, custom_historical_attrs=name)


def _entry(row: Row, week: int, at: int, days: Calendar, person: Person, labels: Labels, by: User) -> WeldLogEntry:
    weld_type, position, wps = list(_turns(row))[week % 4]
    on = days.day(-7 * week + at % 5)
    welded = _running(labels[row["process"], weld_type, position], on)
    in_cell = row["bay"] == "Cell R1"
    return WeldLogEntry(
        person=person,
        on=on,
        process=row["process"],
        mechanisation="automatic" if in_cell else MECHANISATION[row["process"]],
        weld_type=weld_type,
        position=position,
        wps=wps,
        joint=welded[(week * 31 + at * 17) % len(welded)] if welded else "",
        workstation=row["bay"],
        entered_by=by,
        entered_by_name=by.get_full_name(),
    )


def _running(labels: list[tuple[Job, str]], on: date) -> list[str]:
    """The joints of the jobs that are welded on a day."""
    return [label for job, label in labels if job.starts_on <= on <= job.ends_on]


def _labels() -> Labels:
    """Names of joints with their job, by process, weld type and position: an entry names none that lies otherwise."""
    found: Labels = defaultdict(list)
    for joint in Joint.objects.select_related("assembly__job").order_by("pk"):
        job = joint.assembly.job
        label = f"{job.number} {joint.assembly.mark}/{joint.number}"
        found[joint.final_process, joint.weld_type, joint.position].append((job, label))
    return found


def _turns(row: Row) -> Iterator[tuple[str, str, str]]:
    """The four weeks of a person's pattern."""
    usual = WELDS["cell" if row["bay"] == "Cell R1" and row["process"] == "135" else row["process"]]
    for week in range(4):
        if row["stamp"] == SPLICER:
            yield SPLICES
        elif row["stamp"] in BUTT_WELDERS and week == 3:
            yield BUTTS
        else:
            yield usual[week % len(usual)]
