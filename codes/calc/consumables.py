"""Weld metal of a cross-section: mass, runs, filler to buy, arc and shift time. Units: mm², m, kg, kg/h, min."""

from collections.abc import Mapping
from decimal import ROUND_CEILING, Decimal

from codes.calc.calculation import Calculation, asked, choice, optional
from codes.calc.exact import exact
from codes.calc.result import Refused, Result, Working, not_negative, positive
from codes.clauses import Clause, Mark
from codes.values import number

HANDBOOK = "handbook of a consumables maker"
DEPOSIT = Clause("geometry", "area × density", Mark.CONFIRMED, HANDBOOK)
RUNS = Clause("geometry", "area / area of a run", Mark.CONFIRMED, HANDBOOK)
EFFICIENCY = Clause(
    "ISO 2401", "deposition efficiency", Mark.PART, f"{HANDBOOK}; labels of the middle rows from memory"
)
PLANNING = Clause("this register", "planning of time", Mark.OWN, "operating factors from memory")
STEEL = Decimal("7.85")
"""Density of steel [g/cm³]."""

# Process and gas or length of electrode -> deposited metal / filler bought [%].
EFFICIENCIES: Mapping[str, tuple[Decimal, str]] = {
    "saw": (Decimal(99), "submerged arc"),
    "gmaw_ar_o2": (Decimal(98), "solid wire, argon with oxygen"),
    "gmaw_ar_co2": (Decimal(96), "solid wire, argon with carbon dioxide"),
    "gmaw_co2": (Decimal(93), "solid wire, carbon dioxide"),
    "metal_cored": (Decimal(93), "metal-cored wire"),
    "fcaw_gas": (Decimal(86), "flux-cored wire with gas"),
    "fcaw_self_shielded": (Decimal(78), "flux-cored wire without gas"),
    "smaw_12_in": (Decimal(59), "covered electrode 300 mm (12 in), stub of 50 mm (2 in) included"),
    "smaw_14_in": (Decimal(62), "covered electrode 350 mm (14 in), stub of 50 mm (2 in) included"),
    "smaw_18_in": (Decimal(66), "covered electrode 450 mm (18 in), stub of 50 mm (2 in) included"),
}
OPERATING = {"manual": ("0.20", "0.35"), "mechanised": ("0.4", "0.6"), "robot": ("0.6", "0.9")}


def percentage(field: str, value: Decimal) -> Decimal:
    """A share in % as a factor. Raises Refused outside above 0 to 100. Example: 96 gives 0.96."""
    if not 0 < value <= 100:
        raise Refused(field, f"{number(value)} % is outside 0 to 100 %")
    return value / 100


@exact
def deposit(area: Decimal, length: Decimal | None = None, density: Decimal = STEEL) -> Result:
    """Mass per metre, and of the length [m] as a step. Example: 25 mm² of steel is 0.19625 kg/m."""
    working = Working()
    metre = (
        positive("area", area, "mm²") * working.step("density", positive("density", density, "g/cm³"), "g/cm³") / 1000
    )
    if length is not None:
        working.step("mass", metre * positive("length", length, "m"), "kg")
    return working.result(metre, "kg/m", DEPOSIT, "m = A·ρ/1000")


@exact
def runs(area: Decimal, run_area: Decimal, root_area: Decimal | None = None) -> Result:
    """Number of runs of equal area, a root run of its own area counted apart. Example: 143.16 mm² at 28 mm²: 6."""
    working = Working()
    left, root = positive("area", area, "mm²"), 0
    if root_area is not None:
        left, root = area - positive("root_area", root_area, "mm²"), 1
        not_negative("root_area", left, "mm² left for the other runs")
    count = (left / positive("run_area", run_area, "mm²")).to_integral_value(ROUND_CEILING)
    working.step("fill_runs", count)
    if count:
        working.step("area_of_each", left / count, "mm²")
    return working.result(count + root, "", RUNS, "n = ⌈A/A_run⌉")


@exact
def deposition_efficiency(
    deposited: Decimal | None = None, used: Decimal | None = None, filler: str | None = None
) -> Result:
    """Deposited metal over filler used, as weighed in one unit, else the planning value of the filler, in %.

    Example: 3 deposited of 4 used is 75 %.
    """
    working = Working()
    if filler is not None:
        if deposited is not None or used is not None:
            raise Refused("filler", "state the weighed masses or the filler, not both")
        working.flag("planning value, not weighed")
        return working.result(EFFICIENCIES[filler][0], "%", EFFICIENCY, "table")
    if deposited is None or used is None:
        raise Refused(
            "deposited" if deposited is None else "used", "must be stated, or the filler for a planning value"
        )
    share = positive("deposited", deposited) / positive("used", used)
    if share > 1:
        raise Refused("deposited", f"{number(deposited)} is more than the {number(used)} used")
    return working.result(share * 100, "%", EFFICIENCY, "DE = 100·deposited / used")


