"""Cross-section of a fillet weld, and what throat and legs are to each other. Units: mm, mm², degrees."""

from decimal import Decimal

from codes.calc.calculation import Calculation, optional
from codes.calc.exact import cos, exact, sin
from codes.calc.result import AT_LEAST, AT_MOST, Refused, Result, Working, not_negative, positive, within
from codes.clauses import Clause, Mark

AREA = Clause("geometry", "triangle of the legs", Mark.CONFIRMED, "handbook of a consumables maker; weld calculator")
THROAT = Clause("EN 1993-1-8:2005", "4.5.2, effective throat", Mark.CONFIRMED, "public pages on EN 1993-1-8")
RIGHT_ANGLE = Decimal(90)
TWO_THIRDS = Decimal(2) / Decimal(3)


@exact
def fillet_area(
    throat: Decimal | None = None,
    leg: Decimal | None = None,
    leg_2: Decimal | None = None,
    angle: Decimal = RIGHT_ANGLE,
    convexity_factor: Decimal | None = None,
    cap_height: Decimal | None = None,
) -> Result:
    """Area with the excess stated: a factor (1.10 is usual), or a cap of 2/3·w·hc over the face; flat without either.

    Example: leg 8 mm with factor 1.10 is 35.2 mm²; throat 5 mm flat is 25 mm².
    """
    working = Working()
    z1, z2 = _legs(working, throat, leg, leg_2, angle)
    area = working.step("triangle", z1 * z2 * sin(angle) / 2, "mm²")
    face = working.step("face_width", _side(z1, z2, angle), "mm")
    if convexity_factor is not None and cap_height is not None:
        raise Refused("cap_height", "state the convexity as a factor or as a height, not both")
    if convexity_factor is not None:
        if convexity_factor < 1:
            raise Refused("convexity_factor", "must be 1 or more; a concave fillet is measured by its throat")
        area *= convexity_factor
    elif cap_height is not None:
        area += working.step("cap", TWO_THIRDS * face * not_negative("cap_height", cap_height, "mm"), "mm²")
    else:
        working.flag("flat face: no convexity counted")
    return working.result(area, "mm²", AREA, _area_formula(convexity_factor, cap_height))


def _area_formula(convexity_factor: Decimal | None, cap_height: Decimal | None) -> str:
    if convexity_factor is not None:
        return "A = ½·z1·z2·sin ψ·c"
    return "A = ½·z1·z2·sin ψ" if cap_height is None else "A = ½·z1·z2·sin ψ + 2/3·w·hc"


def _legs(
    working: Working, throat: Decimal | None, leg: Decimal | None, leg_2: Decimal | None, angle: Decimal
) -> tuple[Decimal, Decimal]:
    """Both legs from a leg, two legs or the throat, between plates at the angle."""
    within("angle", angle, "30", "150", "°", "a fillet between two plates")
    if (throat is None) == (leg is None):
        raise Refused("leg", "state either the leg or the throat")
    if throat is not None:
        if leg_2 is not None:
            raise Refused("leg_2", "belongs to a stated leg; leave it out with a throat")
        z = positive("throat", throat, "mm") / cos(angle / 2)
        working.step("throat", throat, "mm")
        return working.step("leg", z, "mm"), z
    z1 = working.step("leg", positive("leg", leg or Decimal(0), "mm"), "mm")
    z2 = z1 if leg_2 is None else working.step("leg_2", positive("leg_2", leg_2, "mm"), "mm")
    return z1, z2


def _side(z1: Decimal, z2: Decimal, angle: Decimal) -> Decimal:
    """The side of the triangle opposite the angle between the legs."""
    return (z1**2 + z2**2 - 2 * z1 * z2 * cos(angle)).sqrt()


@exact
def fillet_throat(leg: Decimal, leg_2: Decimal | None = None, angle: Decimal = RIGHT_ANGLE) -> Result:
    """The throat: height of the triangle over its face. Raises Refused outside 60 to 120 degrees.

    Example: legs 8 and 12 mm give 6.656 mm; equal legs at 90 degrees the leg over √2.
    """
    working = Working()
    within("angle", angle, "60", "120", "°", "the effective throat (from memory)")
    z1, z2 = _legs(working, None, leg, leg_2, angle)
    value = z1 * z2 * sin(angle) / _side(z1, z2, angle)
    formula = "a = z1·z2·sin ψ / √(z1² + z2² − 2·z1·z2·cos ψ)"
    return working.result(value, "mm", THROAT, formula, rounding=AT_MOST)


@exact
def fillet_leg(throat: Decimal, angle: Decimal = RIGHT_ANGLE) -> Result:
    """The leg of an equal-leg fillet: z = a / cos(ψ/2). Example: throat 5 mm is 7.07 mm."""
    working = Working()
    within("angle", angle, "60", "120", "°", "the effective throat (from memory)")
    leg, _ = _legs(working, throat, None, None, angle)
    return working.result(leg, "mm", THROAT, "z = a / cos(ψ/2)", rounding=AT_LEAST)


_LEG = optional("leg", "Leg", "mm", needed="no throat")
_LEG_2 = optional("leg_2", "Second leg", "mm", "as the first where not stated")
_THROAT = optional("throat", "Throat", "mm", needed="no leg")
_ANGLE = optional("angle", "Angle between the plates", "°", "90 where not stated")
CALCULATIONS = (
    Calculation(
        "fillet_area",
        "Cross-section of a fillet",
        "areas",
        "mm²",
        fillet_area,
        (
            _THROAT,
            _LEG,
            _LEG_2,
            _ANGLE,
            optional("convexity_factor", "Convexity as a factor", help="1.10 is usual"),
            optional("cap_height", "Convexity as a height", "mm"),
        ),
    ),
    Calculation(
        "fillet_throat",
        "Throat from the legs",
        "throat",
        "mm",
        fillet_throat,
        (optional("leg", "Leg", "mm", needed="always"), _LEG_2, _ANGLE),
    ),
    Calculation(
        "fillet_leg",
        "Leg from the throat",
        "throat",
        "mm",
        fillet_leg,
        (optional("throat", "Throat", "mm", needed="always"), _ANGLE),
    ),
)
