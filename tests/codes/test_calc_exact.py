"""Decimal functions against those of the math module, at exact angles, and independent of the caller's context."""

import math
from decimal import Context, localcontext
from decimal import Decimal as D

import pytest
from hypothesis import given
from hypothesis import strategies as st

from codes.calc.carbon import cen_factor
from codes.calc.exact import atan2, cos, digits, exact, kept, sin, tan, tanh

ANGLES = st.decimals("-720", "720", places=3, allow_nan=False)
SMALL = st.decimals("-40", "40", places=4, allow_nan=False)


def near(mine: D, theirs: float) -> bool:
    return math.isclose(float(mine), theirs, rel_tol=1e-12, abs_tol=1e-12)


@given(ANGLES)
def test_sine_and_cosine(angle: D) -> None:
    assert near(exact(sin)(angle), math.sin(math.radians(float(angle))))
    assert near(exact(cos)(angle), math.cos(math.radians(float(angle))))


@given(SMALL)
def test_hyperbolic_tangent(x: D) -> None:
    assert near(exact(tanh)(x), math.tanh(float(x)))


@given(SMALL, SMALL)
def test_angle_of_a_point(y: D, x: D) -> None:
    if x or y:
        assert near(exact(atan2)(y, x), math.degrees(math.atan2(float(y), float(x))))


@pytest.mark.parametrize(("function", "angle", "value"), [(sin, "30", "0.5"), (cos, "60", "0.5"), (tan, "45", "1")])
def test_exact_angles_to_28_digits(function: object, angle: str, value: str) -> None:
    assert kept(exact(function)(D(angle))) == D(value)  # type: ignore[arg-type]


def test_the_tangent_of_a_right_angle_has_no_value() -> None:
    with pytest.raises(ZeroDivisionError):
        tan(D(90))


def test_a_point_at_the_origin_has_no_angle() -> None:
    with pytest.raises(ValueError, match="origin"):
        atan2(D(0), D(0))


def test_the_context_of_the_caller_does_not_count() -> None:
    with localcontext(Context(prec=4)):
        rough = cen_factor(D("0.18")).value
    assert rough == cen_factor(D("0.18")).value
    assert exact(digits)() == 40
