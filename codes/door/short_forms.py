"""Short notations of a question, written out before it is read: keys such as proc, fm and pos, and values such as
"141/111", "BW+FWs", "M21-ArC-18" and a designation line. For records to ISO and EN codes; the schema lists the keys.
"""

import re
from collections.abc import Mapping, Sequence

from codes.door.short_life import LIFE_KEYS, life_of
from codes.door.short_values import gas_of, level_of, steels_of, weld_of
from codes.iso_9606_1_2012.designation import DesignationError, parse
from codes.parse import BadField, Plain, parse_value, to_plain
from codes.terms import UnknownTerm, parse_term
from codes.variables import VARIABLES, Kind

KEYS = {
    "proc": "process",
    "mode": "transfer_mode",
    "prod": "product",
    "weld": "weld_type",
    "joint": "joint_type",
    "fm": "filler_group",
    "ft": "filler_type",
    "root": "root_filler_type",
    "s": "deposit_t",
    "t": "parent_t",
    "a": "throat_a",
    "z": "leg_z",
    "D": "diameter",
    "pos": "position",
    "det": "weld_detail",
    "lay": "run_type",
    "runs": "run_type",
    "lr": "torch_direction",
    "tech": "mechanisation",
    "rot": "rotated",
    "angle": "branch_angle",
    "exc": "execution_class",
    "func": "functional_knowledge",
    "arcsensor": "arc_sensor",
    "jointsensor": "joint_sensor",
    "visual": "visual_control",
    "alc": "arc_length_control",
    "track": "joint_tracking",
    "material": "steels",
    "grade": "steels",
    "layering": "run_type",
    "sides": "weld_detail",
    "alpha": "branch_angle",
    "transfer": "transfer_mode",
    "thickness": "parent_t",
    "throat": "throat_a",
    "HI": "heat_input",
    "make": "filler_make",
    "hydrogen": "hydrogen_class",
    "shielding_gas": "gas",
    "co2": "gas_co2",
    "EXC": "execution_class",
    "route": "qualification_route",
    "coordinator": "coordinator_level",
    "tack": "tack_length",
}
"""Short key -> variable. They stand for the variables in records and demands."""

STANDARDS = {"9606-1": "ISO 9606-1:2012", "14732": "ISO 14732:2013", "15614-1": "ISO 15614-1:2017"}
MACHINES = ("mech", "auto", "robot")
ISO_OR_EN = re.compile(r"9606|14732|15614|1090")
SEVERAL = re.compile(r"\s*[/+&]\s*")
PER_PROCESS = ("deposit_t", "layers", "filler_group", "filler_type", "transfer_mode")

Values = dict[str, Plain]


def short_forms_schema() -> dict[str, Plain]:
    """The short keys, for the schema of a question."""
    keys: dict[str, Plain] = {
        key: {"description": VARIABLES[name].label, "$comment": name} for key, name in KEYS.items()
    }
    life: dict[str, Plain] = {key: {"description": words} for key, words in LIFE_KEYS.items()}
    return {
        "type": "object",
        "description": "Short keys for records to ISO and EN codes and their demands. Also: `designation` of a record "
        "is a line such as ISO 9606-1 135 P FW FM1 S t10 PB ml; `std` 9606-1, 14732 or 15614-1; `asof` in a demand is "
        "the date asked about, `shop3834` the part of ISO 3834 of the works. Several values stand as 141/111, S/B, "
        "4/8 (one for each process) or PA+PF; BW+FWs is a butt test with a supplementary fillet, BW+C the combined "
        "piece; a gas may be M21-ArC-18, a steel S355J2+N, 1.2 355 or S460M/S355J2.",
        "properties": keys | life,
    }


def long_form(question: Plain) -> Plain:
    """The question written out; whatever is no question to an ISO or EN record stays as it is. Raises BadField."""
    if not isinstance(question, Mapping):
        return question
    records = question.get("records", [question["record"]] if "record" in question else [])
    if not isinstance(records, list) or not records or not all(map(_is_iso, records)):
        return question
    many = "records" in question
    written = [_record(f"records[{i}]" if many else "record", one) for i, one in enumerate(records)]
    demand = question.get("demand", {})
    whole = dict(question)
    if isinstance(demand, Mapping):
        whole, demand = _dated(whole, dict(demand), written)
        whole["demand"] = _joint(_variables("demand", demand), written)
        if not whole["demand"] and whole.get("on") is not None:
            del whole["demand"]
    whole |= {"records": written} if many else {"record": written[0]}
    return whole


def _is_iso(record: Plain) -> bool:
    if not isinstance(record, Mapping):
        return False
    named = f"{record.get('code', '')} {record.get('std', '')}"
    return bool(ISO_OR_EN.search(named)) or "designation" in record


def _dated(whole: Values, demand: Values, records: Sequence[Values]) -> tuple[Values, Values]:
    """`asof` is the date asked about; the gates of EN 1090-2 read it as a variable of the joint."""
    asof = demand.pop("asof", None)
    if asof is not None:
        whole.setdefault("on", asof)
    execution_class = str(demand.get("exc", demand.get("execution_class", "EXC1"))).upper()
    shop = demand.pop("shop3834", None)
    for record in records:
        if shop is not None and execution_class == "EXC1":
            facts = record.get("facts", {})
            # EN 1090-2, 7.4.2: the works decide in EXC1 whether option c may be used.
            record["facts"] = {**(facts if isinstance(facts, Mapping) else {}), "iso_3834": str(shop)}
        if "1090" in str(record.get("code")) and whole.get("on") is not None:
            demand.setdefault("on", whole["on"])
    if all(re.search("9606|14732", str(record.get("code"))) for record in records):
        # The range of a person does not know execution classes.
        demand = {key: value for key, value in demand.items() if key not in ("exc", "execution_class")}
    return whole, demand


