"""EN 1011-2 method B: preheat from CET, plate thickness, diffusible hydrogen and heat input (with k).

Units: CET %, mm (the single plate, the thicker one), ml/100 g, kJ/mm, °C.
"""

from collections.abc import Mapping
from decimal import Decimal

from codes.calc.calculation import Calculation, choice, optional
from codes.calc.calculation import asked as needed
from codes.calc.carbon import ANALYSIS, ASSUMED_ZERO, Analysis
from codes.calc.carbon import cet as cet_of
from codes.calc.exact import exact, kept, tanh
from codes.calc.result import Refused, Result, Working, one_of, up_to_five, within
from codes.clauses import Clause, Mark
from codes.values import number

CLAUSE = Clause(
    "EN 1011-2:2001+A1:2003",
    "C.3, eq. C.8",
    Mark.CONFIRMED,
    "public source text citing eq. C.3 to C.8; trade calculator",
)
FORMULA = "Tp = 697·CET + 160·tanh(d/35) + 62·HD^0.35 + (53·CET − 32)·Q − 328"
METHOD = "EN 1011-2 method B"
MARGIN = Decimal("0.03")
"""By so much the parent metal's CET must exceed the weld metal's to be the one that counts [%]."""
LEAST_STEEL_TEMPERATURE = Decimal(5)
RESTRAINTS: Mapping[str, str] = {
    "low": "low: parts free to move",
    "normal": "normal: stresses about the yield strength of the weld metal",
    "high": "high: hardly any freedom to move, thick parts or repair",
}


@exact
def preheat(
    thickness: Decimal,
    hydrogen: Decimal,
    heat_input: Decimal,
    cet: Decimal | None = None,
    analysis: Analysis | None = None,
    assumed_zero: tuple[str, ...] = (),
    weld_metal_cet: Decimal | None = None,
    yield_mpa: Decimal | None = None,
    restraint: str | None = None,
    ambient: Decimal = LEAST_STEEL_TEMPERATURE,
) -> Result:
    """The least preheat Tp; below ambient it means none by this method. Raises Refused outside CET 0.2..0.5, d 10..90,
    HD 1..20, Q 0.5..4.0, ReH up to 1000 MPa.

    Example: CET 0.3325, d 31.75, HD 5, Q 1.26 give 109.7 °C, printed 110.
    """
    working = Working()
    _circumstances(working, yield_mpa, restraint)
    counts = _counting_cet(working, _parent_cet(working, cet, analysis, assumed_zero), weld_metal_cet)
    within("cet" if cet is not None else "analysis", counts, "0.2", "0.5", "%", f"CET in {METHOD}")
    within("thickness", thickness, "10", "90", "mm", f"{METHOD} (the single plate, not the combined thickness)")
    within("hydrogen", hydrogen, "1", "20", "ml/100 g", METHOD)
    within("heat_input", heat_input, "0.5", "4.0", "kJ/mm", METHOD)
    total = sum(_components(working, counts, thickness, hydrogen, heat_input), Decimal(0))
    return working.result(total, "°C", CLAUSE, FORMULA, shown=_said(working, total, ambient))


def _components(
    working: Working, cet: Decimal, thickness: Decimal, hydrogen: Decimal, heat_input: Decimal
) -> tuple[Decimal, ...]:
    """The four parts of eq. C.3 to C.6, whose sum is eq. C.8; as parts they are differences of temperature."""
    slope = 53 * cet - 32
    return (
        working.step("Tp_CET", 750 * cet - 150, "K"),
        working.step("Tp_d", 160 * tanh(thickness / 35) - 110, "K"),
        working.step("Tp_HD", 62 * hydrogen ** Decimal("0.35") - 100, "K"),
        working.step("Tp_Q", slope * heat_input - slope, "K"),
    )


def _parent_cet(
    working: Working, cet_stated: Decimal | None, analysis: Analysis | None, assumed_zero: tuple[str, ...]
) -> Decimal:
    one_of("cet", cet_stated, ("analysis", analysis))
    if cet_stated is not None:
        if assumed_zero:
            raise Refused("assumed_zero", "belongs to an analysis; state the analysis or leave it out")
        return cet_stated
    return working.take(cet_of(analysis or {}, assumed_zero))


def _counting_cet(working: Working, parent: Decimal, weld: Decimal | None) -> Decimal:
    working.step("CET_parent", parent, "%")
    if weld is None:
        working.flag("CET of the weld metal not stated: taken to be at least 0.03 % below that of the parent metal")
        return working.step("CET_counting", parent, "%")
    working.step("CET_weld_metal", weld, "%")
    if parent >= weld + MARGIN:
        return working.step("CET_counting", parent, "%")
    working.flag("the weld metal governs: its CET + 0.03 % counts (C.3.2, from memory)")
    return working.step("CET_counting", weld + MARGIN, "%")


def _circumstances(working: Working, yield_mpa: Decimal | None, restraint: str | None) -> None:
    if yield_mpa is None:
        working.flag("yield strength not stated: the method holds up to 1000 MPa")
    elif yield_mpa > 1000:
        raise Refused("yield_mpa", f"{number(yield_mpa)} MPa is above 1000 MPa, the range of {METHOD}")
    working.flag("high restraint: more preheat than this is needed", when=restraint == "high")
    working.flag("restraint not stated: stresses about yield are assumed", when=restraint is None)


def _said(working: Working, found: Decimal, ambient: Decimal) -> str:
    """The printed value: up to the next 5 °C, or that no preheat is asked for."""
    if found > ambient:
        return f"{number(up_to_five(kept(found)))} °C"
    working.word("preheat", "none")
    working.flag(f"no preheat by this method (Tp not above {number(ambient)} °C); still dry and at +5 °C or more")
    return "no preheat by this method"


CALCULATIONS = (
    Calculation(
        "preheat_method_b",
        "Preheat, EN 1011-2 method B",
        "preheat",
        "°C",
        preheat,
        (
            optional("cet", "CET of the parent metal", "%", needed="no analysis"),
            optional("analysis", ANALYSIS.label, ANALYSIS.unit, ANALYSIS.help, ANALYSIS.kind, "no CET"),
            ASSUMED_ZERO,
            optional("weld_metal_cet", "CET of the weld metal", "%"),
            needed("thickness", "Plate thickness", "mm", "single plate, the thicker one"),
            needed("hydrogen", "Diffusible hydrogen", "ml/100 g", "ISO 3690, deposited metal"),
            needed("heat_input", "Heat input with k", "kJ/mm"),
            optional("yield_mpa", "Yield strength", "MPa"),
            choice("restraint", "Restraint", RESTRAINTS),
            optional("ambient", "Temperature of the steel before heating", "°C", "5 °C where not stated"),
        ),
    ),
)
