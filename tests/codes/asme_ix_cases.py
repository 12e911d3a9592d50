"""Reading of the case table of ASME IX procedures: a base in which everything fits, and what a row changes in it.

A row's `record` and `demand` hold `key=value; key=value`. A key with nothing after the sign is left out; several values
stand with `|`, a range as `3..16`, parent metals as `P-1 Gr 1 / P-8`, inches as `0.5in`, Fahrenheit as `400F`. Several
processes or coupons of a record, and several processes of a joint, stand with `||`. What the record changes, the
demand follows unless it says otherwise; the deposit follows the thinner part. `settings` holds `part of a switch's
key=option`.
"""

import csv
from collections.abc import Mapping
from decimal import Decimal
from pathlib import Path

from codes.asme_ix_2021 import SWITCHES
from codes.check import best
from codes.editions import edition
from codes.limits import LimitSet
from codes.parse import parse_values
from codes.units import CONVERSIONS, INCH_MM
from codes.values import Value, number
from codes.verdict import Outcome, Verdict

CASES = Path(__file__).parent / "cases" / "asme_ix_2021.csv"

COMMON = {
    "mechanisation": "partly_mechanised",
    "steels": "P-1 Gr 1",
    "weld_type": "butt_cjp",
    "joint_type": "butt",
    "product": "plate",
    "parent_t": "12",
    "position": "PA",
    "max_run_t": "5",
    "run_type": "multi_run",
    "a_number": "A1",
    "preheat": "20",
    "interpass": "150",
    "pwht": "no",
    "current_type": "DC+",
    "heat_input": "1.5",
    "heat_measure": "arc_energy",
    "heat_method": "conventional",
    "waveform_controlled": "no",
    "wire_system": "single",
}
TESTED = {"unit_system": "si", "impact_tested": "no"}
ASKED = {"impact_required": "no", "pressure_retaining": "no"}

BASES: dict[str, dict[str, str]] = {
    "SMAW": {
        "process": "111",
        "mechanisation": "manual",
        "f_number": "F4",
        "filler_designation": "E7018",
        "filler_diameter": "4",
    },
    "GMAW": {
        "process": "135",
        "f_number": "F6",
        "filler_designation": "ER70S-6",
        "filler_diameter": "1.2",
        "gas": "M21",
        "gas_co2": "18",
        "transfer_mode": "spray",
        "extra_filler": "none",
    },
    "GTAW": {
        "process": "141",
        "mechanisation": "manual",
        "f_number": "F6",
        "filler_designation": "ER70S-6",
        "filler_diameter": "2.4",
        "gas": "I1",
        "current_type": "DC-",
    },
    "SAW": {
        "process": "121",
        "mechanisation": "fully_mechanised",
        "f_number": "F6",
        "filler_designation": "EM12K",
        "filler_diameter": "4",
        "flux_designation": "F7A2-EM12K",
        "flux_make": "F",
        "flux_type": "neutral",
        "flux_recrushed": "no",
        "extra_filler": "none",
    },
}
BASES["FCAW"] = BASES["GMAW"] | {"process": "136", "filler_designation": "E71T-1M"}
PROCESSES = {base["process"]: name for name, base in BASES.items()}


def rows() -> list[dict[str, str]]:
    """The rows of the case table."""
    with CASES.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def changes(text: str) -> dict[str, str]:
    """The changed keys of one part of a cell."""
    parts = (part.partition("=") for part in text.split(";") if part.strip())
    return {key.strip(): value.strip() for key, _, value in parts}


def values(plain: Mapping[str, str]) -> dict[str, Value]:
    """Typed values; blank ones left out, the deposit that of the thinner part where none is stated."""
    typed = {key: _plain(key, value) for key, value in plain.items() if value != ""}
    if "deposit_t" not in plain and "parent_t" in typed and plain.get("weld_type") != "fillet":
        found = typed["parent_t"]
        typed["deposit_t"] = min(found, key=Decimal) if isinstance(found, list) else found
    return parse_values(typed)


def _plain(key: str, value: str) -> object:
    if key == "steels":
        pairs = [[{"grade": side.strip()} for side in pair.split("/")] for pair in value.split("|")]
        return pairs if len(pairs) > 1 else pairs[0]
    parts = [_range(part.strip()) for part in value.split("|")]
    return parts if len(parts) > 1 else parts[0]


def _range(part: str) -> object:
    if ".." not in part:
        return _figure(part)
    lo, hi = part.split("..")
    return {"min": _figure(lo) or None, "max": _figure(hi) or None}


def _figure(part: str) -> str:
    figure = part[:-2] if part.endswith("in") else part[:-1]
    if not figure.replace(".", "").replace("-", "").isdigit():
        return part
    if part.endswith("in"):
        return number(Decimal(figure) * INCH_MM)
    return str(CONVERSIONS["°C"].to_si(Decimal(figure))) if part.endswith("F") else part


def record_of(row: Mapping[str, str]) -> list[dict[str, Value]]:
    """The coupons of a row, one mapping for each process."""
    parts = [changes(part) for part in row["record"].split("||")]
    alone = len(parts) == 1
    return [values(_base(row, part) | TESTED | ({} if alone else {"piece": "1"}) | part) for part in parts]


def _base(row: Mapping[str, str], part: Mapping[str, str]) -> dict[str, str]:
    return COMMON | BASES[PROCESSES.get(part.get("process", ""), row["base"])]


def demands_of(row: Mapping[str, str]) -> list[dict[str, Value]]:
    """The joint of a row, one demand for each process."""
    return [_demand(row, changes(part)) for part in row["demand"].split("||")]


def _demand(row: Mapping[str, str], part: dict[str, str]) -> dict[str, Value]:
    records = [changes(one) for one in row["record"].split("||")]
    same = [one for one in records if one.get("process") == part.get("process")] or records
    follows = {key: value for key, value in same[0].items() if key not in (*TESTED, "piece", "toughness_only")}
    follows = {key: value.split("|")[0].strip() for key, value in follows.items() if ".." not in value}
    return values(_base(row, follows) | ASKED | follows | part)


def settings_of(row: Mapping[str, str]) -> dict[str, str]:
    """The switches of a row by part of their key. Raises ValueError where none or several answer."""
    found = {}
    for part, option in changes(row["settings"]).items():
        keys = [switch.key for switch in SWITCHES if part in switch.key]
        if len(keys) != 1:
            raise ValueError(f"{part} names {keys}")
        found[keys[0]] = option
    return found


def sets_of(row: Mapping[str, str]) -> tuple[LimitSet, ...]:
    """The limit sets that the record of a row earns."""
    return edition(f"ASME IX:{row['edition']}").limit_sets(record_of(row), settings_of(row))


def verdicts_of(row: Mapping[str, str]) -> list[Verdict]:
    """The verdict of each process of the joint."""
    return [best(demand, sets_of(row)) for demand in demands_of(row)]


def outcome_of(row: Mapping[str, str]) -> tuple[str, str]:
    """The worst outcome of a row and all its reasons."""
    verdicts = verdicts_of(row)
    worst: Outcome = min((verdict.outcome for verdict in verdicts), key=lambda outcome: outcome.rank)
    return worst.value, "+".join(dict.fromkeys(reason for verdict in verdicts for reason in verdict.reasons))


def made(
    record: str = "", demand: str = "", base: str = "SMAW", year: int = 2021, settings: str = ""
) -> dict[str, str]:
    """A row made in a test."""
    return {"base": base, "record": record, "demand": demand, "edition": str(year), "settings": settings}
