"""Resistance of fillets to EN 1993-1-8, for information only: design stays with the structural engineer. N, mm, MPa.

fu and γM2 are inputs: sources differ for fu of S355 (470 to 510 MPa), and national annexes for γM2.
"""

from decimal import Decimal

from codes.calc.calculation import Calculation, asked, choice, optional
from codes.calc.exact import exact
from codes.calc.result import AT_LEAST, AT_MOST, Refused, Result, Working, not_negative, positive
from codes.clauses import Clause, Mark
from codes.values import number

SOURCE = "public pages on EN 1993-1-8; weld sizing page with worked values"
SIMPLE = Clause("EN 1993-1-8:2005", "4.5.3.3, simplified method", Mark.CONFIRMED, SOURCE)
DIRECTIONAL = Clause("EN 1993-1-8:2005", "4.5.3.2, directional method", Mark.CONFIRMED, SOURCE)
LONG_JOINT = Clause("EN 1993-1-8:2005", "4.11, long joints", Mark.MEMORY)
BETA_W = {"S235": "0.80", "S275": "0.85", "S355": "0.90", "S420": "1.0", "S460": "1.0"}
LEAST_THROAT = Decimal(3)
INFORMATION = "information only: the structural engineer designs the weld"
ROOT_3 = Decimal(3)


def _beta(working: Working, steel: str) -> Decimal:
    return working.step("beta_w", Decimal(BETA_W[steel]))


def _strength(working: Working, fu: Decimal, steel: str, gamma: Decimal) -> Decimal:
    """fvw,d: fu / (√3·βw·γM2) [MPa]."""
    positive("fu", fu, "MPa")
    if gamma < 1:
        raise Refused("gamma_m2", f"{number(gamma)} is below 1")
    working.flag(INFORMATION)
    return fu / (ROOT_3.sqrt() * _beta(working, steel) * gamma)


@exact
def shear_strength(fu: Decimal, steel: str, gamma_m2: Decimal = Decimal("1.25")) -> Result:
    """Design shear strength of the weld. Example: S355 with fu 510: 261.73 MPa."""
    working = Working()
    strength = _strength(working, fu, steel, gamma_m2)
    return working.result(strength, "MPa", SIMPLE, "fvw,d = fu / (√3·βw·γM2)", rounding=AT_MOST)


@exact
def resistance(throat: Decimal, fu: Decimal, steel: str, gamma_m2: Decimal = Decimal("1.25")) -> Result:
    """Resistance per mm of length, any direction. Raises Refused below a 3 mm. Example: a 3: 785.2 N/mm."""
    working = Working()
    if throat < LEAST_THROAT:
        raise Refused("throat", f"{number(throat)} mm is below 3 mm, the least throat that carries load")
    strength = working.step("fvw,d", _strength(working, fu, steel, gamma_m2), "MPa")
    return working.result(strength * throat, "N/mm", SIMPLE, "Fw,Rd = a·fu / (√3·βw·γM2)", rounding=AT_MOST)


@exact
def required_throat(
    fu: Decimal,
    steel: str,
    transverse: Decimal = Decimal(0),
    longitudinal: Decimal = Decimal(0),
    gamma_m2: Decimal = Decimal("1.25"),
) -> Result:
    """Throat by the directional method for forces [N/mm] on a 45° fillet, across and along; at least 3 mm.

    `transverse`: across the weld in the plane of one leg. The step `by_force` is what the force alone asks for.
    Example: 335.6 N/mm along, S355, fu 510: by force 1.28 mm, so 3 mm.
    """
    working = Working()
    across = not_negative("transverse", transverse, "N/mm")
    along = not_negative("longitudinal", longitudinal, "N/mm")
    if across == 0 and along == 0:
        raise Refused("transverse", "state a force across or along the weld")
    strength = _strength(working, fu, steel, gamma_m2) * ROOT_3.sqrt()
    # For a throat of 1 mm; every stress falls with 1/a.
    sigma = across / Decimal(2).sqrt()
    combined = (sigma**2 + 3 * (sigma**2 + along**2)).sqrt()
    normal_limit = Decimal("0.9") * fu / gamma_m2
    by_force = working.step("by_force", max(combined / strength, sigma / normal_limit), "mm")
    working.flag("the least throat that carries load governs", when=by_force < LEAST_THROAT)
    formula = "√(σ⊥² + 3(τ⊥² + τ∥²)) ≤ fu/(βw·γM2), σ⊥ ≤ 0.9·fu/γM2"
    return working.result(max(by_force, LEAST_THROAT), "mm", DIRECTIONAL, formula, rounding=AT_LEAST)


