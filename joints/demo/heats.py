"""Certificates of parent materials of invented mills, and which assemblies are made of which heat. Table: heats.csv.

A row without a grade is a heat that is named and has no certificate; one that lacks an element leaves it unknown.
"""

from decimal import Decimal
from functools import cache
from typing import Any

from joints.demo.firm import Calendar
from joints.demo.tables import Row, pairs, rows
from wps.models import MaterialCertificate

FIGURES = {
    "from": "thickness_min_mm", "to": "thickness_max_mm", "yield": "yield_mpa", "tensile": "tensile_mpa",
    "elongation": "elongation_pct", "impact": "impact_j", "at": "impact_temperature_c",
}  # fmt: skip
WORDS = {
    "grade": "grade", "heat": "heat_number", "standard": "standard", "condition": "delivery_condition",
    "document": "document_reference", "type": "document_type", "maker": "maker", "kind": "analysis_kind",
}  # fmt: skip


def load_heats(days: Calendar) -> None:
    """The certificates."""
    for row in heats():
        if not row["grade"]:
            continue
        fields: dict[str, Any] = {name: row[column] for column, name in WORDS.items()}
        fields |= {name: Decimal(row[column]) for column, name in FIGURES.items() if row[column]}
        one = MaterialCertificate(**fields, analysis=pairs(row["analysis"]), issued_on=days.day(int(row["issued"])))
        one.full_clean()
        one.save()


def heat_named(mark: str, number: str, thickness: str) -> str:
    """The heat of a part of a joint, by its assembly ("B101") or by itself ("B103/1"); "" where none is named."""
    for row in heats():
        named = {mark, f"{mark}/{number}"} & set(row["marks"].split())
        if named and thickness and _holds(row, Decimal(thickness)):
            return row["heat"]
    return ""


def _holds(row: Row, thickness: Decimal) -> bool:
    return not row["from"] or Decimal(row["from"]) <= thickness <= Decimal(row["to"])


@cache
def heats() -> tuple[Row, ...]:
    """The rows of the table."""
    return tuple(rows("heats"))
