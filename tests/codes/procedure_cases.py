"""Reading of the case table of ISO 15614-1:2017: a base in which everything fits, and what a row changes in it.

A row's `record` and `demand` hold `key=value; key=value`. A key with nothing after the sign is left out; several
values stand with `|`, a range as `3..16`, steels as `1.2 355 / 1.1 275`. Processes of one test piece stand with `||`.
`settings` holds `part of a switch's key=option`. What the record changes, the demand follows unless it says otherwise.
"""

import csv
from collections.abc import Mapping
from pathlib import Path

from codes.check import best
from codes.iso_15614_1_2017 import SWITCHES, limit_sets
from codes.parse import parse_values
from codes.values import Value
from codes.verdict import Verdict

CASES = Path(__file__).parent / "cases" / "iso_15614_1_2017.csv"

COMMON = {
    "level": 2,
    "mechanisation": "partly_mechanised",
    "steels": "1.2 355",
    "joint_type": "butt",
    "product": "plate",
    "parent_t": 12,
    "position": "PA",
    "run_type": "multi_run",
    "heat_measure": "heat_input",
    "heat_input": "1.20",
    "preheat": 20,
    "interpass": 200,
    "pwht": "no",
    "post_heat": "no",
}
TESTED = {"impact_tested": "no", "hardness_tested": "no", "max_run_t": 5}
ASKED = {"impact_required": "no", "hardness_required": "no", "impact_temperature": 0, "backing_stays": "no"}

BUTT = {"weld_type": "butt_cjp", "weld_detail": "ss_nb", "gouging": "none", "backing_gas": "none"}
FILLET = {"weld_type": "fillet", "joint_type": "tee", "throat_a": 6}
MAG = {
    "process": "135",
    "filler_type": "S",
    "filler_designation": "G 42 4 M21 3Si1",
    "filler_make": "X",
    "current_type": "DC+",
    "pulsed_current": "no",
    "transfer_mode": "spray",
    "gas": "M21",
    "gas_co2": 18,
    "wire_system": "single",
}
STICK = {
    "process": "111",
    "mechanisation": "manual",
    "filler_type": "B",
    "filler_designation": "E 42 4 B 42 H5",
    "filler_make": "X",
    "hydrogen_class": "H5",
    "current_type": "DC+",
}
TIG = {
    "process": "141",
    "mechanisation": "manual",
    "filler_type": "S",
    "filler_designation": "W 42 5 W3Si1",
    "current_type": "DC-",
    "pulsed_current": "no",
    "gas": "I1",
}
SAW = {
    "process": "121",
    "mechanisation": "fully_mechanised",
    "filler_type": "S",
    "filler_designation": "S 42 4 AB S2",
    "filler_make": "X",
    "hydrogen_class": "H5",
    "current_type": "DC+",
    "wire_system": "single",
    "flux_designation": "S A AB 1",
    "flux_make": "F",
    "flux_recrushed": "no",
    "extra_filler": "none",
}
PLASMA = {
    "process": "15",
    "mechanisation": "fully_mechanised",
    "filler_type": "S",
    "filler_designation": "W 42 5 W3Si1",
    "current_type": "DC-",
    "pulsed_current": "no",
    "gas": "I1",
    "plasma_gas": "Ar",
    "plasma_mode": "keyhole",
}
TORCH = {
    "process": "311",
    "mechanisation": "manual",
    "filler_type": "S",
    "filler_designation": "O III",
    "fuel_gas": "acetylene",
}

BASES: dict[str, dict[str, object]] = {
    "butt 135": COMMON | BUTT | MAG,
    "fillet 135": COMMON | FILLET | MAG,
    "butt 111": COMMON | BUTT | STICK,
    "butt 141": COMMON | BUTT | TIG,
    "butt 121": COMMON | BUTT | SAW,
    "butt 15": COMMON | BUTT | PLASMA,
    "butt 311": COMMON | BUTT | TORCH,
}


def rows() -> list[dict[str, str]]:
    """The rows of the case table."""
    with CASES.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def values(plain: Mapping[str, object]) -> dict[str, Value]:
    """Typed values; blank ones left out."""
    return parse_values({key: _plain(key, value) for key, value in plain.items() if value != ""})


def _plain(key: str, value: object) -> object:
    if not isinstance(value, str):
        return value
    if key in ("steels", "backing_steel"):
        pairs = [[_steel(side) for side in pair.split("/")] for pair in value.split("|")]
        return pairs if len(pairs) > 1 else pairs[0]
    parts = [_range(part.strip()) for part in value.split("|")]
    return parts if len(parts) > 1 else parts[0]


def _range(part: str) -> object:
    if ".." not in part:
        return part
    lo, hi = part.split("..")
    return {"min": lo or None, "max": hi or None}


def _steel(side: str) -> dict[str, str | None]:
    group, _, strength = side.strip().partition(" ")
    return {"group": "" if group == "?" else group, "yield_mpa": strength or None}


def changes(text: str) -> dict[str, str]:
    """The changed keys of a cell."""
    parts = (part.partition("=") for part in text.split(";") if part.strip())
    return {key.strip(): value.strip() for key, _, value in parts}


def record_of(row: Mapping[str, str]) -> list[dict[str, Value]]:
    """The test piece of a row, one mapping for each process."""
    base = BASES[row["base"]] | TESTED
    parts = row["record"].split("||")
    if len(parts) == 1:
        return [values(base | changes(parts[0]))]
    found = []
    for part in parts:
        changed = changes(part)
        own = next(kit for name, kit in BASES.items() if kit["process"] == changed["process"] and "butt" in name)
        found.append(values(own | TESTED | {"piece": "1"} | changed))
    return found


def demand_of(row: Mapping[str, str]) -> dict[str, Value]:
    """The joint of a row: like the first tested process, with the row's changes."""
    first = changes(row["record"].split("||")[0])
    follows = {key: value for key, value in first.items() if key not in TESTED and "tested" not in key}
    for key in ("impact_positions", "hardness_positions", "hardness_hv10", "impact_temperature", "capping_preheat"):
        follows.pop(key, None)
    base = BASES[row["base"]]
    demand = base | ASKED | follows
    for name in ("position", "heat_input", "run_type", "transfer_mode"):
        demand[name] = str(demand.get(name, "")).split("|")[0].strip()
    return values(demand | changes(row["demand"]))


def settings_of(row: Mapping[str, str]) -> dict[str, str]:
    """The switches of a row by part of their key. Raises ValueError where none or several answer."""
    found = {}
    for part, option in changes(row["settings"]).items():
        keys = [switch.key for switch in SWITCHES if part in switch.key]
        if len(keys) != 1:
            raise ValueError(f"{part} names {keys}")
        found[keys[0]] = option
    return found


def verdict_of(row: Mapping[str, str]) -> Verdict:
    """The verdict of a row."""
    return best(demand_of(row), limit_sets(record_of(row), settings_of(row)))
