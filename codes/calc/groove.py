"""Cross-section of butt-weld preparations. Units: mm, mm², degrees.

Every preparation is the gap over the full thickness, plus what is cut from each side down to its root face, plus caps.
A side is cut as V (included angle), bevel, U or J (bevel angle and root radius, no land).
"""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from codes.calc.calculation import Calculation, choice
from codes.calc.calculation import asked as asked_input
from codes.calc.calculation import optional as optional_input
from codes.calc.exact import PI, cos, exact, sin, tan
from codes.calc.result import Refused, Result, Working, not_negative, positive
from codes.clauses import Clause, Mark
from codes.values import number

CLAUSE = Clause(
    "geometry", "areas of weld preparations", Mark.CONFIRMED, "handbook of a consumables maker; U and J by integration"
)
TWO_THIRDS = Decimal(2) / Decimal(3)

# Preparation -> cut of the first side, cut of the second side ("" none).
PREPARATIONS: Mapping[str, tuple[str, str]] = {
    "square": ("", ""),
    "single_v": ("v", ""),
    "double_v": ("v", "v"),
    "single_bevel": ("bevel", ""),
    "double_bevel": ("bevel", "bevel"),
    "single_u": ("u", ""),
    "double_u": ("u", "u"),
    "single_j": ("j", ""),
    "double_j": ("j", "j"),
    "u_v": ("u", "v"),
    "j_bevel": ("j", "bevel"),
}
WORDS = {
    "square": "square butt",
    "single_v": "single V, also on backing",
    "double_v": "double V",
    "single_bevel": "single bevel",
    "double_bevel": "double bevel (K)",
    "single_u": "single U",
    "double_u": "double U",
    "single_j": "single J",
    "double_j": "double J",
    "u_v": "U with V on the other side",
    "j_bevel": "J with bevel on the other side",
}
SIDE_FORMULAS = {
    "v": "h²·tan(α/2)",
    "bevel": "½·h²·tan β",
    "u": "2·S",
    "j": "S",
}
ROUND_SIDE = "S = R²·[(π/4 − β/2) − sin(2β)/4] + (h − y)·R·cos β + ½·(h − y)²·tan β; y = R·(1 − sin β)"
"""Half a U, or a J: from the root radius and the straight flank above it; β in radians where it stands alone."""
HIGHEST_V, HIGHEST_BEVEL = Decimal(120), Decimal(60)


@dataclass(frozen=True, slots=True)
class Side:
    """One cut side: depth of the groove, angle (included for V, bevel angle else), root radius (U and J)."""

    cut: str
    depth: Decimal
    angle: Decimal
    radius: Decimal


def _straight_area(side: Side) -> Decimal:
    return side.depth**2 * (tan(side.angle / 2) if side.cut == "v" else tan(side.angle) / 2)


def _straight_width(side: Side) -> Decimal:
    return side.depth * (2 * tan(side.angle / 2) if side.cut == "v" else tan(side.angle))


def _height_of_arc(side: Side) -> Decimal:
    """y: how far up the root radius runs into the straight flank."""
    return side.radius * (1 - sin(side.angle))


def _round_area(side: Side) -> Decimal:
    beta = side.angle * PI / 180
    over = side.depth - _height_of_arc(side)
    arc = side.radius**2 * ((PI / 4 - beta / 2) - sin(2 * side.angle) / 4)
    flank = over * side.radius * cos(side.angle) + over**2 * tan(side.angle) / 2
    return (arc + flank) * (2 if side.cut == "u" else 1)


def _round_width(side: Side) -> Decimal:
    half = side.radius * cos(side.angle) + (side.depth - _height_of_arc(side)) * tan(side.angle)
    return half * (2 if side.cut == "u" else 1)


_AREA: Mapping[str, Callable[[Side], Decimal]] = {
    "v": _straight_area,
    "bevel": _straight_area,
    "u": _round_area,
    "j": _round_area,
}
_WIDTH: Mapping[str, Callable[[Side], Decimal]] = {
    "v": _straight_width,
    "bevel": _straight_width,
    "u": _round_width,
    "j": _round_width,
}


@exact
def groove_area(
    preparation: str,
    thickness: Decimal,
    gap: Decimal,
    root_face: Decimal | None = None,
    angle: Decimal | None = None,
    angle_2: Decimal | None = None,
    depth: Decimal | None = None,
    radius: Decimal | None = None,
    radius_2: Decimal | None = None,
    cap_height: Decimal | None = None,
    cap_height_2: Decimal | None = None,
) -> Result:
    """Area of weld metal. `depth`: of the first side of a double preparation (half of t - c where not stated).

    The cap is as wide as the groove. Raises Refused for a side that cannot be cut so.
    Example: single V, t 15, gap 2, root face 1, angle 60: 143.16 mm².
    """
    working = Working()
    positive("thickness", thickness, "mm")
    area = working.step("gap_area", not_negative("gap", gap, "mm") * thickness, "mm²")
    cuts = PREPARATIONS[preparation]
    depths = _depths(cuts, thickness, root_face, depth)
    # A square butt has its cap on the full gap; the second side of a single preparation is its root.
    angles, radii = (angle, angle_2 if angle_2 is not None else angle), (radius, radius_2 or radius)
    _nothing_superfluous(cuts, angle, angle_2, radius, radius_2)
    for which, (cut, cap) in enumerate(zip(cuts, (cap_height, cap_height_2), strict=True), start=1):
        width = gap
        if cut:
            side = _side(cut, depths[which - 1], angles[which - 1], radii[which - 1], which)
            working.step(f"depth_{which}", side.depth, "mm")
            area += working.step(f"side_{which}", _AREA[cut](side), "mm²")
            width += _WIDTH[cut](side)
        working.step(f"width_{which}", width, "mm")
        if cap is not None:
            name = "cap_height" if which == 1 else "cap_height_2"
            area += working.step(f"cap_{which}", TWO_THIRDS * width * not_negative(name, cap, "mm"), "mm²")
    working.flag("without caps", when=cap_height is None and cap_height_2 is None)
    return working.result(positive("thickness", area, "mm²"), "mm²", CLAUSE, _formula(cuts, (cap_height, cap_height_2)))


