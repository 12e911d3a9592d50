"""The parts that a weld joins: what they are called, their steel, their shape."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from joints.model_files.reader.properties import type_of
from joints.model_files.reader.shapes import Shape, shape_of


@dataclass(frozen=True, slots=True)
class Part:
    """One part; `grade` as the model writes it, "" where it says none."""

    name: str
    grade: str
    shape: Shape
    element: Any


def part_of(element: Any, mm: float) -> Part:
    """A part as the model describes it; what cannot be read of its shape is left open."""
    try:
        shape = shape_of(element, mm)
    except Exception:  # a body that the library cannot follow says nothing, and the weld is still wanted
        shape = Shape()
    name = element.Name or getattr(element, "Tag", None) or element.GlobalId
    return Part(str(name), grade_of(element), shape, element)


def joined(weld: Any) -> tuple[list[Any], list[str]]:
    """The elements that a weld joins, each once in the order of the relations, and what to mind."""
    found: dict[int, Any] = {}
    notes = []
    for relation in sorted(weld.IsConnectionRealization or (), key=lambda one: one.id()):
        sides = (relation.RelatingElement, relation.RelatedElement)
        if sides[0] == sides[1]:
            notes.append(f"the model names {sides[0].Name or sides[0].GlobalId} as both parts")
        found |= {one.id(): one for one in sides}
    if not found:
        notes.append("the model does not say which parts it joins")
    if len(found) > 2:
        names = ", ".join(str(one.Name or one.GlobalId) for one in list(found.values())[2:])
        notes.append(f"it joins further parts: {names}")
    return list(found.values())[:2], notes


def grade_of(element: Any) -> str:
    """The steel of an element, its own before that of its type: the name, or the grade beside it."""
    for one in (element, type_of(element)):
        for relation in getattr(one, "HasAssociations", None) or ():
            if relation.is_a("IfcRelAssociatesMaterial"):
                for material in _materials(relation.RelatingMaterial):
                    return _stated_grade(material) or str(material.Name or "")
    return ""


def _materials(held: Any) -> Iterator[Any]:
    """The plain materials in whatever holds them."""
    if held is None:
        return
    if held.is_a("IfcMaterial"):
        yield held
    elif held.is_a("IfcMaterialProfileSetUsage"):
        yield from _materials(held.ForProfileSet)
    elif held.is_a("IfcMaterialLayerSetUsage"):
        yield from _materials(held.ForLayerSet)
    else:
        lists = {
            "IfcMaterialProfileSet": "MaterialProfiles",
            "IfcMaterialLayerSet": "MaterialLayers",
            "IfcMaterialConstituentSet": "MaterialConstituents",
            "IfcMaterialList": "Materials",
        }
        for one in getattr(held, lists.get(held.is_a(), ""), None) or ():
            yield from [one] if one.is_a("IfcMaterial") else [one.Material] if one.Material is not None else []


def _stated_grade(material: Any) -> str:
    """StructuralGrade of the set Pset_MaterialSteel, where it is stated."""
    for held in getattr(material, "HasProperties", None) or ():
        for one in getattr(held, "Properties", None) or ():
            if one.Name == "StructuralGrade" and getattr(one, "NominalValue", None) is not None:
                return str(one.NominalValue.wrappedValue)
    return ""
