"""QW-404.12: which AWS classifications count as the same where toughness is required. From memory.

Free are the designators of hydrogen and moisture, one low-hydrogen covering for another (15, 16, 18), the position
digit of a cored wire, and a suffix that only means better or colder toughness (never back).
"""

import re
from dataclasses import dataclass
from decimal import Decimal

from codes.values import Atom, bare


@dataclass(frozen=True, slots=True)
class Read:
    """A classification without its free parts; `tough` where it carries the suffix of better toughness."""

    base: str
    tough: bool


_ELECTRODE = re.compile(r"(E\d{2}|E1[0-2]\d)(\d\d)(M?)(1?)([ABCDGNPW][A-Z0-9]*?|M)??(H\d+)?(R?)")
_CORED = re.compile(r"(E\d{1,2})([01])(T)(\d+|G)([CM]?)([A-GK-Z][A-Z]?\d[A-Z]?)?(J?)(H\d+)?")
LOW_HYDROGEN = ("15", "16", "18")


def read(designation: str) -> Read:
    """The classification in its fixed parts. Example: "E7018-1 H4R" and "E7016-1" read alike, "E7018" less tough."""
    text = bare(designation.upper())
    text = re.sub(r"^SFA5\d{1,2}(?=E)", "", text)
    electrode = _ELECTRODE.fullmatch(text)
    if electrode:
        strength, covering, military, tough, alloy = electrode.groups()[:5]
        low = covering in LOW_HYDROGEN and not military
        return Read(f"{strength}{'low hydrogen' if low else covering}{military}{alloy or ''}", bool(tough))
    cored = _CORED.fullmatch(text)
    if cored:
        strength, _, t, kind, gas, alloy, tough = cored.groups()[:7]
        return Read(f"{strength}x{t}{kind or ''}{gas}{alloy or ''}", bool(tough))
    return Read(re.sub(r"(?<=[A-Z0-9])H(?:2|4|8|16)$", "", text), False)


def unclassified(designation: str) -> bool:
    """True for a class G, or a designation that is no AWS classification. Example: "E8018-G" is one."""
    text = designation.upper().strip()
    known = re.match(r"(SFA[-\s]?5\.\d+\s*[:,]?\s*)?(E|ER|EC|R)[-\s]?\d", text) or re.match(r"E[LMH]\d", text)
    return known is None or re.search(r"[-\d]GS?(?=\s|-|$)", text) is not None or bool(re.search(r"E \d", text))


@dataclass(frozen=True, slots=True)
class SameClass:
    """The tested classifications, and those that differ only in what is free."""

    tested: tuple[str, ...]

    def admits(self, atom: Atom) -> bool:
        if not isinstance(atom, str):
            return False
        wanted = read(atom)
        return any(known.base == wanted.base and wanted.tough >= known.tough for known in map(read, self.tested))

    def margin(self, atom: Atom) -> Decimal | None:
        return None

    def __str__(self) -> str:
        return " or ".join(self.tested)
