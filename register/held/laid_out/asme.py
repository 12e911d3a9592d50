"""The tables of ASME IX, laid out."""

from decimal import Decimal
from typing import Any

from django.utils.translation import gettext_lazy as _

from codes.asme_ix_metals import ELEMENTS
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
    variables,
)
from register.held.laid_out.layout import Layout, Line

IX, PEOPLE_IX = "asme_ix_2021", "asme_ix_people_2021"
ORDER = "F H V OH"


def _listed(row: Any) -> Line:
    kinds = (DASH if kind == "-" else kind for kind in row.kinds.split())
    return f"QW-{row.paragraph}", row.subject, *kinds, variables(row.variables)


def _topic(row: Any) -> Line:
    return few(f"QW-{one}" for one in row.paragraphs), row.words, str(row.until), row.mark.value, row.source


def _multiple(size: Any, symbol: str) -> str:
    return times(size, symbol) if isinstance(size, Decimal) else length(size)


def _coupon(row: Any) -> Line:
    served = both_set(row.start, row.end, "T", row.start_in, row.end_in)
    thick = _multiple(row.thick_deposit, "T") if row.thick_deposit is not None else "2 t"
    return served, length(row.least) if row.least else "T", _multiple(row.most, "T"), "2 t", thick


def _coupon_long(row: Any) -> Line:
    return _coupon(row)[:4]


def _metal_row(row: Any) -> Line:
    group = str(row.group) if row.group else DASH
    return row.p_number, group, row.specification, few(filter(None, row.grades)), row.clause.mark.value


def _filler(row: Any) -> Line:
    ends = [f"EXX{one}" for one in row.electrode_ends] + [f"EXXX-{one}" for one in row.stainless_ends]
    return row.f_number, few([*ends, *(f"{one}…" for one in row.prefixes)])


def _deposit(row: Any) -> Line:
    return row.a_number, *row.bounds.replace("-", "–").split(), row.clause.mark.value


def _family(row: Any) -> Line:
    return few(row.members), str(_("each one only itself") if row.alone else _("all of the row")), row.clause.mark.value


def _position(row: Any) -> Line:
    covered = (row.groove, row.small_pipe, row.fillet)
    return few(row.tested), row.product, *(in_order(one, ORDER) for one in covered), row.clause.mark.value


PROCEDURES = (
    Layout(f"{IX}.edition_table", "TOPICS", _("What left the code between the editions"),
           (_("paragraph"), _("subject"), _("last edition"), _("how sure"), _("source")), _topic, ()),
    Layout(f"{IX}.listed", "LISTED", _("Variables by process"),
           (_("paragraph"), _("subject"), "SMAW", "SAW", "GMAW, FCAW", "GTAW", _("stated by")), _listed, ("LISTS",),
           _("E essential; S supplementary essential, where toughness is required; N nonessential; S/N supplementary"
             " where toughness is required, else nonessential. Lists: SMAW QW-253, SAW QW-254, GMAW and FCAW QW-255,"
             " GTAW QW-256.")),
    Layout(f"{IX}.metals", "LOWER", _("P-numbers that a tested pair covers beside itself"),
           (_("tested pair"), _("also covered")), lambda tested, also: (pair(tested), pairs(also)),
           ("PAIRS", "PAIRS_MEMORY"),
           _("The rows P4–P3 and P4–P1 are from memory. P15E to another P-number also covers P5B to it.")),
    Layout(f"{IX}.table_451", "TRANSVERSE", _("Base thickness and deposit, tension and transverse bends"),
           (_("coupon"), _("base from"), _("base to"), _("deposit to"), _("deposit of 3/4 in [19 mm] or more, to")),
           _coupon, ("thickness.TABLE",),
           _("T thickness of the coupon, t of the deposit.")),
    Layout(f"{IX}.table_451", "LONGITUDINAL", _("Base thickness and deposit, longitudinal bends"),
           (_("coupon"), _("base from"), _("base to"), _("deposit to")), _coupon_long,
           ("thickness.TABLE_LONG",)),
    Layout(f"{IX}.piece", "FAMILIES", _("Processes by their AWS name"), (_("process"), _("ISO 4063")),
           lambda one, numbers: (one, few(numbers)), ("AWS_NAMES",)),
    Layout(f"{IX}.process", "FORM_OF", _("Form of the filler by process"), (_("process"), _("form")),
           lambda process, form: (term("process", process), term("product_form", form)), ("FORM",)),
    Layout("asme_ix_tables", "P_ROWS", _("P-numbers and group numbers of base metals"),
           (_("P-number"), _("group"), _("specification"), _("grades"), _("how sure")), _metal_row, ()),
    Layout("asme_ix_tables", "F_ROWS", _("F-numbers of fillers"), (_("F-number"), _("classes")), _filler, (),
           _("Every flux-cored or metal-cored steel wire and every class of flux with wire is F6. Stainless electrodes"
             " 409, 410 and 430 with covering 15, 16 or 17 are F4.")),
    Layout("asme_ix_metals", "DEPOSITS", _("A-numbers by analysis of the deposit"),
           (_("A-number"), *(f"{one} %" for one in ELEMENTS), _("how sure")), _deposit, (),
           _("A single figure is the highest. Warns only: the A-number is stated with its evidence.")),
    Layout("asme_ix_metals", "USUAL_A_NUMBERS", _("Usual A-number of a filler class"), (_("class"), _("A-number")),
           lambda one, number: (one, number), ("QW_442",),
           _("Shown beside the field; decides nothing.")),
)  # fmt: skip

PEOPLE = (
    Layout(f"{PEOPLE_IX}.combine", "COVERS", _("Kinds of weld"), (_("tested"), _("covered")),
           lambda tested, covered: (term("weld_type", tested), terms("weld_type", covered)), ("WELD_TYPE",)),
    Layout(f"{PEOPLE_IX}.metals", "FAMILIES", _("P-numbers"), (_("tested on one of"), _("covers"), _("how sure")),
           _family, ()),
    Layout(f"{PEOPLE_IX}.metals", "F_ROWS", _("F-numbers"), (_("tested"), _("covered with backing"),
           _("covered without backing"), _("how sure")),
           lambda row: (few(row.tested), few(row.backed), few(row.open), row.clause.mark.value), ()),
    Layout(f"{PEOPLE_IX}.position_rows", "ROWS", _("Positions"),
           (_("tested"), _("on"), _("grooves in plate, and in pipe over 24 in [610 mm]"),
            _("grooves in pipe up to that"), _("fillets"), _("how sure")), _position, (),
           _("What a plate test covers on pipe, it covers from an outside diameter of 2-7/8 in [73 mm] on.")),
    Layout(f"{PEOPLE_IX}.sizes", "DIAMETER_STEPS", _("Outside diameter of grooves in pipe"),
           (_("tested above"), _("covered from")), lambda step: (length(step), length(step)), ("QW_452_3",),
           _("1 in [25 mm] and less: from the tested diameter. No upper limit.")),
)  # fmt: skip
