"""AWS filler classifications: from the letters printed on a packet to specification, strength and kind.

Classifications of the A5 specifications in US customary figures (E7018, ER70S-6, E71T-1C, F7A2-EM12K); optional
hydrogen and moisture designators do not change the class. Others are not known, so what they serve is not stated.
"""

import re
from dataclasses import dataclass
from decimal import Decimal

from codes.values import Atom

SINGLE_PASS = ("2", "3", "10", "13", "14", "GS")
"""Flux-cored usability types made for single-pass welds only."""
LOW_HYDROGEN = ("15", "16", "18", "28", "48")
"""Last two digits of covered electrodes of the low-hydrogen kind."""
STRENGTHS = (60, 70, 80, 90, 100, 110, 120)

_COVERED = re.compile(r"^E(\d{2,3})(\d{2})(M?)(?:-(.+))?$")
_SOLID = re.compile(r"^ER(\d{2,3})S-(.+)$")
_METAL_CORED = re.compile(r"^E(\d{2,3})C-(.+)$")
_FLUX_CORED = re.compile(r"^E(\d{1,2})([01])T(-?)(\d{1,2}|GS|G)(C|M)?(?:-(.+))?$")
_SUBMERGED = re.compile(r"^F(\d{1,2})[AP](?:\d{1,2}|Z)-(E.+)$")
# Optional marks behind the class: diffusible hydrogen [ml/100 g], moisture resistance R.
_HYDROGEN = re.compile(r"^(.*?)(?:-?H(2|4|8|16))?R?$")
_PLAIN_WIRE = ("2", "3", "4", "6", "7", "8", "G", "GS")


@dataclass(frozen=True, slots=True)
class Filler:
    """One classification. `family`: SMAW, SAW, WIRE (solid and metal-cored, GMAW and GTAW) or FCAW."""

    name: str
    family: str
    specification: str
    strength_ksi: int
    low_hydrogen: bool
    usability: str
    gas: str
    hydrogen_ml: int | None
    general: bool

    @property
    def single_pass_only(self) -> bool:
        """True for flux-cored types made for one pass."""
        return self.family == "FCAW" and self.usability in SINGLE_PASS


def classify(text: str) -> Filler | None:
    """The classification of a designation as written, None where it is not known.

    Example: classify("e7018-1 h4r") is E7018 of A5.1, 70 ksi, low-hydrogen, at most 4 ml/100 g.
    """
    split = _HYDROGEN.match(re.sub(r"\s", "", text.upper()))
    name, ml = (split[1], int(split[2]) if split[2] else None) if split else ("", None)
    found = _covered(name, ml) or _wire(name, ml) or _cored(name, ml) or _flux_and_wire(name, ml)
    return found if found and found.strength_ksi in STRENGTHS else None


def _covered(name: str, ml: int | None) -> Filler | None:
    match = _COVERED.match(name)
    if match is None:
        return None
    strength, usability, military, suffix = int(match[1]), match[2], match[3], match[4] or ""
    suffix = "" if suffix == "1" else suffix
    alloyed = bool(suffix and suffix != "M") or strength > 70
    base = f"E{match[1]}{usability}{military}" + (f"-{suffix}" if suffix else "")
    spec = "A5.5" if alloyed else "A5.1"
    low = usability in LOW_HYDROGEN
    return Filler(base, "SMAW", spec, strength, low, usability, "", ml, suffix == "G")


def _wire(name: str, ml: int | None) -> Filler | None:
    match = _SOLID.match(name) or _METAL_CORED.match(name)
    if match is None:
        return None
    strength, suffix = int(match[1]), match[2]
    plain = strength == 70 and (suffix in _PLAIN_WIRE or re.fullmatch(r"[36][CM]|GS?[CM]?", suffix) is not None)
    gas = suffix[-1] if suffix[-1:] in ("C", "M") and name.startswith("E7") else ""
    if name.startswith("ER") and plain and suffix not in ("G", "GS"):
        gas = "C"
    return Filler(name, "WIRE", "A5.18" if plain else "A5.28", strength, True, suffix, gas, ml, suffix == "G")


def _cored(name: str, ml: int | None) -> Filler | None:
    match = _FLUX_CORED.match(name)
    if match is None:
        return None
    strength, usability, suffix = int(match[1]) * 10, match[4], match[6] or ""
    # A5.20 writes E71T-1, A5.29 writes E81T1-Ni1.
    alloyed = not match[3]
    spec = "A5.29" if alloyed else "A5.20"
    gas = match[5] or (suffix[-1] if alloyed and suffix[-1:] in ("C", "M") else "")
    return Filler(
        name, "FCAW", spec, strength, True, usability, gas, ml, usability == "G" or suffix in ("G", "GC", "GM")
    )


def _flux_and_wire(name: str, ml: int | None) -> Filler | None:
    match = _SUBMERGED.match(name)
    if match is None:
        return None
    strength, wire = int(match[1]) * 10, match[2]
    plain = strength <= 70 and wire[1:2] in ("L", "M", "H")
    return Filler(name, "SAW", "A5.17" if plain else "A5.23", strength, True, wire, "", ml, wire.endswith("G"))


class FillerTest:
    """What all sets of fillers share: a designation that is not known leaves the answer open."""

    def admits(self, atom: Atom) -> bool:
        filler = classify(atom) if isinstance(atom, str) else None
        return filler is not None and self.fits(filler)

    def fits(self, filler: Filler) -> bool:
        """True where a known classification belongs to the set."""
        raise NotImplementedError

    def unstated(self, atom: Atom) -> str:
        if isinstance(atom, str) and classify(atom) is None:
            return f'"{atom}" is not an AWS classification known here'
        return ""

    def margin(self, atom: Atom) -> Decimal | None:
        return None
