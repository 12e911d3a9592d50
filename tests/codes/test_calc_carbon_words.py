"""Carbon equivalents in words: one rule for answers, lists and judgements."""

from decimal import Decimal as D

import pytest

from codes.calc.carbon import equivalent_words


@pytest.mark.parametrize(
    ("value", "limit", "said"),
    [
        ("0.40693", None, "0.41 %"),
        ("0.405", None, "0.41 %"),  # half upwards, not to the even
        ("0.4512", "0.45", "0.451 %"),  # above the limit: two places would say that it is met
        ("0.4488", "0.45", "0.449 %"),  # below it: two places would say that it is just met
        ("0.45", "0.45", "0.45 %"),
        ("0.450004", "0.45", "0.450004 %"),
        ("0.4551", "0.45", "0.46 %"),
    ],
)
def test_a_carbon_equivalent_is_printed_to_two_places_and_never_across_a_limit(value, limit, said):
    """EN 10025-2, EN 1011-2 and mill certificates print CEV and CET to two places (common practice)."""
    assert equivalent_words(D(value), limit=D(limit) if limit else None) == said
