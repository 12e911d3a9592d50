"""The notation of the welder case table, read into test pieces, demands and certificate lives.

`;` parts keys, `key=value`; `&&` parts the test pieces of one certificate, keys not repeated being the same. A key
that a row leaves out is not under test: what is 'not stated' because of it does not count.
"""

import csv
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from codes.check import Demand, check, nearness
from codes.iso_9606_1_2012.joint import split_multi_process
from codes.limits import LimitSet
from codes.parse import parse_value
from codes.validity import Event, ValidityInput
from codes.values import Value
from codes.variables import VARIABLES
from codes.verdict import Outcome, Verdict

CASES = Path(__file__).parent / "cases"
KEYS = {
    "mode": "transfer_mode",
    "prod": "product",
    "fm": "filler_group",
    "ft": "filler_type",
    "root": "root_filler_type",
    "s": "deposit_t",
    "layers": "layers",
    "t": "parent_t",
    "D": "diameter",
    "pos": "position",
    "det": "weld_detail",
    "lay": "run_type",
    "lr": "torch_direction",
    "proc": "process",
    "tech": "mechanisation",
    "rot": "rotated",
    "angle": "branch_angle",
    "std": "standard",
}
WORDS = {
    "product": {"P": "plate", "T": "pipe"},
    "transfer_mode": {"D": "dip", "G": "globular", "S": "spray", "P": "pulsed"},
    "run_type": {"sl": "single_run", "ml": "multi_run"},
    "torch_direction": {"lw": "leftward", "rw": "rightward"},
    "weld_type": {"BW": "butt_cjp", "BWp": "butt_pjp", "FW": "fillet", "branch": "branch"},
}


@dataclass(frozen=True)
class Case:
    """One row of the table."""

    id: str
    clause: str
    certificate: str
    joint: str
    expect: str
    reasons: frozenset[str]


def read_cases(name: str) -> tuple[Case, ...]:
    """All rows of a case table."""
    with (CASES / name).open(newline="", encoding="utf-8") as lines:
        return tuple(
            Case(r["id"], r["clause"], r["certificate"], r["joint"], r["expect"], _reasons(r["reasons"]))
            for r in csv.DictReader(lines)
        )


def _reasons(text: str) -> frozenset[str]:
    return frozenset(part for part in text.split("+") if part)


def plain(text: str) -> dict[str, str]:
    """The keys of one piece or joint."""
    pairs = (part.split("=", 1) for part in text.split(";") if part.strip())
    return {key.strip(): value.strip() for key, value in pairs}


def pieces(text: str) -> tuple[dict[str, Value], ...]:
    """The test pieces of a certificate."""
    found: list[dict[str, str]] = []
    for part in text.split("&&"):
        found.append((found[-1] if found else {}) | plain(part))
    return tuple(values(one) for one in found)


def demands(text: str) -> tuple[dict[str, Value], ...]:
    """The joint, one demand per process; a pipe is fixed unless the row turns it."""
    keys = plain(text)
    if keys.get("prod") == "T":
        keys.setdefault("rot", "no")
    return split_multi_process(values(keys))


def values(keys: Mapping[str, str]) -> dict[str, Value]:
    """The keys as variables of the codes."""
    found: dict[str, Value] = {}
    for key, text in keys.items():
        if key == "weld":
            found |= _weld(text)
        elif key in KEYS:
            found |= _plain_value(KEYS[key], text)
    if "supplementary_fillet" in found and "parent_t" in found:
        found["supplementary_t"] = found.pop("parent_t")
    return found


def _weld(text: str) -> dict[str, Value]:
    kind, _, extra = text.partition("+")
    found: dict[str, Value] = {"weld_type": WORDS["weld_type"][kind]}
    extras = {"FWs": "supplementary_fillet", "C": "combined_piece"}
    return found | ({extras[extra]: "yes"} if extra else {})


def _plain_value(name: str, text: str) -> dict[str, Value]:
    several = text.replace("+", "/").split("/")
    words = [WORDS.get(name, {}).get(word.strip(), word.strip()) for word in several]
    value = parse_value(VARIABLES[name], words if len(words) > 1 else words[0])
    return {} if value is None else {name: value}


def judge(demand: Demand, sets: Sequence[LimitSet]) -> tuple[bool, frozenset[str], Verdict]:
    """Covered or not, and the failing reasons of the nearest limit set, over the variables the row states."""
    verdicts = [check(demand, limits) for limits in sets]
    failing = [(frozenset(_failing(verdict)), verdict) for verdict in verdicts]
    for reasons, verdict in failing:
        if not reasons:
            return True, reasons, verdict
    reasons, verdict = min(failing, key=lambda pair: nearness(pair[1]))
    return False, reasons, verdict


def _failing(verdict: Verdict) -> list[str]:
    return [
        finding.reason
        for finding in verdict.worst
        if finding.outcome is Outcome.OUTSIDE or finding.variable in verdict.demand
    ]


def life(text: str) -> ValidityInput:
    """The life of a certificate."""
    keys = plain(text)
    events = [Event("confirmation", day, by="responsible person") for day in _days(keys.get("conf", ""))]
    if "pro" in keys:
        welds = keys["pw"].split(",")
        details = {"weld_1": welds[0], "weld_2": welds[1], "conditions_reproduced": keys.get("repro", "")}
        events.append(Event("prolongation", date.fromisoformat(keys["pro"]), details=details))
    events += [Event("revocation", day) for day in _days(keys.get("revoked", ""))]
    facts = {"samemfr": "same_manufacturer", "iso3834": "iso_3834", "docq": "quality_documented"}
    until = keys.get("validuntil")
    return ValidityInput(
        tested_on=date.fromisoformat(keys["test"]),
        option=keys["opt"],
        printed_until=date.fromisoformat(until) if until else None,
        events=tuple(events),
        facts={name: keys[key] for key, name in facts.items() if key in keys},
    )


def _days(text: str) -> list[date]:
    return [date.fromisoformat(day.strip()) for day in text.split(",") if day.strip()]
