"""The position of a weld at every turn of a rotator, in half degrees, by the limits of codes.calc.position.

Slope and face angle are compared by sine and cosine, which is the same without an arc function at each turn; a test
holds the two together.
"""

from collections.abc import Sequence
from decimal import Decimal
from functools import cache, lru_cache

from codes.calc.exact import cos, exact, sin
from codes.calc.position import LIMITS, face_normal
from codes.calc.vectors import Vector, cross, dot, unit

PER_DEGREE = 2
"""Stops are whole half degrees: as fine as a rotator is set (own rule)."""
SLACK = Decimal("1e-20")
"""A limit that is met exactly is met in spite of the last digits."""
VERTICAL = "vertical"
"""ISO 6947: upwards or downwards, as it is travelled."""


def degrees(turn: int) -> Decimal:
    """A turn in degrees. Example: degrees(181) is 90.5."""
    return Decimal(turn) / PER_DEGREE


@lru_cache(maxsize=4096)
@exact
def sweep(system: str, weld: str, axis: Vector, face: Vector, beam: Vector, first: int, last: int) -> tuple[str, ...]:
    """The position at each turn from first to last [half degrees], both included.

    `system` is "iso" or "aws", `weld` "fillet" or "butt". Raises codes.calc.result.Refused where the directions have
    no length or the face lies along the axis. Example: a fillet along the beam at ψ -45 turned by 90 half degrees: PA.
    """
    a = unit("axis", axis)
    n = face_normal(a, face, None, None)
    e = unit("beam", beam)
    rows = _rows(system, weld)
    axis_parts, face_parts = _parts(a, e), _parts(n, e)
    return tuple(_place(rows, axis_parts, face_parts, turn) for turn in range(first, last + 1))


def _parts(v: Vector, e: Vector) -> tuple[Decimal, Decimal, Decimal]:
    """What the height of a turned direction is made of: constant, with the cosine, with the sine of the turn."""
    along = e[2] * dot(e, v)
    return along, v[2] - along, cross(e, v)[2]


def _place(
    rows: Sequence[tuple[Decimal, Decimal, str]],
    axis: tuple[Decimal, Decimal, Decimal],
    face: tuple[Decimal, Decimal, Decimal],
    turn: int,
) -> str:
    c, s = _turn(turn % (360 * PER_DEGREE))
    rise = axis[0] + axis[1] * c + axis[2] * s
    up = face[0] + face[1] * c + face[2] * s
    steep = rise * rise
    flat = max(1 - steep, Decimal(0)).sqrt()
    for sine, cosine, place in rows:
        if steep <= sine and up >= cosine * flat - SLACK:
            return place
    return rows[-1][2]


@cache
def _turn(turn: int) -> tuple[Decimal, Decimal]:
    return cos(degrees(turn)), sin(degrees(turn))


@cache
def _rows(system: str, weld: str) -> tuple[tuple[Decimal, Decimal, str], ...]:
    """The limits as the square of the sine of the slope and the cosine of the face angle."""
    return tuple((sin(slope) ** 2 + SLACK, cos(face), place) for slope, face, place in LIMITS[system, weld])
