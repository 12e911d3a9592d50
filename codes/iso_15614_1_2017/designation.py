"""Filler designations read so far as to compare two of them: the compulsory part, and what follows it.

ISO 2560-A (E), ISO 14341-A (G), ISO 17632-A (T), ISO 636-A (W), ISO 14171-A (S); the order of the symbols is from
memory of those standards. A designation of another system is not read; it equals only itself.
"""

import re
from dataclasses import dataclass

IMPACT_ORDER = ("Z", "A", "Y", "0", "2", "3", "4", "5", "6", "7", "8", "9", "10")
"""Impact symbols from the warmest test to the coldest; Z is without requirement."""

SHAPE = re.compile(
    r"(?P<kind>[EGTWS])(?P<strength>35|38|42|46|50|55|62|69|79|89|[2345]T)(?P<impact>10|[ZAY02-9])(?P<rest>.*)"
)
COVERED_REST = re.compile(r"(?P<alloy>Z|[\dA-Za-z]*?)(?P<core>RR|RA|RB|RC|B|A|C|R)(?P<optional>\d{0,2})")
CORED_REST = re.compile(
    r"(?P<alloy>Z|[\dA-Za-z]*?)(?P<core>[BMPRVWYZ])(?P<gas>C1|M\d\d|I\d|C|M|N|NO)?(?P<optional>\d?)"
)
HYDROGEN = re.compile(r"H(4|5|8|10|15|16)$")


@dataclass(frozen=True, slots=True)
class Designation:
    """A designation taken apart: kind of product, strength, impact symbol, and what must be the same."""

    kind: str
    strength: str
    impact: str
    same: tuple[str, ...]
    hydrogen: str = ""


def read(text: str) -> Designation | None:
    """The parts of a designation, or None where it is of a system not read here.

    Example: "E 42 4 B 42 H5" gives kind E, strength 42, impact 4, same ("", "B"), hydrogen H5.
    """
    plain = text.upper().replace(" ", "").replace("-", "")
    plain = re.sub(r"^(EN)?ISO\d+A?:?(\d{4})?A?", "", plain)
    hydrogen = HYDROGEN.search(plain)
    body = SHAPE.fullmatch(plain[: hydrogen.start()] if hydrogen else plain)
    if body is None:
        return None
    same = _same(body["kind"], body["rest"])
    if same is None:
        return None
    return Designation(body["kind"], body["strength"], body["impact"], same, hydrogen[0] if hydrogen else "")


def _same(kind: str, rest: str) -> tuple[str, ...] | None:
    """What must not change: composition and covering or core; gas, wire and flux symbols where the system has them."""
    if kind == "E":
        found = COVERED_REST.fullmatch(rest)
        return (found["alloy"], found["core"]) if found else None
    if kind == "T":
        found = CORED_REST.fullmatch(rest)
        return (found["alloy"], found["core"], found["gas"] or "") if found else None
    return (rest,) if rest else None


def equivalent(tested: Designation, wanted: Designation) -> bool:
    """Same kind, strength, composition and covering; the impact symbol of an equal or colder test."""
    same = (tested.kind, tested.strength, tested.same) == (wanted.kind, wanted.strength, wanted.same)
    return same and IMPACT_ORDER.index(wanted.impact) >= IMPACT_ORDER.index(tested.impact)


def hydrogen_class(text: str) -> str:
    """The hydrogen class a designation ends with, or nothing. Example: "E 42 4 B 42 H5" gives "H5"."""
    found = HYDROGEN.search(text.upper().replace(" ", ""))
    return found[0] if found else ""
