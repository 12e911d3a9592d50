"""The test records (WPQR) of the invented shop, from records.csv. Sizes in mm, temperatures in °C, days as there."""

from decimal import Decimal
from typing import Any

from codes.values import number
from joints.demo.firm import EXAMINER, FIRM, Calendar
from joints.demo.materials import (
    AUTOMATIC,
    CONSUMABLES,
    MATCHING,
    MECHANISATION,
    PULSED,
    SOFT_WELD,
    STRONG,
    Plain,
    tested_steel,
)
from joints.demo.tables import Row, pairs, rows
from wps.heat import Range, heat_interval
from wps.models import Route, TestRecord

# process -> filler diameter [mm], polarity, measured current [A], voltage [V], travel speed [mm/min]
MEASURED: dict[str, tuple[str, str, int, str, int]] = {
    "135": ("1.2", "DC+", 240, "26.5", 380),
    "136": ("1.2", "DC+", 210, "25", 220),
    "138": ("1.2", "DC+", 260, "28", 400),
    "111": ("3.2", "DC+", 125, "24", 150),
    "141": ("2.4", "DC-", 110, "12", 80),
    "121": ("4", "DC+", 600, "31", 500),
}
SLOW = {"135": 230, "136": 160, "121": 400}
"""Travel speed [mm/min] of the pieces with impact tests, welded hot on purpose."""

_PLATE: Plain = {"product": "plate"}
_BUTT: Plain = {"weld_type": "butt_cjp", "joint_type": "butt", **_PLATE}
_TOUGH: Plain = {"impact_tested": "yes", "impact_temperature": "-20"}
TRAITS: dict[str, Plain] = {
    "fillet": {"weld_type": "fillet", "joint_type": "tee", **_PLATE},
    "ceramic": {**_BUTT, "weld_detail": "ss_mb", "backing_stays": "no"},
    "open_root": {**_BUTT, "weld_detail": "ss_nb"},
    "ground": {**_BUTT, "weld_detail": "bs", "gouging": "mechanical"},
    "ungouged": {**_BUTT, "weld_detail": "bs", "gouging": "none"},
    "branch": {"weld_type": "branch", "joint_type": "branch"},
    "pipe": {"product": "pipe"},
    "single": {"run_type": "single_run"},
    "multi": {"run_type": "multi_run"},
    "pulsed": PULSED,
    "strong": STRONG,
    "matching": MATCHING,
    "soft": SOFT_WELD,
    "automatic": AUTOMATIC,
    "tough": _TOUGH,
    # Impact at the position of the highest heat input, hardness at that of the lowest: all but vertical down.
    "hot_and_cold": {
        **_TOUGH, "position": ["PF", "PC"], "impact_positions": ["PF"], "hardness_positions": ["PC"],
    },
    "flat_and_side": {
        **_TOUGH, "position": ["PA", "PC"], "impact_positions": ["PA"], "hardness_positions": ["PC"],
        "extreme_positions": "yes",
    },
}  # fmt: skip
"""Words of the column `traits`, in the order in which later ones win."""

_BUTT_TESTS = ("visual", "surface", "volume", "tensile", "bend", "macro", "hardness")
RESULTS: dict[str, tuple[str, ...]] = {
    "fillet": ("visual", "surface", "macro", "hardness"),
    "butt": _BUTT_TESTS,
    "impact": ("impact",),
    "micro": ("micro",),
    "cruciform": ("cruciform",),
}


def load_records(days: Calendar, table: str = "records") -> dict[str, TestRecord]:
    """All records of a table, by number."""
    return {row["number"]: _create(row, days) for row in rows(table)}


def _create(row: Row, days: Calendar) -> TestRecord:
    facts = pairs(row["facts"])
    welded = int(row["welded"])
    pieces = [_piece(row, t) for t in row["parent_t"].split()]
    methods = [method for word in row["results"].split() for method in RESULTS[word]]
    record = TestRecord(
        number=row["number"],
        code="ISO 15614-1:2017",
        level=int(facts.get("level", "2")),
        route=facts.get("route", Route.PROCEDURE_TEST),
        manufacturer=FIRM,
        examiner=EXAMINER,
        welded_on=days.day(welded),
        issued_on=days.day(welded + 24),
        last_used_on=days.day(int(row["used"])),
        withdrawn_on=days.day(int(facts["withdrawn"])) if "withdrawn" in facts else None,
        pieces=pieces,
        runs=_measured_runs(pieces[0]),
        results=dict.fromkeys(methods, "accepted"),
        notes=row["notes"],
    )
    record.full_clean()
    record.save()
    return record


def _piece(row: Row, t: str) -> Plain:
    """A test piece as recorded: consumables, what was measured, what was tested."""
    changes: Plain = {}
    for word in row["traits"].split():
        changes |= TRAITS[word]
    changes |= {"parent_t": t, **pairs(row["more"])}
    process, tough = row["process"], changes.get("impact_tested") == "yes"
    usual: Plain = {
        "mechanisation": MECHANISATION[process], "steels": tested_steel(row["grade"]), **_measured(process, tough),
        "preheat": "20", "interpass": "250", "post_heat": "no", "pwht": "no", "impact_tested": "no",
        "hardness_tested": "yes", "hardness_hv10": "352" if "690" in row["grade"] else "248",
    }  # fmt: skip
    return CONSUMABLES[process] | usual | changes


def _measured(process: str, tough: bool) -> dict[str, Any]:
    diameter, polarity, current, voltage, speed = MEASURED[process]
    speed = SLOW.get(process, speed) if tough else speed
    heat = heat_interval(process, *(Range(Decimal(one), Decimal(one)) for one in (current, voltage, speed)))
    assert heat is not None and heat.hi is not None
    return {
        "filler_diameter": diameter, "current_type": polarity, "current": str(current), "voltage": voltage,
        "travel_speed": str(speed), "heat_measure": "heat_input", "heat_input": number(heat.hi),
    }  # fmt: skip


def _measured_runs(piece: Plain) -> list[Plain]:
    """What was read off during the test: a line for each run."""
    from_both = piece.get("weld_detail") == "bs"
    several = ("1 to 4 first side", "5 to 8 second side") if from_both else ("1 root", "2 to 4 fill and cap")
    names = ("1",) if piece["run_type"] == "single_run" else several
    keys = {
        "filler_diameter_mm": "filler_diameter", "current_a": "current", "voltage_v": "voltage",
        "speed_mm_min": "travel_speed", "heat_kj_mm": "heat_input",
    }  # fmt: skip
    figures = {key: piece[name] for key, name in keys.items()}
    return [{"run": name, "process": piece["process"]} | figures for name in names]
