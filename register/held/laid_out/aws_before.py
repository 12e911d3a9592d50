"""The tables of AWS D1.1 on prequalified procedures, laid out."""

from collections.abc import Mapping
from typing import Any

from django.utils.translation import gettext_lazy as _

from codes.aws_d1_1_prequalified.preheat_rows import BANDS
from codes.values import number
from register.held.laid_out.cells import DASH, few, length, shares, variable
from register.held.laid_out.layout import Layout, Line, Part

BEFORE = "aws_d1_1_prequalified"
COLUMNS = ("SMAW", "SAW single", "SAW twin", "SAW tandem", "WIRE")
COLUMN_HEADS = ("SMAW", _("SAW, single"), _("SAW, parallel"), _("SAW, multiple"), "GMAW, FCAW")
TABLE_BANDS = tuple(f"t ≤ {band}" for band in BANDS)


def _opening(one: Any) -> str:
    if one.of_thickness:
        gap = one.of_thickness
    else:
        gap = length(one.lo) if one.lo == one.hi else f"{one.lo.us}–{one.hi.us} in [{one.lo.si}–{one.hi.si} mm]"
    angle = f", {one.angle}°" if one.angle is not None else ""
    return gap + angle + (f" ({', '.join(one.positions)})" if one.positions else "")


def _detail(row: Any) -> Line:
    low, high = row.face
    face = DASH
    if low is not None:
        face = length(low) if low == high else f"≥ {length(low)}" if high is None else (
            f"{low.us}–{high.us} in [{low.si}–{high.si} mm]"
        )  # fmt: skip
    bounds = [f"T ≤ {length(row.thickest)}"] if row.thickest else []
    bounds += [f"T ≥ {length(row.thinnest)}"] if row.thinnest else []
    joint = f"{few(_shape(one) for one in row.groove)}; {few(row.joints)}"
    return (row.name, joint, "; ".join(map(_opening, row.openings)), face, few(bounds), row.support,
            few(row.processes), _effective(row), few(row.not_entered))  # fmt: skip


def _shape(groove: str) -> str:
    """A groove as it is called. Example: "single_v" gives "single V"."""
    *words, last = groove.split("_")
    return " ".join([*words, last.upper() if len(last) == 1 else last])


def _effective(row: Any) -> str:
    if row.cjp:
        return "CJP"
    if row.size_less is None:
        return DASH
    less = "S" if row.size_less.us == "0" else f"S − {length(row.size_less)}"
    return less + ("; F, H: S" if row.level_less is not None and row.level_less.us == "0" else "")


def _by_column(found: Mapping[str, Any]) -> Line:
    """A cell for each process: a missing one may not weld there, None is no limit."""
    return tuple(
        DASH if one not in found else str(_("no limit")) if found[one] is None else length(found[one])
        for one in COLUMNS
    )


def _electrode(row: Any) -> Line:
    return row.position, row.weld, few(row.passes), *_by_column(row.sizes)


def _current(row: Any) -> Line:
    gap = {None: DASH, True: _("with"), False: _("without")}[row.root_open]
    amperes = (row.amperes.get(one) for one in COLUMNS[1:4])
    said = (str(_("no limit")) if one is None else f"{number(one)} A" for one in amperes)
    return row.weld, few(row.passes), str(gap), *said


def _layers(position: str, found: Mapping[str, Any]) -> Line:
    """SAW has cells for every position, and may be welded flat and horizontal only."""
    return _cells(position, found if position in ("F", "H") else {"WIRE": found["WIRE"]})


def _cells(position: str, found: Mapping[str, Any]) -> Line:
    return position, *_by_column(found)


def _category(table: str, title: Any, place: str = "preheat.CATEGORIES", note: Any = "") -> Layout:
    return Layout(f"{BEFORE}.preheat_rows", table, title, (_("specification"), _("grades")), _grades, (place,), note)


def _grades(specification: str, grades: Any) -> Line:
    return specification, few(grades) if grades else str(_("all listed"))


_COLUMN = dict(zip(COLUMNS, COLUMN_HEADS, strict=True))
_WIRES = {"WIRE": "GMAW", "METAL": _("GMAW, metal-cored"), "FCAW": "FCAW"}
_LIMITS = ("work.LIMITS",)
_DETAILS = ("joint.FIGURES", Part(_("processes"), "joint.NOTES"), Part(_("backing and gouging"), "joint.SUPPORT"))
_BY_POSITION = (_("position"), *COLUMN_HEADS)
_NO_CELL = _("A dash: the process may not weld there without a test of the procedure, or has no such row.")
_NOT_ALL = _(
    "From memory, notes seen. Not every detail and figure of the code is entered: one that is missing here is not"
    " thereby excluded by the code."
)
_DETAIL_HEADS = (_("detail"), _("groove, joint"), _("root opening, angle (positions)"), _("root face"),
                 _("thickness"), _("support"), _("processes"), _("effective size E"), _("not entered"))  # fmt: skip
