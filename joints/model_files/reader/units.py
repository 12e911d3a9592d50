"""Lengths of a model in millimetres, whatever unit they are stated in."""

from typing import Any

PREFIXES = {
    None: 1.0, "MILLI": 1e-3, "CENTI": 1e-2, "DECI": 1e-1, "KILO": 1e3, "MICRO": 1e-6, "HECTO": 1e2, "DECA": 1e1,
}  # fmt: skip
METRE = 1000.0
"""Millimetres."""


def project_mm(model: Any) -> float:
    """Millimetres in one length unit of the project; metres where none is assigned, which is the unit of SI."""
    for assignment in model.by_type("IfcUnitAssignment"):
        for unit in assignment.Units:
            if getattr(unit, "UnitType", "") == "LENGTHUNIT":
                return unit_mm(unit)
    return METRE


def unit_mm(unit: Any) -> float:
    """Millimetres in a unit. Raises ValueError for what is no unit of length."""
    if unit.is_a("IfcSIUnit") and unit.Name == "METRE" and unit.Prefix in PREFIXES:
        return METRE * PREFIXES[unit.Prefix]
    if unit.is_a("IfcConversionBasedUnit"):
        factor = unit.ConversionFactor
        return float(factor.ValueComponent.wrappedValue) * unit_mm(factor.UnitComponent)
    raise ValueError(f"{unit.is_a()} is no unit of length")


def plain_mm(value: float) -> str:
    """A size in millimetres to 0.001, as text. Example: 4.7625 gives "4.763", 12.0 gives "12"."""
    said = f"{value + 1e-9:.3f}"
    return said.rstrip("0").rstrip(".")