def _record(where: str, plain: Plain) -> Values:
    record = dict(plain) if isinstance(plain, Mapping) else {}
    standard = record.pop("std", None)
    if standard is not None:
        record.setdefault("code", STANDARDS.get(str(standard), str(standard)))
    life = {key: record.pop(key) for key in LIFE_KEYS if key in record}
    tested = record.get("tested")
    if isinstance(tested, Mapping) and any(key in tested for key in LIFE_KEYS):
        life |= {key: tested[key] for key in LIFE_KEYS if key in tested}
        record["tested"] = {key: value for key, value in tested.items() if key not in LIFE_KEYS}
    record = _designated(where, record)
    record = _variables(where, record, record_keys=True)
    if "tested" in record:
        record["tested"] = _pieces(f"{where}.tested", record["tested"])
    return record | life_of(where, life, record) if life else record


def _designated(where: str, record: Values) -> Values:
    """The test piece of a designation line, where the record has one; what `tested` states stands above the line."""
    line = record.pop("designation", None)
    if line is None:
        return record
    try:
        found = parse(str(line))
    except DesignationError as error:
        raise BadField(f"{where}.designation", str(error)) from None
    tested = record.get("tested", {})
    if not isinstance(tested, Mapping):
        raise BadField(f"{where}.tested", "must be an object beside a designation line")
    read = {name: to_plain(value) for name, value in found.tested.items()}
    return {"code": STANDARDS["9606-1"], "label": str(line)} | record | {"tested": read | dict(tested)}


def _pieces(where: str, tested: Plain) -> Plain:
    if isinstance(tested, list):
        return [_pieces(f"{where}[{i}]", one) for i, one in enumerate(tested)]
    return _variables(where, tested) if isinstance(tested, Mapping) else tested


def _variables(where: str, stated: Mapping[str, Plain], record_keys: bool = False) -> Values:
    """The keys and values of one mapping written out; `record_keys` leaves the keys that a record has of its own."""
    found: Values = {}
    for key, value in stated.items():
        name = KEYS.get(key, key)
        if key == "kind" and str(value) in MACHINES:
            new: Values = {"mechanisation": value} | ({"robot": "yes"} if value == "robot" else {})
        elif key == "ci":
            new = {"weld_detail": "ci"} if _yes(value) else {}
        elif key == "gouged":
            new = _gouged(f"{where}.{key}", value)
        elif name == "robot" or (record_keys and name not in VARIABLES):
            new = {name: value}
        else:
            new = _value(name, value)
        twice = [one for one in new if one in found]
        if twice:
            raise BadField(f"{where}.{key}", f"{twice[0]} is stated twice")
        found |= new
    if "supplementary_fillet" in found and "parent_t" in found:
        # t beside a butt test is the thickness of its fillet piece.
        found.setdefault("supplementary_t", found["parent_t"])
    return _by_process(found)


def _yes(value: Plain) -> bool:
    return parse_value(VARIABLES["functional_knowledge"], value) == "yes"


def _gouged(where: str, value: Plain) -> Values:
    """A root that was not gouged; one that was needs the kind of gouging, which decides what is covered."""
    if _yes(value):
        raise BadField(where, "state the kind instead: `gouging` mechanical or thermal")
    return {"gouging": "none"}


def _value(name: str, value: Plain) -> Values:
    if name == "weld_type":
        return weld_of(value)
    if name in ("gas", "backing_gas"):
        return gas_of(name, value)
    if name == "level":
        return {name: level_of(value)}
    if name in ("steels", "backing_steel"):
        return {name: steels_of(value)}
    variable = VARIABLES.get(name)
    if variable is not None and variable.kind is Kind.TERM:
        return {name: _several(variable.vocabulary, value)}
    return {name: value}


def _several(vocabulary: str, value: Plain) -> Plain:
    """The words of "PA+PF" or "S/B" as a list, unless the whole is a word of the vocabulary itself."""
    if not isinstance(value, str) or not SEVERAL.search(value):
        return value
    try:
        return parse_term(vocabulary, value)
    except UnknownTerm:
        return SEVERAL.split(value.strip())


def _by_process(found: Values) -> Values:
    """Figures of a piece or joint of several processes, "4/8", one for each."""
    process = found.get("process")
    if not isinstance(process, list) or len(process) < 2:
        return found
    for name in PER_PROCESS:
        value = found.get(name)
        if isinstance(value, str) and SEVERAL.search(value):
            found[name] = list(SEVERAL.split(value.strip()))
    return found


def _joint(demand: Values, records: Sequence[Values]) -> Values:
    """What one can tell of the joint: its processes in order, and the hydrogen class of a designation."""
    designation = str(demand.get("filler_designation") or "")
    hydrogen = re.search(r"\bH(4|5|8|10|15|16)$", designation.strip().upper())
    if hydrogen and demand.get("hydrogen_class") is None:
        demand["hydrogen_class"] = hydrogen[0]
    process = demand.get("process")
    if process and all("9606" in str(record.get("code")) for record in records):
        order = "/".join(map(str, process)) if isinstance(process, list) else process
        demand.setdefault("joint_processes", order)
    return demand
