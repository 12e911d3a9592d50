"""Names of positions for the weld that is meant: ISO 6947 beside the test positions of AWS A3.0 (common practice)."""

import pytest

from codes.position_names import position_of

ROWS = [
    ("PA", "fillet", "PA · 1F"),
    ("PA", "butt_cjp", "PA · 1G"),
    ("PF", "fillet", "PF · 3F up"),
    ("PF", "butt_pjp", "PF · 3G up"),
    ("PE", "fillet", "PE · 4F"),
    ("PG", "fillet", "PG · 3F down"),
    ("PB", "fillet", "PB · 2F"),
    ("PD", "fillet", "PD · 4F"),
    # A fillet in PC has no name in AWS that says the same; a weld not stated, or of another kind, may be either.
    ("PC", "fillet", "PC"),
    ("PC", "butt_cjp", "PC · 2G"),
    # 2F and 4F are fillets: a butt weld of a T-joint is neither.
    ("PB", "butt_cjp", "PB"),
    ("PD", "branch", "PD"),
    ("PA", "", "PA · 1G / 1F"),
    ("PA", "plug", "PA · 1G / 1F"),
    ("PE", "", "PE · 4G / 4F"),
]


@pytest.mark.parametrize(("token", "weld_type", "name"), ROWS)
def test_aws_names_the_weld_that_is_meant(token: str, weld_type: str, name: str) -> None:
    assert position_of(token, weld_type) == name
