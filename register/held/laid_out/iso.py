"""The tables of ISO 9606-1, ISO 14732 and ISO 15614-1, laid out."""

from typing import Any

from django.utils.translation import gettext_lazy as _

from codes.iso_15614_1_2017.hardness import HARDNESS, HARDNESS_1_2
from register.held.laid_out.cells import DASH, band, end, few, pair, pairs, term, terms, times, variables
from register.held.laid_out.layout import Layout, Line, Part, Stands

P9606, P14732, P15614 = "iso_9606_1_2012", "iso_14732_2013", "iso_15614_1_2017"
COVERED = (_("tested"), _("covered"))


def _covers(kind: str = "") -> Any:
    """A line of a table tested -> covered, its terms in words."""

    def line(row: Any) -> Line:
        tested = (row.tested,) if isinstance(row.tested, str) else row.tested
        return terms(kind, tested), terms(kind, row.covers)

    return line


def _to(kind: str) -> Any:
    return lambda tested, covered: (term(kind, tested), terms(kind, covered))


def _weld(tested: str, covered: Any) -> Line:
    said = str(_("butt weld, full penetration, of a T-joint")) if tested == "tee" else term("weld_type", tested)
    return said, terms("weld_type", covered)


def _position(row: Any) -> Line:
    return terms("position", (row.tested,)), few(row.products), few(row.covers)


def _person_size(symbol: str) -> Any:
    return lambda row: (band(row.tested, symbol), end(row.lo, symbol), end(row.hi, symbol))


def _layered(row: Any) -> Line:
    return *_person_size("s")(row), str(row.layers or DASH)


def _own_dash(row: Any, symbol: str) -> Line:
    if row.dash:
        return band(row.serves, symbol), str(_("nothing")), DASH
    return band(row.serves, symbol), end(row.lo, symbol), end(row.hi, symbol)


def _size(symbol: str) -> Any:
    return lambda row: _own_dash(row, symbol)


def _deposit(row: Any) -> Line:
    most = times(row.hi.times, row.of) if row.hi.times else f"{row.hi.least} mm"
    return band(row.serves_t, "t"), band(row.serves_s, "s"), most


def _hardness(row: Any) -> Line:
    where = HARDNESS_1_2 if row.confirmed else HARDNESS
    return few(row.groups), str(row.as_welded or DASH), str(row.heat_treated), where.mark.value


T1, T7 = "ISO 15614-1:2017, 8.3.2", "ISO 15614-1:2017, 8.3.2, Table 7"
FROM_TO = (_("covered from"), _("covered to"))
LAYERED = (*FROM_TO, _("least layers"))

PEOPLE = (
    Layout(f"{P9606}.process", "PROCESS_ROWS", _("Processes"), COVERED, _covers("process"), ()),
    Layout(f"{P9606}.filler", "GROUP_ROWS", _("Filler groups"), COVERED, _covers(), ()),
    Layout(f"{P9606}.filler", "CLASSIFIED_BY", _("Filler groups by classification"), (_("group"), _("classified to")),
           lambda group, norms: (group, few(norms)), ("TABLE_2",)),
    Layout(f"{P9606}.filler", "COVERING_ROWS", _("Coverings of electrodes"), COVERED, _covers(), ()),
    Layout(f"{P9606}.filler", "WIRE_ROWS", _("Solid and cored wires"), COVERED, _covers(), ()),
    Layout(f"{P9606}.thickness", "BUTT_ROWS", _("Deposited thickness s of butt welds"), (_("tested"), *LAYERED),
           _layered, (), _("The first row that fits counts: without 3 recorded layers, 2 s.")),
    Layout(f"{P9606}.thickness", "GAS_ROWS", _("Deposited thickness s of butt welds, process 311"),
           (_("tested"), *FROM_TO), _person_size("s"), ()),
    Layout(f"{P9606}.thickness", "FILLET_ROWS", _("Material thickness t of fillet welds"), (_("tested"), *FROM_TO),
           _person_size("t"), ()),
    Layout(f"{P9606}.product", "DIAMETER_ROWS", _("Outside diameter D of pipes"), (_("tested"), *FROM_TO),
           _person_size("D"), ()),
    Layout(f"{P9606}.position", "BUTT_ROWS", _("Positions of butt welds"),
           (_("tested"), _("on"), _("covered")), _position, ()),
    Layout(f"{P9606}.position", "FILLET_ROWS", _("Positions of fillet welds"),
           (_("tested"), _("on"), _("covered")), _position, (),
           _("PC stands in the row of PH only where the firm sets that reading: else PH does not cover it.")),
    Layout(f"{P9606}.position", "PAIRS", _("Two positions that count as one"), (_("tested"), _("counts as")),
           lambda tested, one: (few(tested), one),
           (Part(_("two pipes of one diameter"), "TWO_PIPES"), Part(_("one pipe from 150 mm"), "ONE_PIPE"))),
    Layout(f"{P9606}.detail", "BACKING_ROWS", _("Sides and backing"), COVERED, _covers("weld_detail"), ()),
    Layout(f"{P9606}.detail", "RUN_ROWS", _("Single and multi run"), COVERED, _covers("run_type"), ()),
    Layout(f"{P9606}.designation_tokens", "MODES", _("Letters of the transfer modes"), (_("letter"), _("mode")),
           lambda letter, mode: (letter, mode), ("MODE_LETTERS",)),
)  # fmt: skip

