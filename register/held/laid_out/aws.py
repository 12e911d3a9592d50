"""The tables of AWS D1.1 on procedures with a test, its steels and sizes, laid out."""

import re
from decimal import Decimal
from typing import Any

from django.utils.translation import gettext_lazy as _

from codes.amounts import amount
from codes.aws_d1_1.base_metals import CHANGES
from codes.units import CONVERSIONS
from codes.values import number
from register.held.laid_out.cells import (
    DASH,
    both_set,
    few,
    in_order,
    length,
    pair,
    pairs,
    term,
    terms,
    times,
    variable,
)
from register.held.laid_out.layout import Layout, Line, Part

D = "aws_d1_1_2020"
ORDER = "F H V OH"


def _plain(one: Any, other: Any) -> Line:
    return str(one), str(other)


def _positions(tested: str, covered: Any) -> Line:
    return tested, in_order(covered, ORDER)


def _thickness(row: Any) -> Line:
    tested = both_set(row.start, row.end, "T", not row.above, not row.below)
    least = times(row.least_times, "T") if row.least_times is not None else length(row.least)
    most = times(row.times, "T") if row.times is not None else str(_("no limit"))
    return tested, least, most, row.specimens


def _pipe(row: Any) -> Line:
    most = length(row.diameter_to) if row.diameter_to else str(_("no limit"))
    wall = length(row.wall_to) if row.wall_to else str(_("no limit"))
    return row.words, few(map(length, row.diameters)), length(row.diameter_from), most, length(row.wall_from), wall


_KSI = re.compile(r"\d+")
_INCHES = re.compile(r"\d[\d/-]* in\b(?! \[)")
NOTES = {
    "older editions": _("older editions"),
    "older editions; to 4 in": _("older editions; to 4 in"),
    "plates to 1 in by ASTM": _("plates to 1 in by ASTM"),
    "shapes": _("shapes"),
}
"""The notes of listed steels that are words; the rows stay as the table has them."""


def _steel(row: Any) -> Line:
    turns = row.changes
    if turns:
        sign = turns.partition(" ")[0]
        turns = f"t {sign.replace('<=', '≤')} {CHANGES[row.changes]}"
    where = turns or _INCHES.sub(_and_mm, str(NOTES.get(row.note, row.note))) or DASH
    return (row.group, row.specification, few(filter(None, row.grades)), where, _strength(row.fy),
            _strength(row.fu), row.mark.value)  # fmt: skip


def _strength(printed: str) -> str:
    """In both units; what the source gives in ksi alone is turned over, in round brackets.

    Example: "36 [250]" stays, "42-67" is "42–67 (290–462)".
    """
    said = printed.replace("-", "–")
    if not said or "[" in said:
        return said or DASH
    return f"{said} ({_KSI.sub(lambda found: _mpa(found[0]), said)})"


def _and_mm(inches: re.Match[str]) -> str:
    return f"{inches[0]} ({number(amount(inches[0], 'mm'))} mm)"


def _mpa(ksi: str) -> str:
    return number(CONVERSIONS["MPa"].to_si(Decimal(ksi)).quantize(Decimal(1)))


def _limit(size: Any) -> str:
    return f"≤ {length(size)}" if size is not None else str(_("above that"))