def _formula(cuts: tuple[str, str], caps: tuple[Decimal | None, Decimal | None]) -> str:
    """The parts that the weld has; what a side of a U or J is made of stands behind."""
    both = all(cuts)
    sides = [_numbered(SIDE_FORMULAS[cut], which if both else 0) for which, cut in enumerate(cuts, start=1) if cut]
    raised = [f"2/3·w{which}·hc{which}" for which, cap in enumerate(caps, start=1) if cap is not None]
    area = " + ".join(["A = b·t", *sides, *raised])
    return f"{area}; {ROUND_SIDE}" if any(cut in ("u", "j") for cut in cuts) else area


def _numbered(formula: str, which: int) -> str:
    """The part of one side of two, its figures numbered. Example: ("h²·tan(α/2)", 2) gives "h2²·tan(α2/2)"."""
    return re.sub(r"[hαβS]", lambda found: f"{found[0]}{which}", formula) if which else formula


def _depths(
    cuts: tuple[str, str], thickness: Decimal, root_face: Decimal | None, depth: Decimal | None
) -> tuple[Decimal, Decimal]:
    """Depth of each side; root face and depths together are the thickness."""
    if not cuts[0]:
        if root_face is not None or depth is not None:
            raise Refused("root_face", "a square butt has neither root face nor depth of groove; leave them out")
        return Decimal(0), Decimal(0)
    if root_face is None:
        raise Refused("root_face", "must be stated; 0 for a sharp edge")
    left = thickness - not_negative("root_face", root_face, "mm")
    if left <= 0:
        raise Refused("root_face", f"{number(root_face)} mm is not less than the thickness {number(thickness)} mm")
    if not cuts[1]:
        if depth is not None:
            raise Refused("depth", "of a single preparation is the thickness less the root face; leave it out")
        return left, Decimal(0)
    first = left / 2 if depth is None else positive("depth", depth, "mm")
    if first >= left:
        raise Refused("depth", f"{number(first)} mm leaves nothing of {number(left)} mm for the second side")
    return first, left - first


def _nothing_superfluous(
    cuts: tuple[str, str],
    angle: Decimal | None,
    angle_2: Decimal | None,
    radius: Decimal | None,
    radius_2: Decimal | None,
) -> None:
    """What the preparation does not have may not be stated: it is a sign of the wrong preparation."""
    rounded = any(cut in ("u", "j") for cut in cuts)
    for name, value, held in (
        ("angle", angle, bool(cuts[0])),
        ("angle_2", angle_2, bool(cuts[1])),
        ("radius", radius, rounded),
        ("radius_2", radius_2, cuts[1] in ("u", "j")),
    ):
        if value is not None and not held:
            raise Refused(name, "does not belong to this preparation; leave it out")


def _side(cut: str, depth: Decimal, angle: Decimal | None, radius: Decimal | None, which: int) -> Side:
    name = "angle" if which == 1 else "angle_2"
    if angle is None:
        raise Refused(name, "must be stated: included angle of a V, bevel angle of bevel, U and J")
    most = HIGHEST_V if cut == "v" else HIGHEST_BEVEL
    if not 0 <= angle <= most:
        raise Refused(name, f"{number(angle)}° is outside 0 to {number(most)}°")
    side = Side(cut, depth, angle, radius or Decimal(0))
    if cut in ("u", "j"):
        if radius is None:
            raise Refused("radius", "must be stated for a U or J preparation")
        positive("radius", radius, "mm")
        if _height_of_arc(side) > depth:
            raise Refused(
                "radius", f"{number(radius)} mm is too large: its arc rises above the groove of {number(depth)} mm"
            )
    return side


CALCULATIONS = (
    Calculation(
        "groove_area",
        "Cross-section of a butt weld",
        "areas",
        "mm²",
        groove_area,
        (
            choice("preparation", "Preparation", WORDS, "always"),
            asked_input("thickness", "Thickness t", "mm"),
            asked_input("gap", "Gap b", "mm"),
            optional_input("root_face", "Root face c", "mm", needed="not square"),
            optional_input("angle", "Angle", "°", "included for V, bevel angle else", needed="not square"),
            optional_input("angle_2", "Angle of the second side", "°", "as the first where not stated"),
            optional_input("depth", "Depth of the first side", "mm", "half where not stated"),
            optional_input("radius", "Root radius R", "mm", needed="U or J"),
            optional_input("radius_2", "Root radius of the second side", "mm", "as the first where not stated"),
            optional_input("cap_height", "Height of the cap", "mm"),
            optional_input("cap_height_2", "Height of the cap or root on the other side", "mm"),
        ),
    ),
)
