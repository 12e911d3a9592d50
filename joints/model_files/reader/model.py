"""A whole model: its welds with their places, its assemblies, and the property sets of ours that it holds already."""

from collections import Counter
from typing import Any

import numpy as np
from django.utils.translation import gettext

from joints.model_files.reader.parts import Part, part_of
from joints.model_files.reader.properties import sets_of
from joints.model_files.reader.shapes import Vector
from joints.model_files.reader.units import project_mm
from joints.model_files.reader.welds import is_weld, weld_of

OWN_SET = "WeldRegister_Coverage"
MOST_WELDS = 50_000
SCHEMAS = ("IFC4", "IFC4X3")
MEMBERS = ("IfcBeam", "IfcColumn", "IfcMember")


class Unreadable(ValueError):
    """The model cannot be read; the message says why."""


def read_model(path: str) -> dict[str, Any]:
    """Everything that is taken from a model, as JSON. Raises Unreadable."""
    import ifcopenshell

    try:
        model = ifcopenshell.open(path)
    except Exception as error:
        raise Unreadable(
            gettext("it is no IFC file that can be read (%(error)s)") % {"error": str(error)[:200]}
        ) from None
    if not model.schema.startswith(SCHEMAS):
        raise Unreadable(
            gettext("it is written in %(schema)s; IFC4 and IFC4.3 say which fastener is a weld")
            % {"schema": model.schema}
        )
    fasteners = sorted(model.by_type("IfcFastener"), key=lambda one: one.id())
    welds = [one for one in fasteners if is_weld(one)]
    if len(welds) > MOST_WELDS:
        raise Unreadable(
            gettext("it holds %(welds)s welds, and at most %(most_welds)s are read; send it in parts")
            % {"welds": f"{len(welds):,}", "most_welds": f"{MOST_WELDS:,}"}
        )
    try:
        return _model(model, welds, len(fasteners) - len(welds))
    except RecursionError:
        raise Unreadable(gettext("its parts are nested in one another without end")) from None


def _model(model: Any, welds: list[Any], others: int) -> dict[str, Any]:
    mm = project_mm(model)
    held = [_Weld(one, mm) for one in welds]
    notes = [f"{others} other fasteners are no welds and were left out."] if others else []
    places = {tuple(np.round(one.path.points[0], 3)) for one in held if one.path is not None}
    if len(held) > 1 and len(places) == 1 and sum(one.path is not None for one in held) == len(held):
        notes.append("Every weld lies at the same place, a known fault of exporters: no place was taken over.")
        for one in held:
            one.path = None
    marks = _marks([one.assembly for one in held if one.assembly is not None])
    numbers = Counter((marks.get(_guid(one.assembly), ""), one.number) for one in held)
    return {
        "schema": model.schema_identifier,
        "notes": notes,
        "welds": [one.plain(marks, numbers) for one in held],
        "assemblies": _assemblies(held, marks, mm),
    }


class _Weld:
    """One weld while the model is open."""

    def __init__(self, fastener: Any, mm: float) -> None:
        self.fastener = fastener
        self.values, self.notes, self.met, self.path, self.parts = weld_of(fastener, mm)
        held = [_assembly_of(fastener), *(_assembly_of(part.element) for part in self.parts)]
        self.assembly = next((one for one in held if one is not None), None)
        self.number = str(fastener.Name or fastener.Tag or fastener.GlobalId).strip()[:40] or fastener.GlobalId
        if documents := _documents(fastener):
            self.values["remarks"] = f"named in the model: {', '.join(documents)}"[:500]

    def plain(self, marks: dict[str, str], numbers: Counter[tuple[str, str]]) -> dict[str, Any]:
        """As JSON. A number that several welds of an assembly carry is told apart by the identity."""
        guid = self.fastener.GlobalId
        mark = marks.get(_guid(self.assembly), "")
        number = self.number if numbers[mark, self.number] == 1 else f"{self.number[:31]} {guid[:8]}"
        found = {
            "model_id": guid,
            "step": self.fastener.id(),
            "number": number,
            "assembly": mark,
            "values": self.values,
            "notes": self.notes,
            "own_sets": _own_sets(self.fastener),
        }
        if self.assembly is not None:
            found["assembly_title"] = str(self.assembly.Description or self.assembly.Name or "")[:200]
            found["assembly_kind"] = str(self.assembly.ObjectType or "")[:60]
        if (place := _place(self)) is not None:
            found["geometry"] = place
        return found


