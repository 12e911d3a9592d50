"""Functions of a decimal that `decimal` lacks, to the digits of the context. Angles in degrees.

Public calculations run in a context of 40 digits (`exact`) and hand out 28: what an alternating series or a difference
of two near figures loses stays below the last digit handed out. Rounding is half to even.
"""

from collections.abc import Callable
from decimal import ROUND_HALF_EVEN, Context, Decimal, getcontext, localcontext
from functools import wraps
from typing import ParamSpec, TypeVar

DIGITS = 28
"""What a result keeps."""
WORKING_DIGITS = 40
"""What is worked with."""
PI = Decimal("3.14159265358979323846264338327950288419716939937510582")
_HALVINGS = 6
_BACK = Decimal(180 * 2**_HALVINGS)
"""From the halved angle in radians to degrees, but for π."""

P = ParamSpec("P")
R = TypeVar("R")


def exact(function: Callable[P, R]) -> Callable[P, R]:
    """Run the function in a decimal context of 40 digits, whatever context the caller has."""

    @wraps(function)
    def inside(*args: P.args, **kwargs: P.kwargs) -> R:
        with localcontext(Context(prec=WORKING_DIGITS, rounding=ROUND_HALF_EVEN)):
            return function(*args, **kwargs)

    return inside


def kept(value: Decimal) -> Decimal:
    """The value to 28 significant digits, half to even. Example: 0.1 + 10^-35 gives 0.1000000000000000000000000000."""
    return Context(prec=DIGITS, rounding=ROUND_HALF_EVEN).plus(value)


def tanh(x: Decimal) -> Decimal:
    """The hyperbolic tangent, from the decimal module's own exponential. Example: tanh(0) is 0."""
    # The exponential of -2|x| lies in 0..1, so that nothing overflows at either end.
    e = (-2 * abs(x)).exp()
    return ((1 - e) / (1 + e)).copy_sign(x)


def sin(degrees: Decimal) -> Decimal:
    """The sine of an angle in degrees. Example: sin(30) is 0.5 to the last digit."""
    x = (degrees % 360) * PI / 180
    total, term, n = x, x, 1
    while True:
        n += 2
        term = -term * x * x / (n * (n - 1))
        if total + term == total:
            return total
        total += term


def cos(degrees: Decimal) -> Decimal:
    """The cosine of an angle in degrees."""
    return sin(degrees + 90)


def tan(degrees: Decimal) -> Decimal:
    """The tangent of an angle in degrees. Raises ZeroDivisionError at 90 degrees and its odd multiples."""
    if degrees % 180 == 90:
        raise ZeroDivisionError("the tangent of 90 degrees has no value")
    return sin(degrees) / cos(degrees)


def atan2(y: Decimal, x: Decimal) -> Decimal:
    """The angle of the point (x, y) in degrees, above -180 up to 180. Example: atan2(0, -1) is 180."""
    if x == 0 and y == 0:
        raise ValueError("a point at the origin has no angle")
    if abs(y) > abs(x):
        return (90 - _atan(x / y)) if y > 0 else (-90 - _atan(x / y))
    if x > 0:
        return _atan(y / x)
    return _atan(y / x) + (180 if y >= 0 else -180)


def _atan(x: Decimal) -> Decimal:
    """The arc tangent in degrees of a figure from -1 to 1."""
    for _ in range(_HALVINGS):
        x = x / (1 + (1 + x * x).sqrt())
    total, power, n = x, x, 1
    while power:
        n += 2
        power = -power * x * x
        if total + power / n == total:
            break
        total += power / n
    return total * _BACK / PI


def digits() -> int:
    """The digits that are worked with now. Example: 40 inside a function marked `exact`."""
    return getcontext().prec
