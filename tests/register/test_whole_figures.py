"""What may not break over two lines: a day, a figure and its unit."""

import pytest
from django.utils.safestring import mark_safe

from register.templatetags.said import whole_figures


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("from 15 Oct 2026 to 7 Feb 2027", "from 15_Oct_2026 to 7_Feb_2027"),
        ("30 m, 25 t", "30_m, 25_t"),
        ("CE 0.42 %, 20 °C, 355 MPa", "CE 0.42_%, 20_°C, 355_MPa"),
        ("S355J2+N, t = 19 mm, heat 48213", "S355J2+N, t = 19_mm, heat 48213"),
        ("WPS 001 rev B", "WPS 001 rev B"),
        ("2 more; 14 minutes", "2 more; 14 minutes"),
    ],
)
def test_blanks_at_which_no_line_ends(text: str, shown: str) -> None:
    assert whole_figures(text) == shown.replace("_", "\u00a0")


def test_what_is_marked_up_or_no_text_stays() -> None:
    marked = mark_safe("<b>5 mm</b>")
    assert whole_figures(marked) is marked and whole_figures(7) == 7