def _place(one: _Weld) -> dict[str, Any] | None:
    """Axis and face in the coordinates of the assembly, and its middle there [mm]; None where one is open."""
    axis = one.path.direction if one.path is not None else None
    if axis is None or one.met.face is None:
        return None
    matrix = _frame(one.assembly)
    turn = matrix[:3, :3].T
    found = {"axis": _unit(turn @ axis), "face": _unit(turn @ one.met.face), "middle": _at(matrix, one.path.middle)}
    return found | ({"part_length": round(one.met.part_length, 2)} if one.met.part_length else {})


def _frame(assembly: Any) -> Vector:
    """Where an assembly stands, its place in units of the file."""
    from ifcopenshell.util.placement import get_local_placement

    if assembly is None or assembly.ObjectPlacement is None:
        return np.eye(4)
    return get_local_placement(assembly.ObjectPlacement)


def _at(matrix: Vector, point: Vector) -> list[float]:
    """A point [mm] relative to a place whose own shift is scaled by the caller's unit."""
    return [round(float(value), 2) for value in matrix[:3, :3].T @ point]


def _unit(vector: Vector) -> list[float]:
    return [round(float(value), 6) + 0.0 for value in vector / np.linalg.norm(vector)]


def _assembly_of(element: Any) -> Any | None:
    """The assembly that holds an element, however deep; at most ten levels are climbed."""
    for _ in range(10):
        parents = [relation.RelatingObject for relation in element.Decomposes or ()]
        if not parents:
            return None
        element = parents[0]
        if element.is_a("IfcElementAssembly"):
            return element
        if not element.is_a("IfcElement"):
            return None
    return None


def _marks(assemblies: list[Any]) -> dict[str, str]:
    """Identity -> mark; assemblies of the same mark are told apart by the start of their identity."""
    said = {one.GlobalId: str(one.Tag or one.Name or "").strip()[:60] for one in assemblies}
    by_guid = {guid: mark or guid for guid, mark in said.items()}
    often = Counter(by_guid.values())
    return {guid: mark if often[mark] == 1 else f"{mark[:51]} {guid[:8]}" for guid, mark in by_guid.items()}


def _guid(element: Any) -> str:
    return "" if element is None else str(element.GlobalId)


def _documents(element: Any) -> list[str]:
    """What documents a weld points to, often its procedure: a convention of the parties, so a remark."""
    found = []
    for relation in element.HasAssociations or ():
        if relation.is_a("IfcRelAssociatesDocument"):
            document = relation.RelatingDocument
            found.append(str(document.Identification or document.Name or "").strip())
    return [one for one in found if one]


def _own_sets(fastener: Any) -> list[dict[str, Any]]:
    """The sets of ours that a weld carries from before: the instances that make up each."""
    found = []
    for relation in sets_of(fastener):
        held = relation.RelatingPropertyDefinition
        if getattr(held, "Name", "") == OWN_SET and len(relation.RelatedObjects) == 1:
            steps = [relation.id(), held.id(), *(one.id() for one in held.HasProperties)]
            found.append({"guid": held.GlobalId, "steps": steps})
    return found


def _assemblies(held: list[_Weld], marks: dict[str, str], mm: float) -> dict[str, dict[str, Any]]:
    """Mark -> axis and section of the longest member, in the coordinates of the assembly."""
    found = {}
    for assembly in {_guid(one.assembly): one.assembly for one in held if one.assembly is not None}.values():
        if (said := _beam(assembly, mm)) is not None:
            found[marks[assembly.GlobalId]] = said
    return found


def _beam(assembly: Any, mm: float) -> dict[str, Any] | None:
    parts = [part for relation in assembly.IsDecomposedBy or () for part in relation.RelatedObjects]
    members: list[Part] = [part_of(one, mm) for one in parts if one.is_a() in MEMBERS]
    members = [one for one in members if one.shape.direction is not None]
    if not members:
        return None
    shape = max(members, key=lambda one: one.shape.length).shape
    matrix = _frame(assembly)
    turn = matrix[:3, :3].T
    said = {"beam": _unit(turn @ shape.direction), "through": _at(matrix, shape.centre), "up": _unit(turn @ shape.up)}
    return said | {name: round(v, 2) if isinstance(v, float) else v for name, v in shape.section.items()}
