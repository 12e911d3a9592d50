"""ASME IX: P-numbers of parent metals (QW/QB-422) and F-numbers of fillers (QW-432), a working subset with look-ups.

A metal that stands in no row is unassigned: nothing is guessed. Rows that no public copy printed are usable, with
the warning that their number is not verified (`PRow.verified`).
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

from codes.clauses import Clause, Mark

COPY_422 = "public copies of QW/QB-422 of 2017"
DESCRIBED = "public notes describing the P-numbers"
WPS_EXAMPLE = "published WPS example (GTAW and GMAW, 2019)"
HEAT_NOTE = "public note on QW-409 (names SA-516 70)"
F_PAGES = "public definitions of the F-numbers; weldingdesign.com"


def _where(ref: str, mark: Mark, source: str) -> Clause:
    return Clause("ASME IX", ref, mark, source)


_SEEN = _where("QW/QB-422", Mark.CONFIRMED, COPY_422)
_GENERAL = _where("QW/QB-422", Mark.PART, DESCRIBED)
_MEMORY = _where("QW/QB-422", Mark.MEMORY, "no public source; from memory")


@dataclass(frozen=True, slots=True)
class PRow:
    """Metals of one P-number and group number (0: none given): specification and grades as written."""

    p_number: str
    group: int
    specification: str
    grades: tuple[str, ...]
    clause: Clause

    @property
    def verified(self) -> bool:
        """False where the number is from memory or from a general description only."""
        return self.clause.mark is Mark.CONFIRMED


def _row(p: str, group: int, specification: str, grades: str, where: Clause = _MEMORY) -> PRow:
    return PRow(p, group, specification, tuple(grade.strip() for grade in grades.split(",")), where)


P_ROWS = (
    _row("P1", 1, "A36", "", _SEEN),
    _row("P1", 1, "A53", "A, B", _SEEN),
    _row("P1", 1, "A106", "A, B", _SEEN),
    _row("P1", 1, "A135", "A, B", _SEEN),
    _row("P1", 1, "A139", "A, B, C, D, E", _SEEN),
    _row("P1", 1, "bar", "1015, 1018, 1020", _SEEN),
    _row("P1", 1, "A283", "A, B, C, D"),
    _row("P1", 1, "A285", "A, B, C"),
    _row("P1", 1, "A516", "55, 60, 65"),
    _row("P1", 1, "A515", "60, 65"),
    _row("P1", 1, "A500", "B, C"),
    _row("P1", 1, "A501", ""),
    _row("P1", 1, "A572", "42, 50"),
    _row("P1", 1, "A709", "36, 50"),
    _row("P1", 1, "A234", "WPB"),
    _row("P1", 1, "A333", "1, 6"),
    _row("P1", 1, "A350", "LF1"),
    _row("P1", 1, "API 5L", "B, X42, X46"),
    _row("P1", 1, "API 5L", "X52", _where("QW/QB-422", Mark.PART, WPS_EXAMPLE)),
    _row("P1", 2, "A105", "", _SEEN),
    _row("P1", 2, "A106", "C", _SEEN),
    _row("P1", 2, "A516", "70", _where("QW/QB-422", Mark.PART, HEAT_NOTE)),
    _row("P1", 2, "A515", "70"),
    _row("P1", 2, "A537", "CL1"),
    _row("P1", 2, "A350", "LF2"),
    _row("P1", 2, "A216", "WCB, WCC"),
    _row("P1", 2, "A234", "WPC"),
    _row("P1", 2, "API 5L", "X56, X60, X65"),
    _row("P1", 3, "A537", "CL2"),
    _row("P1", 3, "API 5L", "X70"),
    _row("P3", 3, "bar", "8620", _SEEN),
    _row("P3", 3, "A302", "B, C, D"),
    _row("P3", 0, "A204", "A, B, C"),
    _row("P3", 0, "A335", "P1, P2"),
    _row("P3", 0, "A387", "2"),
    _row("P4", 1, "A335", "P11, P12", _GENERAL),
    _row("P4", 1, "A387", "11, 12", _GENERAL),
    _row("P4", 1, "A182", "F11, F12", _GENERAL),
    _row("P5A", 1, "A335", "P21, P22", _GENERAL),
    _row("P5A", 1, "A387", "21, 22", _GENERAL),
    _row("P5A", 1, "A182", "F21, F22", _GENERAL),
    _row("P5B", 1, "A335", "P5, P9", _GENERAL),
    _row("P5B", 1, "A387", "5, 9", _GENERAL),
    _row("P6", 1, "stainless", "410, 415, 429", _GENERAL),
    _row("P7", 1, "stainless", "405, 409, 410S", _GENERAL),
    _row("P7", 2, "stainless", "430", _GENERAL),
    _row("P8", 1, "stainless", "304, 304L, 304H, 316, 316L, 316H, 317, 317L, 321, 321H, 347, 347H", _GENERAL),
    _row("P8", 2, "stainless", "309, 310", _GENERAL),
    _row("P8", 3, "stainless", "201, XM-19", _GENERAL),
    _row("P8", 4, "stainless", "S31254", _GENERAL),
    _row("P10C", 0, "A612", "", _GENERAL),
    _row("P10H", 1, "stainless", "S31803, S32205, S32750", _GENERAL),
    _row("P11A", 1, "A353", "", _GENERAL),
    _row("P11A", 1, "A333", "8", _GENERAL),
    _row("P11B", 0, "A514", "", _GENERAL),
    _row("P11B", 0, "A517", "", _GENERAL),
    _row("P15E", 1, "A335", "P91, P92"),
    _row("P15E", 1, "A387", "91"),
)
# API 5L X80 is too unsure to be loaded; A588, A992, A913, A1085 and European steels were read by nobody: unassigned.

_BARE = ("bar", "stainless")
_BODY = re.compile(r"^(?:ASTM|ASME|AISI|SAE|TYPE|TP)[\s-]*")
_SPECIFICATION = re.compile(r"^(?:A/)?S?A-?(?=\d)")
_JOINERS = re.compile(r"GRADE|GR\.?|CLASS|CL\.?|[\s\-.,/_]")


def p_row(grade: str) -> PRow | None:
    """The row of a metal as people write it, None where it is unassigned.

    Example: "SA-516 Gr 70", "A516-70" and "SA516 Grade 70" give P1, group 2; "A992" gives None.
    """
    return _p_index().get(_plain(grade))


def _plain(grade: str) -> str:
    text = _BODY.sub("", grade.upper().strip())
    return _JOINERS.sub("", _SPECIFICATION.sub("A", text))


@cache
def _p_index() -> dict[str, PRow]:
    return {_plain(name): row for row in P_ROWS for name in _names(row)}


def _names(row: PRow) -> Iterable[str]:
    bare = row.specification in _BARE
    for grade in row.grades:
        yield grade if bare else f"{row.specification} {grade}".strip()


@dataclass(frozen=True, slots=True)
class FRow:
    """Filler classes of one F-number: ends of covered-electrode classes, or specifications of wires and rods."""

    f_number: str
    electrode_ends: tuple[str, ...]
    stainless_ends: tuple[str, ...]
    prefixes: tuple[str, ...]
    clause: Clause


_F = _where("QW-432", Mark.PART, f"{F_PAGES}; members from memory")
F_ROWS = (
    FRow("F1", ("20", "22", "24", "27", "28"), ("26",), (), _F),
    FRow("F2", ("12", "13", "14", "19"), (), (), _F),
    FRow("F3", ("10", "11"), (), (), _F),
    FRow("F4", ("15", "16", "18", "48"), (), (), _F),
    FRow("F5", (), ("15", "16", "17"), (), _F),
    FRow("F6", (), (), ("ER7", "ER8", "ER9", "ER10", "ER11", "ER12", "ER2", "ER3", "E7XT", "EM", "EL", "EH"), _F),
    FRow("F22", (), (), ("ER51", "ER53", "ER55", "ER56", "ER5183", "ER5356"), _F),
    FRow("F23", (), (), ("ER40", "ER46"), _F),
    FRow("F34", (), (), ("ERCuNi", "ECuNi"), _F),
    FRow("F41", (), (), ("ERNi-1", "ENi-1"), _F),
    FRow("F42", (), (), ("ERNiCu-7", "ENiCu-7"), _F),
    FRow("F43", (), (), ("ERNiCr-3", "ENiCrFe-3", "ERNiCrMo-3", "ENiCrMo-3"), _F),
    FRow("F45", (), (), ("ERNiFeCr-1",), _F),
)
# Ferritic and martensitic stainless electrodes with basic or rutile covering stand with the basic ones.
FERRITIC = ("409", "410", "430")
_CARBON = re.compile(r"^E(?:[6-9]\d|1[0-2]\d)(\d\d)(?:M\d?|-.*|H\d+.*|R)?$")
_STAINLESS = re.compile(r"^E((?:2\d\d\d|[2345]\d\d)[A-Z]*)-(15|16|17|26)$")
_FLUX_AND_WIRE = re.compile(r"^F\d{1,3}[AP][\dZ]+-E")
_CORED = re.compile(r"^E(?:[6-9]\d?|1[0-2]\d?)\d?[TC]|^E[23]\d\d\w*T")


def f_number(designation: str) -> str:
    """The F-number of an AWS filler class, "" where no row has it.

    Example: "E7018-1" gives "F4", "E308L-16" "F5", "ER70S-6", "E71T-1C" and "F7A2-EM12K" "F6",
    "ER4043" "F23".
    """
    text = designation.upper().replace(" ", "")
    text = re.sub(r"^(?:AWS|SFA|ASME)*-?A?5\.\d+[:/-]?(?:SFA-?A?5\.\d+[:/-]?)?", "", text)
    stainless, carbon = _STAINLESS.match(text), _CARBON.match(text)
    if stainless:
        ferritic = stainless.group(1).startswith(FERRITIC) and stainless.group(2) != "26"
        return "F4" if ferritic else _first(row for row in F_ROWS if stainless.group(2) in row.stainless_ends)
    if carbon:
        return _first(row for row in F_ROWS if carbon.group(1) in row.electrode_ends)
    if _CORED.match(text) or _FLUX_AND_WIRE.match(text):
        return "F6"
    longest = sorted(
        ((len(p), row) for row in F_ROWS for p in row.prefixes if text.startswith(p.upper())), key=lambda x: -x[0]
    )
    return longest[0][1].f_number if longest else ""


def _first(rows: Iterable[FRow]) -> str:
    return next((row.f_number for row in rows), "")
