"""Vectors of three decimals, z upwards."""

from decimal import Decimal

from codes.calc.exact import cos, sin
from codes.calc.result import Refused

Vector = tuple[Decimal, ...]


def dot(a: Vector, b: Vector) -> Decimal:
    """The inner product."""
    return sum((x * y for x, y in zip(a, b, strict=True)), Decimal(0))


def cross(a: Vector, b: Vector) -> Vector:
    """The outer product."""
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def scaled(a: Vector, by: Decimal) -> Vector:
    """The vector times a factor."""
    return tuple(x * by for x in a)


def added(a: Vector, b: Vector) -> Vector:
    """The sum."""
    return tuple(x + y for x, y in zip(a, b, strict=True))


def length(a: Vector) -> Decimal:
    """The length."""
    return dot(a, a).sqrt()


def unit(field: str, a: Vector) -> Vector:
    """The vector at length 1. Raises Refused for a vector of no length."""
    size = length(a)
    if size == 0:
        raise Refused(field, "0; 0; 0 has no direction")
    return scaled(a, 1 / size)


def turned(a: Vector, about: Vector, degrees: Decimal) -> Vector:
    """The vector turned by the right-hand rule about a unit axis (Rodrigues)."""
    c, s = cos(degrees), sin(degrees)
    along = scaled(about, dot(about, a) * (1 - c))
    return added(added(scaled(a, c), scaled(cross(about, a), s)), along)
