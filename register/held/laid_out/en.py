"""The tables of EN 1090-2, laid out."""

from typing import Any

from django.utils.translation import gettext_lazy as _

from codes.values import number
from register.held.laid_out.cells import DASH, few
from register.held.laid_out.layout import Layout, Line, Part

EN = "en_1090_2_2018"
CLASSES = ("EXC1", "EXC2", "EXC3", "EXC4")


def _age(row: Any) -> Line:
    allowed = str(row.steels).removeprefix("parent materials is ")
    start, end = f"{row.years} year{'s' if row.years > 1 else ''}", f"{row.until} years" if row.until else DASH
    return start, end, allowed, row.needs or str(_("a new procedure test"))


def _coordinator(row: Any) -> Line:
    steel = {True: _("up to S355"), False: _("above S355"), None: _("any")}[row.low]
    return row.execution_class, str(steel), *row.levels, row.mark.value


def _ndt(row: Any) -> Line:
    return row.weld, *(f"{share} %" for share in row.shares), few(row.editions or (_("both"),))


def _hold(row: Any) -> Line:
    size = f"{number(row.size_to)} mm" if row.size_to else str(_("any"))
    heat = f"{number(row.heat_to)} kJ/mm" if row.heat_to else str(_("any"))
    low, high = (f"{hours} h" if hours else str(_("once cold")) for hours in row.hours)
    return size, heat, low, high


def _quality(row: Any) -> Line:
    return row.execution_class, row.level, few(row.milder), row.stricter or DASH


LAYOUTS = (
    Layout(f"{EN}.age", "ROWS", _("Procedures that lay unused"),
           (_("unused for more than"), _("up to"), _("steels"), _("needed")), _age,
           ("AGE_2018", "AGE_2008")),
    Layout(f"{EN}.coordinator", "ROWS", _("Knowledge of the welding coordinator, structural carbon steels"),
           (_("execution class"), _("steels"), _("t ≤ 25 mm"), _("t ≤ 50 mm"), _("t > 50 mm"), _("how sure")),
           _coordinator, (),
           _("B basic, S specific, C comprehensive. The footnotes that ask for less are not entered.")),
    Layout(f"{EN}.quality", "QUALITY_LEVELS", _("Weld quality to ISO 5817"),
           (_("execution class"), _("level"), _("of which by level D"), _("beyond the level")), _quality,
           (Part(_("judged by level D"), "MILDER"),)),
    Layout(f"{EN}.quality", "ISO_3834_PARTS", _("Quality requirements to ISO 3834"),
           (_("execution class"), _("part")), lambda one, part: (one, part), ("ISO_3834_CLAUSE",)),
    Layout(f"{EN}.quality", "CONSEQUENCE_ROWS", _("Execution class by consequence class"),
           (_("consequence class"), _("static"), _("fatigue, or medium to high seismic")),
           lambda one, classes: (one, *classes), ("CONSEQUENCE_CLAUSE",)),
    Layout(f"{EN}.inspection", "NDT_ROWS", _("Supplementary NDT, share of weld length per lot"),
           (_("weld"), *CLASSES, _("edition")), _ndt,
           ("NDT_2018", "NDT_2008"),
           _("Every weld is examined by eye over its whole length. Large: throat above 12 mm, or thickness above 30 mm"
             " (2008: 20 mm).")),
    Layout(f"{EN}.inspection", "HOLD_ROWS", _("Time to wait before supplementary NDT"),
           (_("throat or thickness up to"), _("heat input up to"), _("S235 to S420"), _("S460 and above")), _hold,
           ("HOLD_CLAUSE",), _("The first row that fits counts.")),
)  # fmt: skip
