"""The greatest CET of a grade: at the edges of its bands, and against any composition within the limits."""

from decimal import Decimal as D
from itertools import product

import pytest

from codes.calc.carbon import carbon_equivalent, cet
from codes.calc.grade_cet import COPPER, GRADES, greatest_cet
from codes.calc.result import Refused


@pytest.mark.parametrize(
    ("strength", "thickness", "value"),
    [
        ("235", "40", "0.2835"),
        ("235", "40.1", "0.3135"),
        ("275", "40", "0.3295"),
        ("355", "30", "0.3715"),
        ("355", "30.1", "0.3835"),
        ("355", "150", "0.3835"),
        ("355", "250", "0.3955"),
    ],
)
def test_bands(strength: str, thickness: str, value: str) -> None:
    assert greatest_cet("1.2", D(strength), D(thickness)).figure == D(value)


@pytest.mark.parametrize(
    ("group", "strength", "thickness", "field"),
    [("1.2", "355", "250.1", "thickness"), ("1.2", "460", "20", "steel"), ("3.1", "355", "20", "steel"),
     ("", "355", "20", "steel"), ("1.2", "355", "0", "thickness"), ("1.2", "355.5", "20", "steel")],
)  # fmt: skip
def test_refused(group: str, strength: str, thickness: str, field: str) -> None:
    with pytest.raises(Refused) as refusal:
        greatest_cet(group, D(strength), D(thickness))
    assert refusal.value.field == field


@pytest.mark.parametrize("strength", GRADES)
def test_no_composition_within_the_limits_has_more(strength: int) -> None:
    """A grid over all elements that count; those that keep the limits of the grade stay at or below the bound."""
    end, carbon, manganese, cev = GRADES[strength][0]
    bound = greatest_cet("1.2", D(strength), D(end)).figure
    shares = [[D(most) * i / 3 for i in range(4)] for most in (carbon, manganese, COPPER, "0.3", "0.1", "0.4")]
    kept = 0
    for c, mn, cu, cr, mo, ni in product(*shares):
        analysis = {"C": c, "Mn": mn, "Cu": cu, "Cr": cr, "Mo": mo, "Ni": ni, "V": D(0)}
        if c < D("0.05") or mn < D("0.5") or carbon_equivalent(analysis).figure > D(cev):
            continue
        kept += 1
        assert cet(analysis).figure <= bound
    assert kept > 50
