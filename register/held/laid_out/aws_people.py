"""The tables of AWS D1.1 on people, laid out."""

from typing import Any

from django.utils.translation import gettext_lazy as _

from codes.clauses import Clause
from register.held.laid_out.aws import COVERED, ORDER
from register.held.laid_out.cells import both_set, few, in_order, length, term, terms, times
from register.held.laid_out.layout import Layout, Line

PEOPLE_D = "aws_d1_1_people_2020"


def _person_size(row: Any) -> Line:
    tested = both_set(row.least, row.most, "T", not row.least_open, not row.most_open)
    top = length(row.top) if row.top else times(row.times, "T") if row.times else str(_("no limit"))
    return tested, length(row.lo), top


def _span(span: Any, symbol: str) -> str:
    low, high = span.least or span.over, span.most or span.under
    return both_set(low, high, symbol, span.over is None, span.under is None)


def _tube(row: Any) -> Line:
    least = f"D/2, {_('at least')} {length(row.covers_od.least)}" if row.half else _span(row.covers_od, "D")
    return _span(row.od, "D"), _span(row.wall, "T"), least, _span(row.covers_wall, "T"), row.d_clause.mark.value


def _person_position(row: Any) -> Line:
    covered = (row.groove, row.fillet, row.branch)
    clause: Clause = row.clause
    return few(row.tested), row.product, *(in_order(one, ORDER) for one in covered), clause.ref, clause.mark.value


_SIZED = (_("tested"), _("covered from"), _("covered to"))
_TUBES = (_("tested diameter"), _("tested wall"), _("diameter covered"), _("wall covered"), _("how sure"))
PEOPLE = (
    Layout(f"{PEOPLE_D}.clauses", "NUMBERS_2015", _("Numbers of the tables and clauses"), ("2020", "2015"),
           lambda new, old: (new, old), ("WHO",)),
    Layout(f"{PEOPLE_D}.person", "COVERS", _("Kinds of weld"), COVERED,
           lambda tested, covered: (term("weld_type", tested), terms("weld_type", covered)), ("WELD_TYPES",)),
    Layout(f"{PEOPLE_D}.position_rows", "ROWS", _("Positions"),
           (_("tested"), _("on"), _("grooves"), _("fillets"), _("T, Y and K joints, CJP"), _("table"), _("how sure")),
           _person_position, ()),
    Layout(f"{PEOPLE_D}.sizes", "PLATE_ROWS", _("Thickness, plate tests"), _SIZED, _person_size, ()),
    Layout(f"{PEOPLE_D}.sizes", "ELECTROSLAG_ROWS", _("Thickness, electroslag and electrogas"), _SIZED, _person_size,
           ()),
    Layout(f"{PEOPLE_D}.tubes", "PIPE_ROWS", _("Diameter D and wall T, pipe tests"), _TUBES, _tube, ("T_10_13",)),
    Layout(f"{PEOPLE_D}.tubes", "TYK_ROWS", _("Diameter D and wall T, 6GR tests"), _TUBES, _tube, ("T_10_13",)),
    Layout(f"{PEOPLE_D}.f_numbers", "ROWS", _("Groups of covered electrodes"),
           (_("group"), _("class ends in"), _("covered")),
           lambda row: (row.group, few(row.ends), few(row.covers)), ()),
)  # fmt: skip
