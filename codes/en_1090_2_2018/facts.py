"""EN 1090-2: the facts that a record, a coordinator or a tack brings to the gates, and how they are read."""

from datetime import date
from decimal import Decimal

from codes.editions import Field, Tested

FIELDS = (
    Field("qualification_route", "always", clause="7.4.1, Table 12"),
    Field("level", "ISO 15614-1", clause="7.4.1, Table 12"),
    Field("qualification_specified", "no qualification", clause="7.4.1"),
    Field("allowed_by_specification", "standard welding procedure", clause="7.4.1, Table 12"),
    Field("last_used_on", "always, or years_unused", clause="7.4.1.4", help="the day of the test where not used since"),
    Field("years_unused", clause="7.4.1.4"),
    Field("production_test", clause="7.4.1.4"),
    Field("impact_tested_at", "impact requirement", clause="7.4.1.2"),
    Field("micro_section", "steels to EN 10025-6", clause="7.4.1.2"),
    Field("primer_tested", "welded over shop primer", clause="7.4.1.2"),
    Field("cruciform_tested", "fillet welds loaded across, high-strength steel", clause="7.4.1.2"),
    Field("penetration_proven", "throat counts penetration", clause="7.4.1.2"),
    Field("coordinator_level", "always", clause="7.4.3, Table 14"),
    Field("tack_length", "tacks", clause="7.5.7"),
    Field("shorter_tack_proven", clause="7.5.7"),
)

DEMAND = (
    "execution_class",
    "steels",
    "parent_t",
    "weld_type",
    "throat_a",
    "mechanisation",
    "phase",
    "on",
    "transverse_load",
    "over_primer",
    "primer_thickness",
    "deep_penetration",
    "impact_required",
    "impact_temperature",
    "hardness_required",
    "heat_controlled",
    "pwht",
)

USUAL = {"over_primer": "no", "deep_penetration": "no", "heat_controlled": "no", "phase": "final"}
"""What most joints answer. A caller may put it under its demand (`USUAL | demand`) once a person has said so."""


def term(piece: Tested, name: str) -> str | None:
    """A stated term, None where it is not stated or several are."""
    value = piece.get(name)
    return value if isinstance(value, str) and value else None


def decimal(piece: Tested, name: str) -> Decimal | None:
    """A stated number, None where it is not stated."""
    value = piece.get(name)
    return value if isinstance(value, Decimal) else None


def day(piece: Tested, name: str) -> date | None:
    """A stated date, None where it is not stated. Raises ValueError where it is no date."""
    value = term(piece, name)
    return date.fromisoformat(value) if value else None