@exact
def filler_to_buy(mass: Decimal, efficiency: Decimal) -> Result:
    """Filler [kg, or kg/m from a mass per metre] for the deposited mass. Example: 0.276 at 90 % is 0.3067."""
    value = positive("mass", mass, "kg") / percentage("efficiency", efficiency)
    return Working().result(value, "kg", EFFICIENCY, "filler = m / DE")


@exact
def arc_time(mass: Decimal, deposition_rate: Decimal, operating_factor: Decimal | None = None) -> Result:
    """Minutes with the arc burning; with an operating factor (0 to 1) the minutes of the shift as a step.

    Example: 0.19625 kg at 4.5 kg/h are 2.617 min.
    """
    working = Working()
    value = positive("mass", mass, "kg") / positive("deposition_rate", deposition_rate, "kg/h") * 60
    if operating_factor is not None:
        if not 0 < operating_factor <= 1:
            raise Refused("operating_factor", f"{number(operating_factor)} is outside 0 to 1")
        working.step("shift_time", value / operating_factor, "min")
        usual = "; ".join(f"{kind} {lo} to {hi}" for kind, (lo, hi) in OPERATING.items())
        working.flag(f"operating factors are planning values: {usual} (from memory)")
    formula = "t = 60·m / DR" if operating_factor is None else "t = 60·m / DR; t of the shift = t / factor"
    return working.result(value, "min", PLANNING, formula)


@exact
def weld_metal(
    area: Decimal,
    length: Decimal,
    efficiency: Decimal,
    deposition_rate: Decimal,
    run_area: Decimal | None = None,
    operating_factor: Decimal | None = None,
    density: Decimal = STEEL,
) -> Result:
    """All of it for a weld of that length [m]: the deposited mass [kg] as the result, the rest as steps."""
    working = Working()
    mass = working.step("mass_per_length", working.take(deposit(area, None, density)), "kg/m") * positive(
        "length", length, "m"
    )
    working.step("deposited", mass, "kg")
    working.step("filler", working.take(filler_to_buy(mass, efficiency)), "kg")
    working.step("arc_time", working.take(arc_time(mass, deposition_rate, operating_factor)), "min")
    if run_area is not None:
        working.step("runs", working.take(runs(area, run_area)))
    formula = "m = A·ρ·L/1000; filler = m/DE; arc time = 60·m/DR"
    return working.result(mass, "kg", DEPOSIT, formula + ("; n = ⌈A/A_run⌉" if run_area is not None else ""))


_AREA = asked("area", "Area of weld metal", "mm²")
_DENSITY = optional("density", "Density", "g/cm³", "7.85 g/cm³, steel, where not stated")
_MASS = asked("mass", "Deposited mass", "kg")
_EFFICIENCY = asked("efficiency", "Deposition efficiency", "%")
_RATE = asked("deposition_rate", "Deposition rate", "kg/h")
_FACTOR = optional("operating_factor", "Operating factor", help="arc time / time of the shift, 0 to 1")
_RUN = "Area of a run"
CALCULATIONS = (
    Calculation(
        "deposit",
        "Deposited mass per length",
        "weld metal",
        "kg/m",
        deposit,
        (_AREA, optional("length", "Length", "m"), _DENSITY),
    ),
    Calculation(
        "runs",
        "Number of runs",
        "weld metal",
        "",
        runs,
        (_AREA, asked("run_area", _RUN, "mm²"), optional("root_area", "Area of the root run", "mm²")),
    ),
    Calculation(
        "deposition_efficiency",
        "Deposition efficiency",
        "weld metal",
        "%",
        deposition_efficiency,
        (
            optional("deposited", "Mass deposited", help="in the unit of the mass used", needed="weighed"),
            optional("used", "Mass of filler used", help="in the unit of the mass deposited", needed="weighed"),
            choice("filler", "Filler", {name: words for name, (_, words) in EFFICIENCIES.items()}, "not weighed"),
        ),
    ),
    Calculation("filler_to_buy", "Filler to buy", "weld metal", "kg", filler_to_buy, (_MASS, _EFFICIENCY)),
    Calculation("arc_time", "Arc time", "weld metal", "min", arc_time, (_MASS, _RATE, _FACTOR)),
    Calculation(
        "weld_metal",
        "Weld metal, filler, runs and time of a weld",
        "weld metal",
        "kg",
        weld_metal,
        (
            _AREA,
            asked("length", "Length", "m"),
            _EFFICIENCY,
            _RATE,
            optional("run_area", _RUN, "mm²"),
            _FACTOR,
            _DENSITY,
        ),
    ),
)
