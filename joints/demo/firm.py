"""The invented fabricator: who it is, where it welds, and how its days are counted."""

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

FIRM = "Tarnholm Steel Structures"
SITE = "Tarnholm, hall 2"
EXAMINER = "Inspection Office Marrenberg"
TEST_HOUSE = "Weld Test House Ostvik"

CELL, RIG, BAY_1, BAY_2 = "Cell R1", "Rig S1", "Bay 1", "Bay 2"
ROBOT = "six-axis arm AW-6 on a 24 m track, control KC4, pulse source PS-500"
TRACTOR = "beam SAW portal BP-2, one head, control T3"


@dataclass(frozen=True, slots=True)
class Calendar:
    """Days counted from the day of loading. Example: day(-30) is thirty days before it."""

    today: date

    def day(self, offset: int) -> date:
        """The day so many days later (earlier if negative)."""
        return self.today + timedelta(days=offset)


STATIONS: tuple[dict[str, Any], ...] = (
    {
        "name": CELL,
        "kind": "robotic_cell",
        "processes": ["135", "138"],
        "mechanisation": "automatic",
        "unit": ROBOT,
        "arc_sensor": "yes",
        "joint_sensor": "yes",
        "multi_arc": "no",
        "rotator_from_deg": 0,
        "rotator_to_deg": 270,
        "max_length_mm": 16000,
        "max_mass_kg": 8000,
        "notes": "Two rotator rings turn the clamped beam through 270°. A gripping arm sets the parts and tacks; the "
        "welding arm finds each seam by touch and follows it through the arc. Nobody enters while the light curtain "
        "is armed.",
    },
    {
        "name": RIG,
        "kind": "mechanised_rig",
        "processes": ["121"],
        "mechanisation": "fully_mechanised",
        "unit": TRACTOR,
        "joint_tracking": "yes",
        "arc_length_control": "yes",
        "multi_arc": "no",
        "visual_control": "direct",
        "max_length_mm": 24000,
        "max_mass_kg": 20000,
        "notes": "Girders up to 2 m deep, web to flange in PA or PB. Flux is dried in the oven beside the rig.",
    },
    {
        "name": BAY_1,
        "kind": "manual_bay",
        "processes": ["135", "136", "138", "114"],
        "mechanisation": "partly_mechanised",
        "max_length_mm": 30000,
        "max_mass_kg": 25000,
        "notes": "Four wire feeders under the crane; repairs and what does not fit the cell.",
    },
    {
        "name": BAY_2,
        "kind": "manual_bay",
        "processes": ["111", "141"],
        "mechanisation": "manual",
        "max_length_mm": 12000,
        "max_mass_kg": 5000,
        "notes": "Stick and TIG; hollow sections and site preparation.",
    },
)
