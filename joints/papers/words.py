"""Findings in the reader's units: figures converted by exact factors, limits rounded inwards."""

from codes.limits import Within
from codes.units import System, difference_in, interval_in
from codes.values import Interval, atoms
from codes.variables import unit_of
from codes.verdict import Finding
from wps.sheet_figures import said_in


def wanted_in(finding: Finding, system: System) -> str:
    """What was asked. Example: "12 mm" is "0.473 in"."""
    if system is System.SI or finding.value is None or not _measured(finding):
        return finding.wanted
    return " + ".join(said_in(finding.variable, (atom,), system) for atom in atoms(finding.value))


def allowed_in(finding: Finding, system: System) -> str:
    """What is allowed."""
    unit = unit_of(finding.variable)
    if system is System.SI or not unit or not isinstance(finding.limit, Within):
        return finding.allowed
    span = finding.limit.interval
    return str(interval_in(span, unit, system)) if isinstance(span, Interval) else finding.allowed


def margin_in(finding: Finding, system: System) -> str:
    """The margin; "misses by" where it is outside."""
    if system is System.SI or finding.margin is None or not finding.unit:
        return finding.margin_text
    size = difference_in(abs(finding.margin), finding.unit, system)
    return f"misses by {size}" if finding.margin < 0 else f"{size} to spare"


def _measured(finding: Finding) -> bool:
    return bool(unit_of(finding.variable)) and isinstance(finding.limit, Within)
