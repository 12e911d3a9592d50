"""EN 1011-2 method A: Table C.1, and the graphs of Figure C.2 as the firm's own coordinator has digitised them.

The curves have no published equation. Points entered and signed by the coordinator are interpolated between and never
left; without them the method refuses. Units: CE %, ml/100 g, kJ/mm (with k), mm combined thickness, °C.
"""

from decimal import Decimal
from itertools import pairwise

from codes.calc.calculation import Calculation, Kind, asked, optional
from codes.calc.exact import exact, kept
from codes.calc.inputs import Line
from codes.calc.result import AT_MOST, Refused, Result, Working, positive, within
from codes.clauses import Clause, Mark
from codes.values import number

METHOD = "EN 1011-2 method A"
TABLE_C1 = Clause("EN 1011-2:2001", "C.2, Table C.1", Mark.CONFIRMED, "reprint of BS EN 1011-2:2001, page 17")
FIGURE_C2 = Clause("EN 1011-2:2001", "C.2, Figure C.2", Mark.OWN, "points read off by the firm's welding coordinator")
SCALES = (("A", 15), ("B", 10), ("C", 5), ("D", 3), ("E", 0))
"""Hydrogen scale (Table C.2) and the content [ml/100 g] that it lies above."""

# Columns (CE, Q); rows by hydrogen scale: greatest combined thickness [mm] that needs no preheat.
COLUMNS_CE = (Decimal("0.43"), Decimal("0.49"))
COLUMNS_Q = (Decimal("1.0"), Decimal("2.0"))
ROWS = {
    "A": {("0.49", "1.0"): 25, ("0.49", "2.0"): 50, ("0.43", "1.0"): 40, ("0.43", "2.0"): 80},
    "B": {("0.49", "1.0"): 30, ("0.49", "2.0"): 55, ("0.43", "1.0"): 50, ("0.43", "2.0"): 90},
    "C": {("0.49", "1.0"): 35, ("0.49", "2.0"): 65, ("0.43", "1.0"): 60, ("0.43", "2.0"): 100},
    "D": {("0.49", "1.0"): 50, ("0.49", "2.0"): 100, ("0.43", "1.0"): 100, ("0.43", "2.0"): 100},
    "E": {("0.49", "1.0"): 60, ("0.49", "2.0"): 100, ("0.43", "1.0"): 100, ("0.43", "2.0"): 100},
}


def hydrogen_scale(hydrogen: Decimal) -> str:
    """Scale A to E of Table C.2. Raises Refused at 0 or less. Example: 5 is D, 5.1 is C."""
    positive("hydrogen", hydrogen, "ml/100 g")
    return next(scale for scale, above in SCALES if hydrogen > above)


@exact
def thickness_without_preheat(
    carbon_equivalent: Decimal, hydrogen: Decimal, heat_input: Decimal, combined_thickness: Decimal | None = None
) -> Result:
    """The greatest combined thickness [mm] that needs no preheat: the column of the next higher CE and next lower Q.

    Raises Refused above CE 0.49 and below 1.0 kJ/mm. Example: CE 0.46, 8 ml/100 g, 1.4 kJ/mm give 35 mm.
    """
    working = Working()
    within("carbon_equivalent", carbon_equivalent, "0.30", "0.49", "%", f"{METHOD}, Table C.1")
    if heat_input < COLUMNS_Q[0]:
        raise Refused(
            "heat_input", f"{number(heat_input)} kJ/mm is below 1.0 kJ/mm, the least of Table C.1; use the graphs"
        )
    scale = working.word("hydrogen_scale", hydrogen_scale(hydrogen))
    column_ce = working.step("column_CE", next(ce for ce in COLUMNS_CE if ce >= carbon_equivalent), "%")
    column_q = working.step("column_Q", next(q for q in reversed(COLUMNS_Q) if q <= heat_input), "kJ/mm")
    limit = Decimal(ROWS[scale][(str(column_ce), str(column_q))])
    working.flag("between columns the next higher CE and the next lower heat input are read, never interpolated")
    if combined_thickness is not None:
        positive("combined_thickness", combined_thickness, "mm")
        enough = combined_thickness <= limit
        working.word("preheat", "none by Table C.1" if enough else "needed; the amount is read from the graphs")
    formula = "Table C.1: greatest combined thickness without preheat"
    return working.result(limit, "mm", TABLE_C1, formula, rounding=AT_MOST)


