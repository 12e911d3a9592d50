"""What was read of a model as a table like any list, its notes by row, and the geometry of its joints."""

import json
from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from django.utils.translation import gettext

from joints.imports import cells
from joints.imports.columns import LENGTHS, TITLES
from joints.imports.rows import Problem
from joints.imports.table import Refusal, Table
from joints.model_files.sandbox import read_in_sandbox
from joints.model_files.step import check_step
from joints.models import AssemblyGeometry, ImportBatch, Joint, JointGeometry
from joints.sandbox import WAITS
from register.evidence import store

NO_ASSEMBLY = "no assembly"
FIELDS = (
    "assembly", "assembly_title", "assembly_kind", "number", "weld_type", "joint_type", "product", "grade_1",
    "grade_2", "t1_mm", "t2_mm", "throat_mm", "leg_mm", "penetration_mm", "length_mm", "intermittent",
    "element_length_mm", "element_gap_mm", "diameter_mm", "weld_detail", "preparation", "final_process", "remarks",
    "model_id",
)  # fmt: skip
OPEN = ("assembly", "number", "grade_1", "grade_2", "model_id")
"""Fields whose text is taken as it is; an unknown steel is asked by the check of the weld data."""


def read_model(data: bytes, waits: float = WAITS) -> str:
    """Read a model and keep what it says; the key of that. Raises Refusal, also where its turn did not come."""
    check_step(data)
    found = read_in_sandbox(data, waits=waits)
    if not found["welds"]:
        raise Refusal(
            gettext("The model holds no welds: no fastener is of the kind WELD. Ask for an export with welds in it.")
        )
    return store.keep(json.dumps(found, sort_keys=True).encode())


def extract_of(batch: ImportBatch) -> dict[str, Any]:
    """What was read of the model of a batch. Raises store.Damaged."""
    return dict(json.loads(store.read(batch.extract)))


def table_of(found: Mapping[str, Any]) -> tuple[Table, list[Problem]]:
    """The welds as rows below our own headings, and what to mind of each."""
    rows: list[tuple[int, tuple[str, ...]]] = [(1, tuple(TITLES[name] for name in FIELDS))]
    problems = []
    for number, weld in enumerate(found["welds"], start=2):
        values = dict(weld["values"])
        values |= {name: weld.get(name, "") for name in ("assembly_title", "assembly_kind", "number", "model_id")}
        values["assembly"] = weld["assembly"] or NO_ASSEMBLY
        notes = [*weld["notes"], *_unread(values)]
        problems += [Problem(number, weld["number"], f"{note}.", True) for note in notes]
        rows.append((number, tuple(_safe(str(values.get(name, ""))) for name in FIELDS)))
    said = f"Read as {found['schema']}: {len(found['welds'])} welds."
    return Table(tuple(rows), (said, *found["notes"])), problems


def _unread(values: dict[str, str]) -> list[str]:
    """Take away what no field of ours holds, and say so."""
    notes = []
    for name in [name for name in values if name not in OPEN]:
        try:
            if values[name]:
                cells.reader(name, False, {})(Decimal(values[name]) if name in LENGTHS else values[name])
        except cells.BadCell as bad:
            notes.append(f"{TITLES[name].lower()}: {bad}, and left out")
            del values[name]
    return notes


def _safe(said: str) -> str:
    """Text that a list would refuse as a formula is taken as it is from a model."""
    return f"'{said}" if said.startswith(("=", "+", "-", "@")) else said


def take_geometry(batch: ImportBatch) -> int:
    """Write axis and face of the joints of a model where it says them, and of assemblies that have none yet.

    Returns how many joints. Call it in the import's transaction, after its joints.
    """
    found = extract_of(batch)
    joints = {one.model_id: one for one in Joint.objects.filter(assembly__job=batch.job).exclude(model_id="")}
    placed = [one for one in found["welds"] if "geometry" in one and one["model_id"] in joints]
    for weld in placed:
        joint = joints[weld["model_id"]]
        beam = found["assemblies"].get(weld["assembly"])
        JointGeometry.objects.update_or_create(joint=joint, defaults=_joint_fields(weld["geometry"], beam))
    for mark, beam in found["assemblies"].items():
        assembly = batch.job.assemblies.filter(mark=mark).first()
        if assembly is not None and not hasattr(assembly, "geometry"):
            AssemblyGeometry.objects.create(assembly=assembly, **_beam_fields(beam))
    return len(placed)


def _joint_fields(place: Mapping[str, Any], beam: Mapping[str, Any] | None) -> dict[str, Any]:
    sides = [(name, dict(zip("xyz", place[name], strict=True))) for name in ("axis", "face")]
    fields = {f"{name}_{part}": _step(value) for name, side in sides for part, value in side.items()}
    if "part_length" in place:
        fields["part_length_mm"] = _hundredth(place["part_length"])
    if beam is not None:
        across, up = _in_section(place["middle"], beam)
        fields |= {"across_mm": _hundredth(across), "up_mm": _hundredth(up)}
    return fields


def _in_section(middle: list[float], beam: Mapping[str, Any]) -> tuple[float, float]:
    """The place of a weld in the section: across (upwards times the beam) and up from the beam's axis [mm]."""
    x, y, z = (a - b for a, b in zip(middle, beam["through"], strict=True))
    bx, by, _ = beam["beam"]
    size = (bx * bx + by * by) ** 0.5 or 1.0
    return (-by * x + bx * y) / size, z


def _beam_fields(beam: Mapping[str, Any]) -> dict[str, Any]:
    """Axis and, where the profile stands upright in the assembly, the section for the picture."""
    fields = {f"beam_{part}": _step(value) for part, value in zip("xyz", beam["beam"], strict=True)}
    upright = abs(beam["up"][2]) > 0.99 or beam.get("section") == "round"
    sizes = [name for name in ("depth_mm", "width_mm", "web_mm", "flange_mm") if name in beam]
    if beam.get("section") and upright:
        fields |= {"section": beam["section"], **{name: _hundredth(beam[name]) for name in sizes}}
    return fields


def _step(value: float) -> Decimal:
    return Decimal(str(value)).quantize(Decimal("0.000001"))


def _hundredth(value: float) -> Decimal:
    return Decimal(str(value)).quantize(Decimal("0.01"))
