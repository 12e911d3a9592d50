"""The welding symbol of a joint as the list states it (ISO 2553:2019 and AWS A2.4:2020, from memory)."""

from decimal import Decimal

import pytest

from codes.units import System
from joints.models import Joint
from joints.symbols import symbol_of_joint
from wps.symbol import Form
from wps.symbol.figures import aws_length, iso_length, iso_size


@pytest.mark.parametrize(
    ("stated", "arrow", "other", "size"),
    [
        ({"weld_type": "fillet", "throat_mm": Decimal(5)}, Form.FILLET, None, "a5"),
        ({"weld_type": "fillet", "leg_mm": Decimal(8), "weld_detail": "bs"}, Form.FILLET, Form.FILLET, "z8"),
        ({"weld_type": "butt_cjp", "preparation": "single_v", "weld_detail": "ss_nb"}, Form.V, None, ""),
        ({"weld_type": "butt_cjp", "preparation": "single_v", "weld_detail": "ss_mb"}, Form.V, Form.BACKING, ""),
        ({"weld_type": "butt_cjp", "preparation": "single_bevel", "weld_detail": "bs"}, Form.BEVEL, Form.BACK_RUN, ""),
        ({"weld_type": "butt_cjp", "preparation": "double_v"}, Form.V, Form.V, ""),
        ({"weld_type": "butt_cjp", "preparation": "square", "weld_detail": "bs"}, Form.SQUARE, Form.SQUARE, ""),
        ({"weld_type": "butt_pjp", "preparation": "single_j", "penetration_mm": Decimal(9)}, Form.J, None, "s9"),
    ],
)
def test_from_what_is_stated(stated: dict[str, object], arrow: Form, other: Form | None, size: str) -> None:
    symbol = symbol_of_joint(Joint(final_process="141+135", **stated))
    assert symbol is not None
    assert symbol.arrow.form is arrow
    assert (symbol.other.form if symbol.other else None) is other
    assert iso_size(symbol.arrow, System.SI) == size
    assert symbol.processes == ("141", "135")


@pytest.mark.parametrize("stated", [{}, {"weld_type": "butt_cjp"}, {"weld_type": "butt_cjp", "preparation": "none"}])
def test_none_where_the_list_does_not_say(stated: dict[str, str]) -> None:
    assert symbol_of_joint(Joint(**stated)) is None


@pytest.mark.parametrize(
    ("length", "element", "gap", "iso", "aws"),
    [
        ("350", "50", "100", "3 × 50 (100)", "50-150"),
        ("351", "50", "100", "3 × 50 (100)", "50-150"),
        ("352", "50", "100", "n × 50 (100)", "50-150"),
        (None, "50", "100", "n × 50 (100)", "50-150"),
        ("350", None, "100", "", ""),
        ("350", "50", None, "", ""),
    ],
)
def test_an_intermittent_weld_is_not_drawn_as_a_continuous_one(
    length: str | None, element: str | None, gap: str | None, iso: str, aws: str
) -> None:
    """ISO 2553: n × l (e), clear gap; AWS A2.4: length-pitch. While its elements are missing no length stands there."""
    sizes = {"length_mm": length, "element_length_mm": element, "element_gap_mm": gap}
    stated = {name: None if size is None else Decimal(size) for name, size in sizes.items()}
    symbol = symbol_of_joint(Joint(weld_type="fillet", throat_mm=Decimal(4), intermittent="yes", **stated))
    assert symbol is not None
    assert (iso_length(symbol.arrow, System.SI), aws_length(symbol.arrow, System.SI)) == (iso, aws)
