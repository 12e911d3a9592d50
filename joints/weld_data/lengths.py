"""Welds that are longer than what they are on. Units: mm."""

from collections.abc import Iterator
from decimal import ROUND_CEILING, Decimal

from codes.calc.exact import PI
from codes.values import number
from joints.weld_data.finding import PRACTICE, Finding
from joints.weld_data.registry import rule
from joints.weld_data.weld import Weld

SLACK = Decimal(1)
"""A millimetre of rounding is no difference."""


@rule("Weld longer than the part")
def longer_than_part(weld: Weld) -> Iterator[Finding]:
    """Longer than the shorter part along it, where the geometry states that. Example: 200.1 on 200."""
    length, part = weld.joint.length_mm, weld.part_length
    if length and part and length > part:
        reason = f"the shorter part is {number(part)} mm long along the weld"
        yield weld.find("length_mm", reason, PRACTICE, {"length_mm": part})


@rule("Weld longer than once around the pipe")
def longer_than_pipe(weld: Weld) -> Iterator[Finding]:
    """A butt weld of a round pipe is as long as its circumference. Example: 60.3 mm are 189.4 mm around."""
    joint = weld.joint
    if joint.product != "pipe" or joint.weld_type != "butt_cjp" or not (joint.length_mm and joint.diameter_mm):
        return
    around = PI * joint.diameter_mm
    if joint.length_mm > around + SLACK:
        whole = around.to_integral_value(ROUND_CEILING)
        reason = f"once around {number(joint.diameter_mm)} mm is {number(whole)} mm; of a hollow section, ask"
        yield weld.find("length_mm", reason, PRACTICE, {"length_mm": whole})


@rule("Weld longer than the workstation holds")
def longer_than_station(weld: Weld) -> Iterator[Finding]:
    """Longer than the longest assembly that the workstation holds."""
    station, length = weld.station_of("final"), weld.joint.length_mm
    if station and station.max_length_mm and length and length > station.max_length_mm:
        reason = f"{station.name} holds assemblies up to {number(station.max_length_mm)} mm"
        yield weld.find("length_mm", reason, PRACTICE)
