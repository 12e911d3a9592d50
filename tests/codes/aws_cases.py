"""Reading of the case tables of AWS D1.1: a base in which everything fits, and what a row changes in it.

Cells hold `key=value; key=value`; a key with nothing after the sign is left out, several values stand with `|`, steels
as `A36 / A992`. Inches, °F, cubic feet an hour, inches a minute and kJ an inch are written as the code writes them
(`3/8in`, `225F`, `40cfh`, `12ipm`, `40kJ/in`) and become mm, °C, l/min, mm/min and kJ/mm. `||` parts entries.
"""

import re
from collections.abc import Mapping
from decimal import Decimal

from codes.aws_d1_1.unit_sets import fahrenheit, inch
from codes.parse import parse_values
from codes.units import CONVERSIONS
from codes.values import Value

COMMON: dict[str, object] = {
    "unit_system": "us",
    "contractor": "Fabricator North",
    "product": "plate",
    "parent_t": "1/2in",
    "steels": "A36 / A36",
    "weld_type": "butt_cjp",
    "joint_type": "butt",
    "run_type": "multi_run",
    "aws_position": "1G",
    "groove_type": "single_v",
    "groove_angle": 45,
    "root_opening": "1/4in",
    "root_face": 0,
    "weld_detail": "ss_mb",
    "backing_material": "steel",
    "preheat": "150F",
    "interpass_min": "150F",
    "interpass": "400F",
    "pwht": "no",
    "filler_diameter": "0.045in",
    "electrodes": 1,
    "current_type": "DC+",
    "current": 250,
    "voltage": 28,
    "travel_speed": "12ipm",
    "power_output": "cv",
    "mechanisation": "partly_mechanised",
}
GMAW = {
    "process": "135",
    "filler_designation": "ER70S-6",
    "transfer_mode": "spray",
    "gas_mixture": "90Ar/10CO2",
    "gas_flow": "40cfh",
}
FCAW = {
    "process": "136",
    "filler_designation": "E71T-1C",
    "filler_diameter": "1/16in",
    "gas_mixture": "CO2",
    "gas_flow": "40cfh",
}
SMAW = {
    "process": "111",
    "filler_designation": "E7018",
    "filler_diameter": "5/32in",
    "mechanisation": "manual",
    "electrodes": "",
    "current": "",
    "voltage": "",
    "travel_speed": "",
    "power_output": "",
}
SAW = {
    "process": "121",
    "filler_designation": "F7A2-EM12K",
    "filler_diameter": "5/32in",
    "mechanisation": "fully_mechanised",
    "extra_filler": "none",
    "wire_system": "single",
    "electrode_angle_along": 0,
    "electrode_angle_across": 0,
    "current": 500,
    "voltage": 32,
}
GTAW = {
    "process": "141",
    "filler_designation": "ER70S-2",
    "filler_diameter": "3/32in",
    "extra_filler": "none",
    "gas_mixture": "Ar",
    "gas_flow": "20cfh",
    "current_type": "DC-",
    "current": 150,
    "voltage": 12,
    "travel_speed": "4ipm",
}
KITS: dict[str, dict[str, object]] = {"SMAW": SMAW, "GMAW": GMAW, "FCAW": FCAW, "SAW": SAW, "GTAW": GTAW}
TESTED = {"impact_tested": "no"}
ASKED = {"impact_required": "no", "in_makers_range": "yes", "prequalified_detail": "no", "polarity_by_maker": "no"}

AS_WRITTEN = ("gas_mixture", "filler_designation", "joint_detail", "contractor", "progression")
_UNITS = re.compile(r"^(-?[\d./-]+)(in|F|cfh|ipm|kJ/in)$")


def changes(text: str) -> dict[str, str]:
    """The changed keys of a cell."""
    parts = (part.partition("=") for part in text.split(";") if part.strip())
    return {key.strip(): value.strip() for key, _, value in parts}


def values(plain: Mapping[str, object]) -> dict[str, Value]:
    """Typed values in the register's units; blank ones left out."""
    return parse_values({key: _plain(key, value) for key, value in plain.items() if value != ""})


def _plain(key: str, value: object) -> object:
    if not isinstance(value, str) or key in AS_WRITTEN:
        return value
    if key == "steels":
        return [{"grade": side.strip()} for side in value.split("/")]
    parts = [part.strip() if key == "aws_position" else _range(part.strip()) for part in value.split("|")]
    return parts if len(parts) > 1 else parts[0]


def _range(part: str) -> object:
    if ".." not in part:
        return si(part)
    lo, hi = part.split("..")
    return {"min": si(lo) or None, "max": si(hi) or None}


def si(text: str) -> object:
    """A figure with its US unit as an SI figure, exactly; anything else as it stands. Example: "3/8in" is 9.525."""
    match = _UNITS.match(text)
    if match is None:
        return text
    figure, unit = match[1], match[2]
    if unit == "in":
        return str(inch(figure))
    if unit == "F":
        return str(fahrenheit(Decimal(figure)))
    row = {"cfh": "l/min", "ipm": "mm/min", "kJ/in": "kJ/mm"}[unit]
    return str(CONVERSIONS[row].to_si(Decimal(figure)))


def record_of(base: str, text: str) -> list[dict[str, Value]]:
    """The entries of a record: the base of a process with each entry's changes."""
    return [values(COMMON | KITS[base] | TESTED | changes(part)) for part in text.split("||")]


def demand_of(base: str, record: str, text: str) -> dict[str, Value]:
    """The joint: like the first entry of the record, with the row's changes."""
    first = {key: value for key, value in changes(record.split("||")[0]).items() if key not in TESTED}
    for name, value in first.items():
        first[name] = value.split("|")[0].strip()
    return values(COMMON | KITS[base] | ASKED | first | changes(text))