@exact
def throat_stress(throat: Decimal, transverse: Decimal = Decimal(0), longitudinal: Decimal = Decimal(0)) -> Result:
    """Equivalent stress in the throat of a 45° fillet. Example: 100 N/mm across a 5: σ⊥ = τ⊥ 14.14, 28.28 MPa."""
    working = Working()
    positive("throat", throat, "mm")
    across = not_negative("transverse", transverse, "N/mm")
    sigma = working.step("sigma_perpendicular", across / (Decimal(2).sqrt() * throat), "MPa")
    working.step("tau_perpendicular", sigma, "MPa")
    along = working.step("tau_parallel", not_negative("longitudinal", longitudinal, "N/mm") / throat, "MPa")
    working.flag(INFORMATION)
    value = (sigma**2 + 3 * (sigma**2 + along**2)).sqrt()
    return working.result(value, "MPa", DIRECTIONAL, "σ⊥ = τ⊥ = F/(√2·a), τ∥ = F∥/a; √(σ⊥² + 3(τ⊥² + τ∥²))")


@exact
def long_joint_factor(joint_length: Decimal, throat: Decimal) -> Result:
    """Reduction βLw,1 of lap joints longer than 150 a. Example: 150 a gives 1, 300 a gives 0.8."""
    working = Working()
    ratio = positive("joint_length", joint_length, "mm") / (150 * positive("throat", throat, "mm"))
    value = min(Decimal(1), Decimal("1.2") - Decimal("0.2") * ratio)
    if value <= 0:
        raise Refused("joint_length", "is so long that nothing of the resistance is left; divide the joint")
    working.flag(INFORMATION)
    return working.result(value, "", LONG_JOINT, "βLw,1 = 1.2 − 0.2·Lj/(150·a) ≤ 1", rounding=AT_MOST)


_STRENGTH = (
    asked("fu", "Ultimate strength fu of the weaker part", "MPa", "with its source: values differ"),
    choice("steel", "Steel", {steel: f"{steel}, βw {beta}" for steel, beta in BETA_W.items()}, "always"),
)
_GAMMA = optional("gamma_m2", "γM2", help="1.25 where not stated; national annex")
_FORCES = (
    optional("transverse", "Force across the weld", "N/mm"),
    optional("longitudinal", "Force along the weld", "N/mm"),
)
_THROAT = asked("throat", "Throat a", "mm")
CALCULATIONS = (
    Calculation(
        "fillet_shear_strength", "Shear strength of a fillet", "throat", "MPa", shear_strength, (*_STRENGTH, _GAMMA)
    ),
    Calculation(
        "fillet_resistance", "Resistance of a fillet", "throat", "N/mm", resistance, (_THROAT, *_STRENGTH, _GAMMA)
    ),
    Calculation(
        "fillet_required_throat", "Throat required", "throat", "mm", required_throat, (*_STRENGTH, *_FORCES, _GAMMA)
    ),
    Calculation("fillet_stress", "Stress in the throat", "throat", "MPa", throat_stress, (_THROAT, *_FORCES)),
    Calculation(
        "fillet_long_joint_factor",
        "Reduction of long lap joints",
        "throat",
        "",
        long_joint_factor,
        (asked("joint_length", "Length of the joint", "mm"), _THROAT),
    ),
)