PREQUALIFIED = (
    Layout(f"{BEFORE}.preheat_rows", "MINIMA", _("Least preheat and interpass temperature"),
           (_("category"), *TABLE_BANDS, f"t > {BANDS[-1]}"), lambda one, minima: (one, *map(str, minima)),
           (Part(_("categories A and B"), "preheat.MINIMA_A_B"), Part(_("category C"), "preheat.MINIMA_C"),
            Part(_("category D"), "preheat.MINIMA_D")),
           _("A: SMAW with other than low-hydrogen electrodes. B and C: low-hydrogen SMAW, SAW, GMAW, FCAW. D: fillers"
             " of at most 8 ml/100 g diffusible hydrogen. The thickest part at the weld counts. Parent metal below"
             " 32 °F [0 °C] is heated to 70 °F [20 °C] and held there.")),
    _category("A", _("Steels of preheat category A")),
    _category("B", _("Steels of preheat category B"),
              note=_("And those of category A; A710 Gr A above 2 in [50 mm].")),
    _category("C", _("Steels of preheat category C"), note=_("And A710 Gr A up to 2 in [50 mm].")),
    _category("D", _("Steels of preheat category D"), "preheat.MINIMA_D",
              _("With fillers of at most 8 ml/100 g diffusible hydrogen; with others they are of category B or C.")),
    Layout("aws_d1_1_look_ups.matching", "CLASSES", _("Matching filler classes"),
           (_("group"), "SMAW", "SAW", "GMAW", "FCAW"), lambda group, by: (group, *by.values()),
           ("MATCH",)),
    Layout(f"{BEFORE}.filler", "CLASSIFICATION", _("Gas that a filler is classified with"),
           (_("wire"), _("letter"), _("gas")), lambda key, gas: (str(_WIRES[key[0]]), key[1], shares(gas)),
           ("GASES",)),
    Layout(f"{BEFORE}.filler", "REMEMBERED", _("Gases of prequalified procedures"), (_("wire"), _("gases")),
           lambda wire, gases: (str(_WIRES[wire]), "; ".join(map(shares, gases))),
           ("GASES",),
           _("Counts only where the firm sets this reading: else the gas of the filler's classification does, or one on"
             " the filler maker's certificate.")),
    Layout(f"{BEFORE}.table_5_1", "ELECTRODES", _("Largest electrode"),
           (_("position"), _("weld"), _("passes"), *COLUMN_HEADS), _electrode, _LIMITS,
           _("SMAW, vertical and overhead: EXX14 and low-hydrogen electrodes up to 5/32 in [4.0 mm] only. A dash: the"
             " process may not weld there without a test of the procedure, or has no such row.")),
    Layout(f"{BEFORE}.table_5_1", "CURRENTS", _("Greatest current of SAW"),
           (_("weld"), _("passes"), _("root opening"), *COLUMN_HEADS[1:4]), _current, _LIMITS,
           _("SMAW, GMAW and FCAW: the range of the filler maker.")),
    Layout(f"{BEFORE}.table_5_1", "ROOT_PASS", _("Thickest root pass"), _BY_POSITION, _cells, _LIMITS, _NO_CELL),
    Layout(f"{BEFORE}.table_5_1", "FILL_PASS", _("Thickest fill pass"), (_("process"), _("thickness up to")),
           lambda one, size: (str(_COLUMN[one]), str(_("no limit")) if size is None else length(size)), _LIMITS),
    Layout(f"{BEFORE}.table_5_1", "SINGLE_PASS_FILLET", _("Largest fillet in one pass"), _BY_POSITION, _cells, _LIMITS,
           _NO_CELL),
    Layout(f"{BEFORE}.table_5_1", "LAYER_WIDTH", _("Widest layer that need not be split"), _BY_POSITION, _layers,
           ("work.SPLIT", Part("GMAW, FCAW", "work.SPLIT_WIRE")),
           _("Above a root opening of 1/2 in [12 mm] layers are split whatever their width; parallel SAW electrodes may"
             " be displaced sideways instead. A dash: the process may not weld there without a test of the procedure,"
             " or has no such row.")),
    Layout(f"{BEFORE}.tolerances", "ANGLES", _("Setting of SAW electrodes"), (_("angle"), _("tolerance")),
           lambda name, degrees: (variable(name), f"±{degrees}°"),
           ("AROUND",)),
    Layout(f"{BEFORE}.detail_rows", "CJP_DETAILS", _("Joint details, complete penetration"), _DETAIL_HEADS, _detail,
           _DETAILS, _NOT_ALL),
    Layout(f"{BEFORE}.detail_rows", "PJP_DETAILS", _("Joint details, partial penetration"), _DETAIL_HEADS, _detail,
           _DETAILS, _NOT_ALL),
    Layout(f"{BEFORE}.detail_rows", "FIT_UP_OPENING", _("Root opening as fitted up"),
           (_("support"), _("below the detail"), _("above the detail")),
           lambda support, ends: (support, *map(length, ends)), ("joint.FIGURES",)),
)  # fmt: skip
