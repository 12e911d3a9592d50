"""A list of geometries, CSV or XLSX: a row a joint, written whole or not at all.

Columns: assembly, joint, axis x, y, z, face x, y, z; and, where they are known, across, up, along, part length, and of
the assembly beam x, y, z, section, depth, width, web, flange, length (in any of its rows).
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django.db import transaction
from django.utils.translation import gettext

from codes.parse import BadField, parse_number
from joints.imports.files import check_size, read_file
from joints.models import Job, Joint
from joints.turning.forms import needed, refusal_of
from joints.turning.models import SECTIONS, AssemblyGeometry, JointGeometry
from register.audit import record_act
from register.lists.cells import written
from register.lists.headings import plain
from register.lists.table import Cell, Refusal, Table
from register.trail.sealing import gathered

DIRECTIONS = ("axis_x", "axis_y", "axis_z", "face_x", "face_y", "face_z")
OWN = ("across_mm", "up_mm", "along_mm", "part_length_mm")
BEAM = ("beam_x", "beam_y", "beam_z")
SIZES = ("depth_mm", "width_mm", "web_mm", "flange_mm", "length_mm")
COLUMNS = ("assembly", "number", *DIRECTIONS, *OWN, *BEAM, "section", *SIZES)
NEEDED = ("assembly", "number", *DIRECTIONS)
HEADINGS = {plain(name.removesuffix("_mm")): name for name in COLUMNS} | {
    "joint": "number", "joint number": "number", "weld": "number", "mark": "assembly",
}  # fmt: skip
SHOWN = 10
"""Faults that a refusal names."""
LARGEST, SMALLEST_STEP = Decimal(100_000), Decimal("0.000001")


@dataclass(frozen=True, slots=True)
class Listed:
    """How many geometries were written."""

    joints: int
    assemblies: int


def take_in(job: Job, data: bytes, by: Any) -> Listed:
    """Write the geometries of a list. Raises Refusal naming row, column and remedy; nothing is written then."""
    check_size(len(data))
    table = read_file(data)
    columns = _columns(table.rows[0][1])
    on_file = Joint.objects.filter(assembly__job=job).select_related("assembly")
    joints = {(joint.assembly.mark, joint.number): joint for joint in on_file}
    rows, faults = _rows(table, columns, joints)
    assemblies = _assemblies(rows, faults)
    if faults:
        more = f" And {len(faults) - SHOWN} more." if len(faults) > SHOWN else ""
        raise Refusal(
            gettext("Nothing was written. %(faults)s%(more)s") % {"faults": " ".join(faults[:SHOWN]), "more": more}
        )
    return _write(job, rows, assemblies, joints, by)


@dataclass(frozen=True, slots=True)
class _Row:
    """One row as read: its number, whose geometry it is, and the values by field."""

    number: int
    key: tuple[str, str]
    values: Mapping[str, Any]


def _columns(head: Sequence[Cell]) -> dict[int, str]:
    found = {index: HEADINGS[plain(str(cell))] for index, cell in enumerate(head) if plain(str(cell)) in HEADINGS}
    twice = [name for name in found.values() if list(found.values()).count(name) > 1]
    missing = [name.replace("_", " ") for name in NEEDED if name not in found.values()]
    if twice:
        raise Refusal(
            gettext("Two columns are headed “%(twice)s”. Keep one of them.") % {"twice": twice[0].replace("_", " ")}
        )
    if missing:
        named = ", ".join(f"“{name}”" for name in missing)
        raise Refusal(
            gettext("The list lacks the columns %(named)s. Its headings are: %(head)s.")
            % {"named": named, "head": ", ".join(map(str, head))}
        )
    return found


def _rows(
    table: Table, columns: Mapping[int, str], joints: Mapping[tuple[str, str], Joint]
) -> tuple[list[_Row], list[str]]:
    rows: list[_Row] = []
    faults: list[str] = []
    seen: dict[tuple[str, str], int] = {}
    for (number, index), why in table.refused.items():
        if index in columns:
            faults.append(f"Row {number}, {columns[index].replace('_', ' ')}: {why}.")
    for number, cells in table.rows[1:]:
        said = {name: cells[index] for index, name in columns.items() if index < len(cells) and cells[index] != ""}
        key = written(said.pop("assembly", "")), written(said.pop("number", ""))
        if key in seen:
            faults.append(f"Row {number}: joint {key[1]} of {key[0]} stands in row {seen[key]} already; delete one.")
        elif key not in joints:
            faults.append(f"Row {number}: no joint {key[1] or '(empty)'} of assembly {key[0] or '(empty)'} is on file.")
        seen.setdefault(key, number)
        values, wrong = _values(number, said, table.comma_decimal)
        faults += wrong or _incomplete(number, values)
        rows.append(_Row(number, key, values))
    return rows, faults


def _values(number: int, said: Mapping[str, Cell], comma: bool) -> tuple[dict[str, Any], list[str]]:
    values: dict[str, Any] = {}
    faults: list[str] = []
    for name, cell in said.items():
        try:
            values[name] = _section(cell) if name == "section" else _figure(name, cell, comma)
        except ValueError as bad:
            faults.append(f"Row {number}, {name.replace('_', ' ')}: {bad}.")
    return values, faults


def _section(cell: Cell) -> str:
    said = written(cell).casefold()
    if said not in dict(SECTIONS):
        raise ValueError(f"“{said[:20]}” is no section; write i, box or round")
    return said


def _figure(name: str, cell: Cell, comma: bool) -> Decimal:
    """A figure, of either sign but for sizes. Raises ValueError."""
    text = written(cell).replace("−", "-")
    text = text.replace(",", ".") if comma and "." not in text else text
    sign = -1 if text.startswith("-") else 1
    try:
        value = sign * parse_number(name, text.lstrip("-"))
    except BadField as bad:
        raise ValueError(bad.problem) from None
    if abs(value) >= (LARGEST if name.endswith("_mm") else 1000):
        raise ValueError(f"{value} is too large")
    step = Decimal("0.01") if name.endswith("_mm") else SMALLEST_STEP
    if name in (*SIZES, "part_length_mm") and value <= 0:
        raise ValueError(f"{value} is no size; leave the cell empty where it is not stated")
    return value.quantize(step)


def _incomplete(number: int, values: Mapping[str, Any]) -> list[str]:
    missing = [name.replace("_", " ") for name in DIRECTIONS if name not in values]
    if missing:
        return [f"Row {number}: {', '.join(missing)} is empty; both directions are needed."]
    if ("across_mm" in values) != ("up_mm" in values):
        return [f"Row {number}: state both across and up, or neither."]
    axis, face = (tuple(values[f"{name}_{part}"] for part in "xyz") for name in ("axis", "face"))
    why = refusal_of(axis, face)  # type: ignore[arg-type]
    return [f"Row {number}: {why}."] if why else []


def _assemblies(rows: Sequence[_Row], faults: list[str]) -> dict[str, dict[str, Any]]:
    """What the rows say of their assemblies; a second row may repeat it but not change it."""
    found: dict[str, dict[str, Any]] = {}
    for row in rows:
        said = {name: row.values[name] for name in (*BEAM, "section", *SIZES) if name in row.values}
        held = found.setdefault(row.key[0], {})
        differs = [name.replace("_", " ") for name in said if held.get(name, said[name]) != said[name]]
        if differs:
            faults.append(f"Row {row.number}: {', '.join(differs)} of {row.key[0]} differs from an earlier row.")
        held |= said
    for mark, held in found.items():
        if held and any(name in held for name in BEAM) and not any(held.get(name) for name in BEAM):
            faults.append(f"Assembly {mark}: the beam axis is 0 in all three columns, which is no direction.")
        if missing := [name for name in needed(held.get("section", "")) if name not in held]:
            faults.append(f"Assembly {mark}: the section needs {', '.join(n.removesuffix('_mm') for n in missing)}.")
    return {mark: held for mark, held in found.items() if held}


def _write(
    job: Job,
    rows: Sequence[_Row],
    assemblies: Mapping[str, Mapping[str, Any]],
    joints: Mapping[tuple[str, str], Joint],
    by: Any,
) -> Listed:
    with transaction.atomic(), gathered():
        for row in rows:
            own = {name: row.values[name] for name in (*DIRECTIONS, *OWN) if name in row.values}
            JointGeometry.objects.update_or_create(joint=joints[row.key], defaults=own)
        for assembly in {joint.assembly for joint in joints.values() if joint.assembly.mark in assemblies}:
            own = dict(assemblies[assembly.mark])
            if any(name in own for name in BEAM):
                own = dict.fromkeys(BEAM, Decimal(0)) | own
            AssemblyGeometry.objects.update_or_create(assembly=assembly, defaults=own)
        record_act(by, "took in a list of geometries", job, after={"joints": len(rows), "assemblies": len(assemblies)})
    return Listed(len(rows), len(assemblies))


def template_rows() -> tuple[tuple[str, ...], ...]:
    """The headings, and a fillet along a beam, web to lower flange, as an example."""
    example = "B12 1 1 0 0 0 1 1 5 -180 3600 310 1 0 0 i 400 300 11 19 7200"
    return tuple(name.replace("_mm", " [mm]").replace("_", " ") for name in COLUMNS), tuple(example.split())
