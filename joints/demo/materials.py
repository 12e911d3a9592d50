"""What the invented shop welds with and on: parent materials, and consumables by process, in plain form."""

from typing import Any

from codes.parse import to_plain
from codes.steels import steel_of
from codes.values import SteelPair

Plain = dict[str, Any]

SOLID = "ISO 14341-A G 42 4 M21 3Si1"
SOLID_MATCHING = "ISO 14341-A G 46 4 M21 4Si1"
SOLID_STRONG = "ISO 16834-A G 69 6 M21 Mn4Ni1,5CrMo"
METAL_CORED = "ISO 17632-A T 46 6 M M21 2 H5"
FLUX_CORED = "ISO 17632-A T 46 4 P M21 2 H5"
BASIC = "ISO 2560-A E 42 4 B 42 H5"
SOFT = "ISO 3581-A E 18 8 Mn B 42"
ROD = "ISO 636-A W 42 5 3Si1"
SAW_WIRE, SAW_FLUX = "ISO 14171-A S2Si", "ISO 14174 S A AB 1 67 AC H5"
FLUX_MAKE = "Ferrolin AB-7"


def tested_steel(first: str, second: str = "") -> Any:
    """The parent materials of a test piece by grade, with the group and yield that a test counts as."""
    pair = SteelPair(*(steel_of(grade, tested=True) for grade in (first, second or first)))
    return to_plain(pair)


def _pair(*sides: tuple[str, str]) -> list[Plain]:
    return [{"group": group, "yield_mpa": strength} for group, strength in sides]


MILD = ("1.1", "275"), ("1.2", "355")
UP_TO_S355 = [_pair(MILD[0], MILD[0]), _pair(MILD[1], MILD[1]), _pair(*MILD)]
"""S235, S275 and S355 to themselves and to one another."""
UP_TO_S460M = [*UP_TO_S355, _pair(("2.1", "460"), ("2.1", "460")), _pair(("2.1", "460"), MILD[1])]
UP_TO_S690Q = [
    *UP_TO_S355,
    _pair(("2.1", "460"), ("2.1", "460")),
    _pair(("3.1", "690"), ("3.1", "690")),
    _pair(("3.1", "690"), MILD[1]),
]

_GAS = {"gas": "M21", "gas_co2": "18", "wire_system": "single"}
_PLAIN = {"preheat": "20", "interpass": "250", "pwht": "no", "impact_required": "no", "hardness_required": "no"}

CONSUMABLES: dict[str, Plain] = {
    "135": {
        "process": "135", "filler_type": "S", "filler_designation": SOLID, "pulsed_current": "no",
        "transfer_mode": "spray", **_GAS,
    },
    "136": {
        "process": "136", "filler_type": "P", "filler_designation": FLUX_CORED, "hydrogen_class": "H5",
        "filler_make": "Ferrolin FP-46", "pulsed_current": "no", "transfer_mode": "globular", **_GAS,
    },
    "138": {
        "process": "138", "filler_type": "M", "filler_designation": METAL_CORED, "hydrogen_class": "H5",
        "pulsed_current": "yes", "transfer_mode": "pulsed", **_GAS,
    },
    "111": {
        "process": "111", "filler_type": "B", "filler_designation": BASIC, "hydrogen_class": "H5",
        "filler_make": "Ferrolin B-42",
    },
    "141": {
        "process": "141", "filler_type": "S", "filler_designation": ROD, "pulsed_current": "no", "gas": "I1",
        "backing_gas": "none",
    },
    "121": {
        "process": "121", "filler_type": "S", "filler_designation": SAW_WIRE, "flux_designation": SAW_FLUX,
        "flux_make": FLUX_MAKE, "flux_recrushed": "no", "hydrogen_class": "H5", "extra_filler": "none",
        "wire_system": "single",
    },
}  # fmt: skip
"""What test and procedure have in common, by process."""
PULSED: Plain = {"pulsed_current": "yes", "transfer_mode": "pulsed"}
MATCHING: Plain = {"filler_designation": SOLID_MATCHING, "filler_make": "Ferrolin S-46"}
"""For S460: weld metal no weaker than the parts."""
STRONG: Plain = {"filler_designation": SOLID_STRONG, "filler_make": "Ferrolin S-69"}
SOFT_WELD: Plain = {"filler_designation": SOFT, "filler_make": "Ferrolin A-188"}
AS_USUAL: Plain = _PLAIN

MECHANISATION = {
    "135": "partly_mechanised",
    "136": "partly_mechanised",
    "138": "partly_mechanised",
    "111": "manual",
    "141": "manual",
    "121": "fully_mechanised",
}
"""How each process is carried, unless the robot does it."""
AUTOMATIC: Plain = {"mechanisation": "automatic"}
