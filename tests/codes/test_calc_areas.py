"""Areas of preparations against numeric integration of their width, and what cannot be cut is refused."""

import math
from decimal import Decimal as D

import pytest

from codes.calc.groove import PREPARATIONS, WORDS, groove_area
from codes.calc.result import Refused

STRIPS = 20_000
SIZES = {"thickness": D(30), "gap": D(3), "root_face": D(2)}


def half_widths(cut: str, y: float, angle: float, radius: float) -> float:
    """Width of the cut at a height above the root face, from the drawing of the preparation."""
    beta = math.radians(angle)
    if cut == "v":
        return 2 * y * math.tan(beta / 2)
    if cut == "bevel":
        return y * math.tan(beta)
    rise = radius * (1 - math.sin(beta))
    if y <= rise:
        one = math.sqrt(max(radius**2 - (radius - y) ** 2, 0))
    else:
        one = radius * math.cos(beta) + (y - rise) * math.tan(beta)
    return one * (2 if cut == "u" else 1)


def integrated(cut: str, depth: float, angle: float, radius: float) -> float:
    strip = depth / STRIPS
    return sum(half_widths(cut, (i + 0.5) * strip, angle, radius) for i in range(STRIPS)) * strip


def given_for(preparation: str) -> dict[str, D]:
    first, second = PREPARATIONS[preparation]
    if not first:
        return {"thickness": SIZES["thickness"], "gap": SIZES["gap"]}
    sizes = SIZES | {"angle": D(50) if first == "v" else D(15)}
    if second:
        sizes |= {"angle_2": D(60) if second == "v" else D(20), "depth": D(18)}
    if "u" in (first, second) or "j" in (first, second):
        sizes |= {"radius": D(6)}
    return sizes


@pytest.mark.parametrize("preparation", PREPARATIONS)
def test_the_area_is_the_integral_of_the_width(preparation: str) -> None:
    sizes = given_for(preparation)
    first, second = PREPARATIONS[preparation]
    expected = float(sizes["thickness"] * sizes["gap"])
    if first:
        depth = 18.0 if second else 28.0
        expected += integrated(first, depth, float(sizes["angle"]), float(sizes.get("radius", 0)))
    if second:
        expected += integrated(second, 10.0, float(sizes["angle_2"]), float(sizes.get("radius", 0)))
    assert math.isclose(float(groove_area(preparation, **sizes).figure), expected, rel_tol=1e-6)


@pytest.mark.parametrize("preparation", PREPARATIONS)
def test_more_thickness_and_more_gap_are_more_metal(preparation: str) -> None:
    sizes = given_for(preparation)
    area = groove_area(preparation, **sizes).figure
    assert groove_area(preparation, **sizes | {"thickness": D(31)}).figure > area
    assert groove_area(preparation, **sizes | {"gap": D(4)}).figure > area


def test_a_double_v_of_equal_sides_is_two_single_ones() -> None:
    double = groove_area("double_v", D(30), D(3), D(2), D(60))
    single = groove_area("single_v", D(14), D(3), D(0), D(60))
    assert double.figure == 2 * single.figure + 2 * 3


def test_every_preparation_has_words() -> None:
    assert set(WORDS) == set(PREPARATIONS)


@pytest.mark.parametrize(
    ("preparation", "change", "field"),
    [
        ("single_v", {"thickness": D(0)}, "thickness"),
        ("single_v", {"gap": D("-0.1")}, "gap"),
        ("single_v", {"root_face": D(30)}, "root_face"),
        ("single_v", {"root_face": D("-0.1")}, "root_face"),
        ("single_v", {"angle": D("120.1")}, "angle"),
        ("single_v", {"angle": None}, "angle"),
        ("single_v", {"root_face": None}, "root_face"),
        ("single_v", {"radius": D(6)}, "radius"),
        ("single_v", {"depth": D(10)}, "depth"),
        ("single_v", {"angle_2": D(60)}, "angle_2"),
        ("double_v", {"depth": D(28)}, "depth"),
        ("single_bevel", {"angle": D("60.1")}, "angle"),
        ("single_u", {"radius": None}, "radius"),
        ("single_u", {"radius": D("37.8")}, "radius"),
        ("square", {"root_face": D(0)}, "root_face"),
        ("square", {"angle": D(60)}, "angle"),
    ],
)
def test_what_cannot_be_cut_is_refused(preparation: str, change: dict[str, D | None], field: str) -> None:
    sizes = given_for(preparation)
    assert groove_area(preparation, **sizes).figure > 0
    with pytest.raises(Refused) as refused:
        groove_area(preparation, **sizes | change)  # type: ignore[arg-type]
    assert refused.value.field == field


def test_the_largest_root_radius_just_fits() -> None:
    sizes = given_for("single_u") | {"angle": D(0), "radius": D(28)}
    assert groove_area("single_u", **sizes).figure > 0
    with pytest.raises(Refused):
        groove_area("single_u", **sizes | {"radius": D("28.1")})