OPERATORS = (
    Layout(f"{P14732}.common", "ROLE_ROWS", _("Operator and setter"), COVERED, _to("role"), ("ROLE",)),
    Layout(f"{P14732}.common", "RUN_ROWS", _("Single and multi run"), COVERED, _to("run_type"), ("RUNS",)),
    Layout(f"{P14732}.mechanised", "BACKING_STRICT", _("Sides and backing of mechanised welding"), COVERED,
           _to("weld_detail"), ("BACKING",)),
)  # fmt: skip

_LEVEL_2 = ("thickness.TABLE_7",)
_TABLE_8 = ("deposit.TABLE_8", Stands(f"{T1}, Table 8, 3 to 30 mm", "deposit.TABLE_8_MIDDLE"))
_SIZE = (_("tested"), *FROM_TO)
PROCEDURES = (
    Layout(f"{P15614}.table_5", "PARTNERS", _("Groups of steels, pair by pair"), (_("tested pair"), _("covered pairs")),
           lambda tested, covered: (pair(tested), pairs(covered)),
           ("steels.GROUPS",),
           _("Groups 10 and 11 and the sub-group notes are from memory. Groups 1 to 3: yield strength no higher than"
             " tested (note a). Groups 4 to 6, 8, 9 and 11: the tested sub-group and lower ones. Groups 7 and 10: the"
             " tested sub-group alone.")),
    Layout(f"{P15614}.table_7", "BUTT_LEVEL_1", _("Parent thickness t, level 1"), _SIZE, _size("t"), _LEVEL_2),
    Layout(f"{P15614}.table_7", "LEVEL_1_IMPACT_MINIMUM",
           _("Least parent thickness at level 1 where impact properties are required"), (_("tested"), *FROM_TO),
           _size("t"), ("thickness.LEVEL_1_IMPACT",),
           _("The larger of this and of the table of level 1 counts.")),
    Layout(f"{P15614}.table_7", "BUTT_SINGLE_RUN", _("Parent thickness t of butt welds, level 2, single run"), _SIZE,
           _size("t"), (*_LEVEL_2, Stands(f"{T7}, single run above 40 mm", "thickness.TABLE_7_DASH")),
           _("Where the two ends cross, the test covers nothing.")),
    Layout(f"{P15614}.table_7", "BUTT_MULTI_RUN", _("Parent thickness t of butt welds, level 2, multi run"), _SIZE,
           _size("t"), _LEVEL_2,
           _("Without impact tests, a test of more than 3 and up to 12 mm serves joints with impact requirements up to"
             " 12 mm, a thicker one none (note a).")),
    Layout(f"{P15614}.table_7", "DEPOSIT", _("Deposited thickness s per process"),
           (_("tested, parent"), _("tested, deposit"), _("covered to")), _deposit,
           ("deposit.DEPOSITED",)),
    Layout(f"{P15614}.table_7", "FILLET_THICKNESS_STRICT",
           _("Parent thickness t of fillet welds, level 2, read as in 2004"), _SIZE,
           _size("t"), _TABLE_8, _("Counts only where the firm sets this reading.")),
    Layout(f"{P15614}.table_7", "FILLET_THICKNESS_WIDE", _("Parent thickness t of fillet welds, level 2"),
           _SIZE, _size("t"), _TABLE_8, _("Counts unless the firm reads the rule as in 2004.")),
    Layout(f"{P15614}.table_7", "THROAT_SINGLE_RUN", _("Throat a of fillet welds, level 2, single run"), _SIZE,
           _size("a"), ("deposit.TABLE_8",), _("Multi run: no limit.")),
    Layout(f"{P15614}.table_7", "DIAMETER", _("Outside diameter D of pipes and branches, level 2"), _SIZE, _size("D"),
           ("size.TABLE_9",)),
    Layout(f"{P15614}.joint", "COVERED_WELDS", _("Kinds of weld"), COVERED, _weld, ("JOINT", "TEE")),
    Layout(f"{P15614}.joint", "COVERED_SIDES", _("Sides and backing"), COVERED, _to("weld_detail"),
           ("SIDES", "BOTH_SIDES", "BACKING_AT_1")),
    Layout(f"{P15614}.hardness", "TABLE_3", _("Highest hardness, HV10"),
           (_("groups"), _("as welded"), _("heat-treated"), _("how sure")), _hardness,
           ("HARDNESS_1_2", "HARDNESS"), _("Groups 7, 8, 10 and 11 are not entered.")),
    Layout(f"{P15614}.gas", "VARYING", _("Shielding gases to ISO 14175 with shares that the symbol leaves open"),
           (_("symbol"), _("judged by share")), lambda symbol, parts: (symbol, variables(parts)),
           ("METAL_ARC", Part(_("CO2 content"), "METAL_ARC_CO2"), "TUNGSTEN", "PLASMA", "BACKING"),
           _("Shares in % by volume. A component that the symbol does not hold stays at 0.1 % or below.")),
    Layout(f"{P15614}.gas", "BALANCE", _("Component that makes up the balance"), (_("symbol"), _("balance")),
           lambda symbol, part: (symbol, variables((part,) if isinstance(part, str) else part)), ("METAL_ARC",)),
)  # fmt: skip