COVERED = (_("tested"), _("covered"))
TOLERATED = (_("process"), _("tolerance"))
SIZED = (_("tested"), _("covered from"), _("covered to"), _("specimens"))
PROCEDURES = (
    Layout(f"{D}.weld", "INHERITANCE", _("Kinds of weld"), COVERED,
           lambda tested, covered: (term("weld_type", tested), terms("weld_type", covered)),
           ("KINDS", Part(_("tested with partial penetration"), "PJP_COVERS"))),
    Layout(f"{D}.position", "PLATE", _("Positions, plate tests"), COVERED, _positions, ("POSITIONS",)),
    Layout(f"{D}.position", "PIPE", _("Positions, pipe tests"), COVERED, _positions, ("POSITIONS",)),
    Layout(f"{D}.thickness", "CJP_PLATE", _("Thickness, CJP grooves in plate"), SIZED, _thickness,
           ("PLATE_RULE", Part(_("from 1 in [25 mm]"), "THICK_PLATE_RULE"))),
    Layout(f"{D}.thickness", "CJP_PIPE", _("Wall, CJP grooves in pipe"), SIZED, _thickness,
           ("PIPE_RULE",)),
    Layout(f"{D}.thickness", "PJP_PLATE", _("Thickness, PJP grooves"), SIZED, _thickness, ("PJP_RULE",),
           _("Above 1 in [25 mm] the code has no row: the last one is taken, as an own reading.")),
    Layout(f"{D}.thickness", "STANDARD_PIPES", _("Standard test pipes"),
           (_("test on"), _("diameters"), _("diameter from"), _("diameter to"), _("wall from"), _("wall to")), _pipe,
           ("PIPE_RULE",)),
    Layout(f"{D}.metals", "GROUP_ROWS", _("Groups of base metals, pair by pair"),
           (_("tested"), _("covered, any steel")),
           lambda tested, covered: (pair(tested), pairs(covered)), ("PAIRS",),
           _("All other tests cover the tested steels only.")),
    Layout(f"{D}.metals", "PARTNER_ROWS", _("A steel of Group III or by test, welded to a group"),
           (_("tested to group"), _("covers it to groups")), lambda tested, groups: (tested, few(groups)),
           ("PAIRS",)),
    Layout(f"{D}.consumable", "SPECIFICATIONS", _("Filler specifications"), (_("process"), _("specification")),
           lambda one, norms: (one, few(norms)), ("SPECIFICATION",),
           _("A5.36, which 2015 and 2020 also name for GMAW and FCAW, is not entered: its classes are not known"
             " here.")),
    Layout(f"{D}.electrical", "CURRENT", _("Current"), TOLERATED, _plain, ("LINE_12",),
           _("SMAW: the filler maker's range for the diameter.")),
    Layout(f"{D}.electrical", "VOLTAGE", _("Arc voltage"), TOLERATED, _plain,
           ("LINE_16",)),
    Layout(f"{D}.electrical", "WIRE_FEED", _("Wire feed speed, where the current is not controlled"), TOLERATED,
           _plain, ("LINE_17",)),
    Layout(f"{D}.electrical", "TRAVEL", _("Travel speed"), TOLERATED, _plain, ("LINE_18", Part("SAW", "LINE_18_SAW"))),
    Layout(f"{D}.electrical", "ANGLES", _("Setting of SAW electrodes"), (_("angle"), _("line of 2015"), _("tolerance")),
           lambda name, row: (variable(name), row[0].line, f"±{number(row[1])}°"), ("LINE_24", "LINE_25", "LINE_26")),
    Layout(f"{D}.heat", "LOWER", _("Preheat and interpass below the tested"), (_("process"), _("lower by up to")),
           _plain, ("LINE_35", "LINE_36"), _("All other processes: 25 °F [15 °C].")),
    Layout("aws_d1_1.base_metal_rows", "ROWS", _("Steels by group"),
           (_("group"), _("specification"), _("grades"), _("where"), _("Fy, ksi [MPa]"), _("Fu, ksi [MPa]"),
            _("how sure")), _steel, ("aws_d1_1_prequalified.filler.METALS",),
           _("The group decides. Strengths are shown only: the certificate and the ASTM standard count. In round"
             " brackets: reckoned here, where US units alone are printed.")),
    Layout("aws_d1_1.size_rows", "FILLET", _("Least fillet, single pass"), (_("base metal"), _("least leg")),
           lambda row: (_limit(row[0]), length(row[1])), ("aws_d1_1_prequalified.sizes.FILLET_SIZE",),
           _("Low hydrogen or calculated preheat: the thinner part counts, else the thicker. No fillet need exceed the"
             " thinner part. Cyclic loading: 3/16 in [5 mm] at least.")),
    Layout("aws_d1_1.size_rows", "LOSSES", _("Deduction Z of skewed fillets, acute side"),
           (_("angle"), _("processes"), _("positions"), "Z"),
           lambda row: (f"{row.lo}° ≤ Ψ < {row.hi}°", terms("process", row.processes), in_order(row.positions, ORDER),
                        length(row.z)), ("aws_d1_1_look_ups.throats.LOSS",)),
)  # fmt: skip
