"""The weld property set of a fastener, under the names of IFC4 and of IFC4.3; an occurrence goes before its type."""

from typing import Any

from joints.model_files.reader.units import unit_mm

SET = "Pset_FastenerWeld"
# Our name -> the name in IFC4, the name in IFC4.3 (eight of them changed).
NAMES = {
    "type_1": ("Type1", "Type1"),
    "type_2": ("Type2", "Type2"),
    "process": ("Process", "Process"),
    "process_name": ("ProcessName", "ProcessName"),
    "throat": ("a", "NominalThroatThickness"),
    "spacing": ("e", "WeldElementSpacing"),
    "element_length": ("l", "WeldElementLength"),
    "elements": ("n", "NumberOfWeldElements"),
    "depth": ("s", "DeepPenetrationThroatThickness"),
    "leg": ("z", "WeldLegLength"),
    "intermittent": ("Intermittent", "Intermittent"),
    "staggered": ("Staggered", "Staggered"),
}
LENGTHS = frozenset({"throat", "spacing", "element_length", "depth", "leg"})
_BY_NAME = {name: ours for ours, names in NAMES.items() for name in names}


def weld_properties(fastener: Any, mm: float) -> dict[str, Any]:
    """Our name -> value; lengths in mm. `pitch_is_sure`: the spacing has the name of IFC4.3, centre to centre."""
    found: dict[str, Any] = {}
    for held in (*_of_type(fastener), *_own(fastener)):
        if held.is_a("IfcPropertySet") and held.Name == SET:
            for one in held.HasProperties or ():
                _take(found, one, mm)
    return found


def sets_of(fastener: Any) -> list[Any]:
    """The relations that give a fastener its own property sets."""
    return [relation for relation in fastener.IsDefinedBy or () if relation.is_a("IfcRelDefinesByProperties")]


def type_of(element: Any) -> Any | None:
    """The type object of an element."""
    for relation in element.IsTypedBy or ():
        return relation.RelatingType
    return None


def _own(fastener: Any) -> list[Any]:
    return [relation.RelatingPropertyDefinition for relation in sets_of(fastener)]


def _of_type(fastener: Any) -> list[Any]:
    kind = type_of(fastener)
    return list(kind.HasPropertySets or ()) if kind is not None else []


def _take(found: dict[str, Any], one: Any, mm: float) -> None:
    ours = _BY_NAME.get(one.Name)
    if ours is None or not one.is_a("IfcPropertySingleValue") or one.NominalValue is None:
        return
    value = one.NominalValue.wrappedValue
    if ours in LENGTHS:
        value = float(value) * (unit_mm(one.Unit) if one.Unit is not None else mm)
    found[ours] = value
    if ours == "spacing":
        found["pitch_is_sure"] = one.Name == NAMES["spacing"][1]
