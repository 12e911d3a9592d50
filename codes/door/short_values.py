"""Values that say more than one variable at once, taken apart: welds, gases (ISO 14175), steels with their yield."""

import re

from codes.parse import Plain
from codes.steels import UnknownGrade, grade_of

TEE_BUTT = re.compile(r"^t[\s_-]*joint[\s_,-]*butt([\s_-]*(weld|full[\s_-]*pen(etration)?))*$", re.IGNORECASE)
EXTRAS = {"FWs": "supplementary_fillet", "FW": "supplementary_fillet", "C": "combined_piece"}

GAS = re.compile(
    r"^(?:(?:EN\s*)?ISO\s*14175[\s:-]*)?(?P<symbol>I[1-3]|M[123]\d|C[12]|R[12]|N[1-5]|O1|Z)"
    r"(?:[\s,-]+(?P<base>Ar|He|N|C|O|H)(?P<rest>(?:Ar|He|C|O|H|N)*)[\s-]+(?P<shares>\d+(?:\.\d+)?(?:/\d+(?:\.\d+)?)*))?$"
)
CONTENTS = {"C": "gas_co2", "O": "gas_o2", "He": "gas_he", "H": "gas_h2", "N": "gas_n2"}

GROUP_AND_YIELD = re.compile(
    r"^(?P<grade>.*?)[\s(]*(?:group\s*)?(?P<group>1[01](?:\.[1-3])?|[1-9](?:\.[1-4])?)"
    r"(?:[\s,;]+(?:ReH?\s*)?(?P<strength>\d{3,4})(?:\s*MPa)?)?\)?$",
    re.IGNORECASE,
)
SIDES = re.compile(r"\s*/\s*|\s+to\s+")


def weld_of(value: Plain) -> dict[str, Plain]:
    """Weld type, and what else its word says. Example: "BW+FWs" is a butt weld with a supplementary fillet."""
    if not isinstance(value, str):
        return {"weld_type": value}
    if TEE_BUTT.match(value.strip()):
        return {"weld_type": "butt_cjp", "joint_type": "tee"}
    kind, _, extra = value.partition("+")
    if extra.strip() in EXTRAS:
        return {"weld_type": kind.strip(), EXTRAS[extra.strip()]: "yes"}
    return {"weld_type": value}


def gas_of(name: str, value: Plain) -> dict[str, Plain]:
    """Symbol and contents of a gas by ISO 14175. Example: "M21-ArC-18" is M21 with 18 % CO2."""
    found = GAS.match(value.strip()) if isinstance(value, str) else None
    if found is None or found["shares"] is None:
        return {name: found["symbol"] if found else value}
    parts = re.findall(r"Ar|He|C|O|H|N", found["rest"])
    shares = found["shares"].split("/")
    if name != "gas" or len(parts) != len(shares):
        return {name: found["symbol"]}
    return {name: found["symbol"]} | {CONTENTS[p]: s for p, s in zip(parts, shares, strict=True) if p in CONTENTS}


def level_of(value: Plain) -> Plain:
    """The level of a test. Example: "level 2" is 2."""
    found = re.fullmatch(r"\s*(?:level|l)\s*([12])\s*", value, re.IGNORECASE) if isinstance(value, str) else None
    return found[1] if found else value


def steels_of(value: Plain) -> Plain:
    """Grades, groups and yields of one side or both. Example: "1.2 355 / 1.1 235"; "S355J2+N (1.2, 355)"."""
    if isinstance(value, list):
        return [steels_of(one) if isinstance(one, list) else _steel(one) for one in value]
    if not isinstance(value, str) or _held(value):
        return value
    sides = [one for one in SIDES.split(value.strip()) if one]
    known = [_steel(one) for one in sides]
    if len(sides) == 2 and all(isinstance(one, dict) or _held(str(one)) for one in known):
        return known
    return _steel(value)


def _steel(value: Plain) -> Plain:
    found = GROUP_AND_YIELD.match(value.strip()) if isinstance(value, str) and not _held(value) else None
    if found is None or (found["grade"] and not _held(found["grade"])):
        return value
    return {"group": found["group"], "yield_mpa": found["strength"], "grade": found["grade"]}


def _held(grade: str) -> bool:
    try:
        grade_of(grade)
    except UnknownGrade:
        return False
    return True