@exact
def preheat(
    graph_ce: Decimal,
    graph_scale: str,
    lines: tuple[Line, ...],
    carbon_equivalent: Decimal,
    hydrogen: Decimal,
    combined_thickness: Decimal,
    heat_input: Decimal,
) -> Result:
    """The least preheat whose line asks for no more heat input than there is, at this combined thickness.

    `graph_ce`, `graph_scale`: the CE up to which the graph serves, and for which hydrogen scale. `lines`: per preheat
    the points (combined thickness, least heat input). Raises Refused outside the points entered.
    """
    working = Working()
    _graph_serves(working, graph_ce, graph_scale.upper(), carbon_equivalent, hydrogen)
    heats = [heat for _, points in lines for _, heat in points]
    if not heats:
        raise Refused("lines", "no points are entered; read them off the graph and have the coordinator sign them")
    if not min(heats) <= heat_input <= max(heats):
        ends = f"{number(min(heats))} to {number(max(heats))} kJ/mm"
        raise Refused("heat_input", f"{number(heat_input)} kJ/mm is outside {ends}, the points entered")
    asked_heats = _heats_at(working, lines, combined_thickness)
    enough = [line for line, heat in asked_heats if heat <= heat_input]
    if not enough:
        hottest = max(line for line, _ in asked_heats)
        raise Refused("heat_input", f"too low even at {number(hottest)} °C, the hottest line entered at this thickness")
    working.flag("from points entered by the firm; no line is read between two preheats")
    return working.result(min(enough), "°C", FIGURE_C2, "line of least preheat with Q(line, combined thickness) ≤ Q")


def _graph_serves(working: Working, graph_ce: Decimal, graph_scale: str, ce: Decimal, hydrogen: Decimal) -> None:
    within("carbon_equivalent", ce, "0.30", "0.70", "%", METHOD)
    scales = [scale for scale, _ in SCALES]
    if graph_scale not in scales:
        raise Refused("graph_scale", f"must be one of {', '.join(scales)}")
    if ce > graph_ce:
        raise Refused(
            "carbon_equivalent", f"{number(ce)} % is above {number(graph_ce)} %, up to which the graph serves"
        )
    scale = working.word("hydrogen_scale", hydrogen_scale(hydrogen))
    if scales.index(scale) < scales.index(graph_scale):
        raise Refused("hydrogen", f"scale {scale} holds more hydrogen than scale {graph_scale} of the graph")


def _heats_at(working: Working, lines: tuple[Line, ...], thickness: Decimal) -> list[tuple[Decimal, Decimal]]:
    """(preheat, least heat input) of each line that is entered at this thickness."""
    found = []
    for preheat_c, points in lines:
        heat = interpolated(points, thickness)
        if heat is not None:
            working.step(f"least_heat_input_at_{number(preheat_c)}_°C", heat, "kJ/mm")
            found.append((preheat_c, heat))
    if not found:
        spans = [x for _, points in lines for x, _ in points]
        ends = f"{number(min(spans))} to {number(max(spans))} mm"
        raise Refused("combined_thickness", f"{number(kept(thickness))} mm lies on no line entered; they span {ends}")
    return found


def interpolated(points: tuple[tuple[Decimal, Decimal], ...], x: Decimal) -> Decimal | None:
    """The y at x, straight between the two neighbouring points; None outside them. Raises Refused for a repeated x.

    Example: between (40, 1) and (60, 2) the y at 50 is 1.5; at 60.1 there is none.
    """
    ordered = sorted(points)
    for (x1, y1), (x2, y2) in pairwise(ordered):
        if x1 == x2:
            raise Refused("lines", f"two points of one line stand at {number(x1)} mm")
        if x1 <= x <= x2:
            return y1 + (y2 - y1) * (x - x1) / (x2 - x1)
    return next((y for at, y in ordered if at == x), None)


_CASE = (
    asked("carbon_equivalent", "Carbon equivalent CE", "%", "IIW formula"),
    asked("hydrogen", "Diffusible hydrogen", "ml/100 g", "ISO 3690, deposited metal"),
    asked("heat_input", "Heat input with k", "kJ/mm"),
)
CALCULATIONS = (
    Calculation(
        "preheat_method_a_table",
        "Combined thickness without preheat, EN 1011-2 method A",
        "preheat",
        "mm",
        thickness_without_preheat,
        (*_CASE, optional("combined_thickness", "Combined thickness", "mm")),
    ),
    Calculation(
        "preheat_method_a",
        "Preheat, EN 1011-2 method A by the firm's own points",
        "preheat",
        "°C",
        preheat,
        (
            asked("graph_ce", "CE up to which the graph serves", "%"),
            asked("graph_scale", "Hydrogen scale of the graph", help="A, B, C, D or E", kind=Kind.TEXT),
            asked("lines", "Points entered", help="per preheat: (combined thickness, heat input)", kind=Kind.LINES),
            *_CASE,
            asked("combined_thickness", "Combined thickness", "mm"),
        ),
    ),
)
