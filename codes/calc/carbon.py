"""Carbon equivalents of an analysis in mass %. An element that is not stated is unknown, never nought in silence.

Each formula is a table of the elements with their divisors. An element that the formula needs must be stated, or named
in `assumed_zero`; the result then says so.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from codes.calc.calculation import Calculation, Kind, asked, optional
from codes.calc.exact import exact, tanh
from codes.calc.result import Refused, Result, Working, not_negative
from codes.clauses import Clause, Mark
from codes.values import number

Analysis = Mapping[str, Decimal]
Box = Mapping[str, tuple[str, str]]

_USUAL = ("C", "Si", "Mn", "P", "S", "Cr", "Mo", "Ni", "Cu", "V", "Nb", "Ti", "B", "N", "Al")
ELEMENTS = frozenset((*_USUAL, "W", "Co", "Zr", "As", "Sn", "Pb", "Ca", "Sb", "Ta", "H", "O"))
"""What a steel certificate may state."""


@dataclass(frozen=True, slots=True)
class Equivalent:
    """A sum of elements over divisors. `strict`: an element outside its box is refused, else only flagged.

    `limits`: where tables that are read with it change column; it is never printed across or onto one.
    """

    name: str
    divisors: Mapping[str, Decimal]
    clause: Clause
    formula: str
    box: Box
    strict: bool = False
    limits: tuple[Decimal, ...] = ()


def _at(*limits: str) -> tuple[Decimal, ...]:
    return tuple(map(Decimal, limits))


def _over(**divisors: str) -> dict[str, Decimal]:
    return {element: Decimal(divisor) for element, divisor in divisors.items()}


CE_BOX = {
    "C": ("0.05", "0.25"),
    "Si": ("0", "0.8"),
    "Mn": ("0", "1.7"),
    "Cr": ("0", "0.9"),
    "Cu": ("0", "1.0"),
    "Ni": ("0", "2.5"),
    "Mo": ("0", "0.75"),
    "V": ("0", "0.20"),
}
CET_BOX = {
    "C": ("0.05", "0.32"),
    "Si": ("0", "0.8"),
    "Mn": ("0.5", "1.9"),
    "Cr": ("0", "1.5"),
    "Cu": ("0", "0.7"),
    "Mo": ("0", "0.75"),
    "Nb": ("0", "0.06"),
    "Ni": ("0", "2.5"),
    "Ti": ("0", "0.12"),
    "V": ("0", "0.18"),
    "B": ("0", "0.005"),
}
CE = Equivalent(
    "CE",
    _over(C="1", Mn="6", Cr="5", Mo="5", V="5", Ni="15", Cu="15"),
    Clause(
        "EN 1011-2:2001",
        "C.2.1, CE (IIW)",
        Mark.CONFIRMED,
        "a pressure-equipment site on carbon equivalents (ped-online.com); composition box from memory",
    ),
    "CE = C + Mn/6 + (Cr+Mo+V)/5 + (Ni+Cu)/15",
    CE_BOX,
    limits=_at("0.30", "0.43", "0.49", "0.70"),
)
CE_D11 = Equivalent(
    "CE of D1.1",
    _over(C="1", Mn="6", Si="6", Cr="5", Mo="5", V="5", Ni="15", Cu="15"),
    Clause("AWS D1.1:2020", "Annex B, hardness control", Mark.CONFIRMED, "welding institute FAQ on carbon equivalents"),
    "CE = C + (Mn+Si)/6 + (Cr+Mo+V)/5 + (Ni+Cu)/15",
    {},
)
CET = Equivalent(
    "CET",
    _over(C="1", Mn="10", Mo="10", Cr="20", Cu="20", Ni="40"),
    Clause(
        "EN 1011-2:2001", "C.3.2.1, CET", Mark.CONFIRMED, "trade page on carbon equivalents and their composition box"
    ),
    "CET = C + (Mn+Mo)/10 + (Cr+Cu)/20 + Ni/40",
    CET_BOX,
    strict=True,
    limits=_at("0.2", "0.5"),
)
PCM = Equivalent(
    "Pcm",
    _over(C="1", Si="30", Mn="20", Cu="20", Cr="20", Ni="60", Mo="15", V="10", B="0.2"),
    Clause("AWS D1.1:2020", "Annex B, Pcm (Ito-Bessyo)", Mark.CONFIRMED, "welding institute FAQ on carbon equivalents"),
    "Pcm = C + Si/30 + (Mn+Cu+Cr)/20 + Ni/60 + Mo/15 + V/10 + 5B",
    {},
    limits=_at("0.18", "0.23", "0.28", "0.33", "0.38"),
)
CEN = Equivalent(
    "CEN",
    _over(Si="24", Mn="6", Cu="15", Ni="20", Cr="5", Mo="5", Nb="5", V="5", B="0.2"),
    Clause("JIS B 8285", "CEN (Yurioka)", Mark.CONFIRMED, "trade page and welding institute FAQ on carbon equivalents"),
    "CEN = C + A(C)·[Si/24 + Mn/6 + Cu/15 + Ni/20 + (Cr+Mo+Nb+V)/5 + 5B]; A(C) = 0.75 + 0.25·tanh(20(C − 0.12))",
    {},
)
MOST_PLACES = 8
LOW_CARBON = Decimal("0.12")
"""Above this carbon content [%] Pcm is less apt."""


PLACES, IN_WORKING = 2, 3
"""Places of a carbon equivalent: as the codes print it, and where it is worked with."""


def equivalent_words(value: Decimal, places: int = PLACES, limits: tuple[Decimal, ...] = ()) -> str:
    """A carbon equivalent in words: two places, three in working, and never rounded across or onto a limit.

    Example: 0.40693 gives "0.41 %"; 0.4512 against a limit of 0.45 gives "0.451 %".
    """
    shown = value.quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP)
    across = any((shown > limit, shown < limit) != (value > limit, value < limit) for limit in limits)
    return equivalent_words(value, places + 1, limits) if across and places < MOST_PLACES else f"{shown} %"


@exact
def equivalent(kind: Equivalent, analysis: Analysis, assumed_zero: tuple[str, ...] = ()) -> Result:
    """The sum of a formula. Raises Refused for an element not stated, or one outside a strict box.

    Example: CE of C 0.15, Mn 1.2, Cr 0.1, Mo 0.05, V 0.02, Ni 0.5, Cu 0.2 is 0.43066...
    """
    working = Working()
    full = _complete(working, kind, analysis, assumed_zero)
    _check_box(working, kind, full)
    total = sum((_part(working, element, full[element] / over) for element, over in kind.divisors.items()), Decimal(0))
    high_carbon = kind.name == "Pcm" and full["C"] > LOW_CARBON
    working.flag(f"C {number(full['C'])} % is above 0.12 %: Pcm is best for low carbon", when=high_carbon)
    return working.result(total, "%", kind.clause, kind.formula, shown=equivalent_words(total, limits=kind.limits))


def _part(working: Working, element: str, share: Decimal) -> Decimal:
    return working.step(f"part_of_{element}", share, "%")


def _complete(
    working: Working, kind: Equivalent, analysis: Analysis, assumed_zero: tuple[str, ...]
) -> dict[str, Decimal]:
    """The analysis with the elements that the reader allows to be nought. Raises Refused for unknown ones."""
    for element, share in analysis.items():
        if element not in ELEMENTS:
            raise Refused(f"analysis.{element}", "is not an element that a steel certificate states")
        not_negative(f"analysis.{element}", share, "%")
        if share >= 100:
            raise Refused(f"analysis.{element}", f"{number(share)} % is not a mass percentage below 100")
    assumed = [element.capitalize() for element in assumed_zero]
    if "C" in assumed or analysis.get("C") == 0:
        raise Refused("analysis.C", "carbon is never taken as nought: every steel has some; state it")
    for element in assumed:
        if element not in ELEMENTS:
            raise Refused("assumed_zero", f"{element} is not an element that a steel certificate states")
        if element in analysis:
            raise Refused(
                "assumed_zero", f"{element} is stated as {number(analysis[element])} %; take it out of the list"
            )
    needed = ["C", *kind.divisors]
    unknown = list(dict.fromkeys(e for e in needed if e not in analysis and e not in assumed))
    if unknown:
        names = ", ".join(unknown)
        raise Refused("analysis", f"{kind.name} needs {names}, not stated; state them or name them in assumed_zero")
    used = [element for element in assumed if element in needed]
    working.flag(f"{', '.join(used)} assumed 0", when=bool(used))
    return dict(analysis) | dict.fromkeys(used, Decimal(0))


def _check_box(working: Working, kind: Equivalent, analysis: Analysis) -> None:
    """Raises Refused (strict box) or flags where an element lies outside the composition the formula is made for."""
    unknown = [element for element in kind.box if element not in analysis]
    working.flag(f"{', '.join(unknown)} not stated: not known to lie within the composition box", when=bool(unknown))
    for element, (lo, hi) in kind.box.items():
        share = analysis.get(element)
        if share is not None and not Decimal(lo) <= share <= Decimal(hi):
            told = (
                f"{element} {number(share)} % is outside {lo} to {hi} %, the composition that {kind.clause} is made for"
            )
            if kind.strict:
                raise Refused(f"analysis.{element}", told)
            working.flag(told)


def carbon_equivalent(analysis: Analysis, assumed_zero: tuple[str, ...] = ()) -> Result:
    """CE (IIW, CEV); outside its composition box or CE 0.30 to 0.70 it is flagged, and method A then refuses."""
    return equivalent(CE, analysis, assumed_zero)


def carbon_equivalent_d11(analysis: Analysis, assumed_zero: tuple[str, ...] = ()) -> Result:
    """CE with Si/6, for the hardness control of AWS D1.1 only."""
    return equivalent(CE_D11, analysis, assumed_zero)


def cet(analysis: Analysis, assumed_zero: tuple[str, ...] = ()) -> Result:
    """CET of EN 1011-2 method B. Example: C 0.18, Mn 1.40, Cu 0.20, Ni 0.10, Mo and Cr assumed 0 give 0.3325."""
    return equivalent(CET, analysis, assumed_zero)


def pcm(analysis: Analysis, assumed_zero: tuple[str, ...] = ()) -> Result:
    """Pcm for the hydrogen control of AWS D1.1."""
    return equivalent(PCM, analysis, assumed_zero)


@exact
def cen(analysis: Analysis, assumed_zero: tuple[str, ...] = (), factor: Decimal | None = None) -> Result:
    """CEN; `factor` stands in for A(C) where a code sets it. Example: with factor 1 the bracket counts in full."""
    working = Working()
    bracket = working.step("bracket", working.take(equivalent(CEN, analysis, assumed_zero)), "%")
    carbon = analysis.get("C", Decimal(0))
    if factor is None:
        factor = working.take(cen_factor(carbon))
    working.step("A(C)", factor)
    value = carbon + factor * bracket
    return working.result(value, "%", CEN.clause, CEN.formula, shown=equivalent_words(value))


@exact
def cen_factor(carbon: Decimal) -> Result:
    """A(C) of CEN. Example: C 0.12 % gives 0.75."""
    if not_negative("carbon", carbon, "%") >= 100:
        raise Refused("carbon", f"{number(carbon)} % is not a mass percentage below 100")
    value = Decimal("0.75") + Decimal("0.25") * tanh(20 * (carbon - Decimal("0.12")))
    return Working().result(value, "", CEN.clause, "A(C) = 0.75 + 0.25·tanh(20(C − 0.12))")


ANALYSIS = asked("analysis", "Analysis", "%", "element: mass %, product analysis before ladle analysis", Kind.ANALYSIS)
ASSUMED_ZERO = optional(
    "assumed_zero", "Elements taken as nought", help="elements that the certificate does not state", kind=Kind.TERMS
)
_BOTH = (ANALYSIS, ASSUMED_ZERO)
CALCULATIONS = (
    Calculation("carbon_equivalent", "Carbon equivalent CE", "carbon", "%", carbon_equivalent, _BOTH),
    Calculation("carbon_equivalent_d11", "Carbon equivalent, D1.1 annex", "carbon", "%", carbon_equivalent_d11, _BOTH),
    Calculation("cet", "Carbon equivalent CET", "carbon", "%", cet, _BOTH),
    Calculation("pcm", "Carbon equivalent Pcm", "carbon", "%", pcm, _BOTH),
    Calculation("cen", "Carbon equivalent CEN", "carbon", "%", cen, (*_BOTH, optional("factor", "Factor A(C)"))),
    Calculation("cen_factor", "Factor A(C) of CEN", "carbon", "", cen_factor, (asked("carbon", "Carbon", "%"),)),
)
