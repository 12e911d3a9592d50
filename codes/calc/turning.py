"""Turning a beam on a rotator: the position of a weld after a turn, and the best turn within a limited arc. Degrees.

Turns are counted by the right-hand rule about the beam axis, from web vertical. The signed face angle ψ of a weld along
a horizontal beam is counted like the turn: with the beam along +x from +z towards -y; so that ψ' = ψ + θ.
"""

from decimal import Decimal

from codes.calc.calculation import Calculation, Kind, asked
from codes.calc.exact import exact
from codes.calc.position import (
    AWS_NUMBERS,
    AXIS,
    CLAUSE,
    NORMAL,
    WELD,
    aws_position,
    face_normal,
    iso_position,
    position_of,
)
from codes.calc.result import Refused, Result, Working, within
from codes.calc.vectors import Vector, turned, unit
from codes.values import number

FULL = Decimal(360)
FLAT = Decimal(30)
FORMULA = "v' = v·cosθ + (e×v)·sinθ + e·(e·v)·(1 − cosθ)"
FORMULA_ALONG = "ψ' = ψ + θ, φ = |ψ'|"


def wrapped(angle: Decimal) -> Decimal:
    """The angle above -180 up to 180. Example: 315 gives -45; -180 gives 180."""
    left = angle % FULL
    left = left + FULL if left < 0 else left
    return left - FULL if left > FULL / 2 else left


@exact
def turned_position(weld: str, axis: Vector, beam_axis: Vector, turn: Decimal, normal: Vector | None = None) -> Result:
    """The position of a weld after the beam is turned.

    Example: a stiffener weld across the beam, turned by 30: S 30, φ 45, vertical.
    """
    working = Working()
    a = unit("axis", axis)
    n = face_normal(a, normal, None, None)
    e = unit("beam_axis", beam_axis)
    working.step("turn", turn, "°")
    found = position_of(weld, turned(a, e, turn), turned(n, e, turn))
    working.steps += found.steps
    working.flags += found.flags
    return working.result(found.value, "", CLAUSE, f"{FORMULA}; {found.formula}")


@exact
def turned_along(weld: str, face_angle: Decimal, turn: Decimal) -> Result:
    """The position of a weld along a horizontal beam after a turn. Example: fillet at -45 turned by 45: PA, 1F."""
    return _along(Working(), weld, face_angle, turn)


def _along(working: Working, weld: str, face_angle: Decimal, turn: Decimal) -> Result:
    within("face_angle", face_angle, "-180", "180", "°", "a signed face angle")
    signed = working.step("signed_face_angle", wrapped(face_angle + turn), "°")
    face = working.step("face_angle", abs(signed), "°")
    aws = working.word("aws", aws_position(weld, Decimal(0), face))
    working.word("aws_test_position", AWS_NUMBERS[aws] + ("F" if weld == "fillet" else "G"))
    working.flag("limits of the positions from memory")
    return working.result(iso_position(weld, Decimal(0), face, None), "", CLAUSE, FORMULA_ALONG)


@exact
def best_turn(weld: str, face_angle: Decimal, arc_from: Decimal, arc_to: Decimal) -> Result:
    """The turn [°] within the rotator's arc that brings a weld along the beam nearest to flat.

    Among equally good turns the farthest from the start of the arc. The position there, and whether flat itself (φ 0)
    and the flat band (φ up to 30) are reached, are steps. Example: ψ 45, arc 0 to 270: 270°, where it is PB.
    """
    working = Working()
    if arc_to < arc_from:
        raise Refused("arc_to", f"{number(arc_to)}° lies before {number(arc_from)}°")
    if arc_to - arc_from > 2 * FULL:
        raise Refused("arc_to", "an arc of more than two turns is not a rotator's")
    within("face_angle", face_angle, "-180", "180", "°", "a signed face angle")
    flat = _within_arc(-face_angle, arc_from, arc_to)
    edges = [turn for edge in (FLAT, -FLAT) for turn in _within_arc(-face_angle + edge, arc_from, arc_to)]
    tried = [*flat, *edges, arc_from, arc_to]
    least = min(abs(wrapped(face_angle + turn)) for turn in tried)
    best = sorted({turn for turn in tried if abs(wrapped(face_angle + turn)) == least})
    working.word("flat_reached", "yes" if flat else "no")
    working.word("flat_band_reached", "yes" if least <= FLAT else "no")
    working.word("equally_good", ", ".join(f"{number(turn)}°" for turn in best))
    place = working.word("iso", str(_along(working, weld, face_angle, best[-1]).value))
    working.flag(f"flat is out of reach: {place} is the best", when=not flat and place != "PA")
    return working.result(best[-1], "°", CLAUSE, "θ = −ψ + 360·k within the arc, else the end nearest to flat")


def _within_arc(turn: Decimal, arc_from: Decimal, arc_to: Decimal) -> list[Decimal]:
    """The turns equal to this one but for full turns that lie within the arc, ends included."""
    return [turn + FULL * k for k in range(-4, 5) if arc_from <= turn + FULL * k <= arc_to]


_FACE = asked("face_angle", "Signed face angle ψ, web vertical", "°", "0 face up, counted like the turn")
CALCULATIONS = (
    Calculation(
        "turned_position",
        "Position of a weld on a turned beam",
        "position",
        "",
        turned_position,
        (
            WELD,
            AXIS,
            asked("beam_axis", "Axis of the beam", help="[x, y, z]", kind=Kind.VECTOR),
            asked("turn", "Turn", "°"),
            NORMAL,
        ),
    ),
    Calculation(
        "turned_position_along",
        "Position of a weld along a turned beam",
        "position",
        "",
        turned_along,
        (WELD, _FACE, asked("turn", "Turn", "°")),
    ),
    Calculation(
        "best_turn",
        "Best turn of a rotator with a limited arc",
        "position",
        "°",
        best_turn,
        (WELD, _FACE, asked("arc_from", "Arc from", "°"), asked("arc_to", "Arc to", "°")),
    ),
)
