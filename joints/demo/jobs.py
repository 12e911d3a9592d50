"""Jobs, workstations, assemblies and joints of the invented shop: members repeated by size, and some special joints.

Tables: jobs.csv, members.csv (the joints of one member, sizes by name), assemblies.csv (which members, in which
sizes and steel), special.csv (further joints, each like one of its own assembly but for what changes).
"""

from datetime import date
from decimal import Decimal
from typing import Any

from django.contrib.auth.models import User
from simple_history.utils import bulk_create_with_history

from joints.demo.firm import BAY_1, BAY_2, CELL, RIG, STATIONS, Calendar
from joints.demo.heats import heat_named
from joints.demo.tables import Row, pairs, rows
from joints.models import Assembly, Job, Joint, Workstation
from joints.order import natural_key

# place -> process and station of the final weld, process and station of the tacks
PLACES: dict[str, tuple[str, str, str, str]] = {
    "cell": ("135", CELL, "135", CELL),
    "cell_cored": ("138", CELL, "135", CELL),
    "bay": ("135", BAY_1, "135", BAY_1),
    "bay_114": ("114", BAY_1, "135", BAY_1),
    "bay_138": ("138", BAY_1, "135", BAY_1),
    "cored": ("136", BAY_1, "135", BAY_1),
    "rig": ("121", RIG, "135", BAY_1),
    "stick": ("111", BAY_2, "111", BAY_2),
    "tig": ("141", BAY_2, "141", BAY_2),
}
TACK = {"tack_length_mm": "50", "tack_throat_mm": "3"}
NUMBERS = (
    "t1_mm", "t2_mm", "throat_mm", "length_mm", "diameter_mm", "branch_angle_deg", "tack_length_mm", "tack_throat_mm",
    "element_length_mm", "element_gap_mm", "tack_spacing_mm",
)  # fmt: skip
Said = dict[str, str]


def load_jobs(days: Calendar, by: User) -> None:
    """Everything of the joints app."""
    stations = {facts["name"]: Workstation.objects.create(**facts) for facts in STATIONS}
    jobs = {row["number"]: _job(row, days) for row in rows("jobs")}
    joints: list[Joint] = []
    for row in rows("assemblies"):
        planned = days.day(7 * int(row["week"]))
        for mark in row["marks"].split():
            assembly = Assembly.objects.create(job=jobs[row["job"]], mark=mark, title=row["title"], kind=row["kind"])
            joints += [_joint(said, assembly, stations, planned) for said in _said(row, mark)]
    bulk_create_with_history(
        joints, Joint, batch_size=200, default_user=by, custom_historical_attrs={"history_user_name": by.username}
    )


def _job(row: Row, days: Calendar) -> Job:
    return Job.objects.create(
        number=row["number"],
        title=row["title"],
        client=row["client"],
        application_standard=row["standard"],
        execution_class=row["class"],
        procedure_code="ISO 15614-1:2017",
        level=int(row["level"]),
        impact_required=bool(row["impact"]),
        impact_temperature_c=Decimal(row["impact"]) if row["impact"] else None,
        coordinator_level=row["coordinator"],
        transverse_load="no",
        starts_on=days.day(int(row["starts"])),
        ends_on=days.day(int(row["ends"])),
    )


def _said(row: Row, mark: str) -> list[Said]:
    """What the joints of one assembly state: those of its member, then its special ones."""
    sizes = pairs(row["sizes"])
    members = [_member(member, sizes, row["steel"]) for member in rows("members") if member["member"] == row["member"]]
    known = {said["number"]: said for said in members}
    special = [
        known[extra["like"]] | {"number": number, "remarks": extra["remarks"]} | _changes(extra["changes"])
        for extra in rows("special")
        if mark in extra["marks"].split()
        for number in extra["numbers"].split()
    ]
    return [*members, *special]


def _member(row: Row, sizes: Row, steel: str) -> Said:
    """One joint of a member; the names of sizes stand for figures."""
    return {
        "number": row["number"],
        "weld_type": row["weld_type"],
        "joint_type": row["joint_type"],
        "product": "plate",
        "grade_1": steel,
        "grade_2": steel,
        "t1_mm": sizes[row["t1"]],
        "t2_mm": sizes[row["t2"]],
        "throat_mm": sizes[row["throat"]] if row["throat"] else "",
        "length_mm": row["length"],
        "position": row["position"],
        **_place(row["place"]),
        **TACK,
    } | _renamed(pairs(row["more"]))


def _place(name: str) -> Said:
    final, station, tack, tack_station = PLACES[name]
    return {
        "final_process": final,
        "final_workstation": station,
        "tack_process": tack,
        "tack_workstation": tack_station,
    }


def _changes(text: str) -> Said:
    """What a special joint changes: places by name, else fields."""
    found = _renamed(pairs(text))
    place, tacked = found.pop("place", ""), found.pop("tack_place", "")
    where = _place(place) if place else {}
    where |= {"tack_workstation": _place(tacked)["tack_workstation"]} if tacked else {}
    return where | found


def _renamed(said: Said) -> Said:
    return {"diameter_mm" if name == "diameter" else name: value for name, value in said.items()}


def _joint(said: Said, assembly: Assembly, stations: dict[str, Workstation], planned: date) -> Joint:
    fields: dict[str, Any] = dict(said)
    fields |= {name: Decimal(said[name]) if said.get(name) else None for name in NUMBERS}
    fields |= {f"heat_{part}": heat_named(assembly.mark, said["number"], said[f"t{part}_mm"]) for part in (1, 2)}
    fields |= {name: stations[said[name]] for name in ("final_workstation", "tack_workstation")}
    return Joint(assembly=assembly, order_key=natural_key(said["number"]), weld_date=planned, **fields)
