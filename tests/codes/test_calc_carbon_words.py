"""Carbon equivalents in words: one rule for answers, lists and judgements."""

from decimal import Decimal as D

import pytest

from codes.calc.carbon import CE, PCM, carbon_equivalent, equivalent_words, pcm
from codes.calc.preheat_d11 import PCM_BOUNDS
from codes.calc.preheat_method_a import COLUMNS_CE


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
    assert equivalent_words(D(value), limits=(D(limit),) if limit else ()) == said


@pytest.mark.parametrize(
    ("manganese", "said"),
    [("1.38", "0.43 %"), ("1.3801", "0.43002 %"), ("1.386", "0.431 %"), ("1.374", "0.429 %"), ("1.74", "0.49 %"),
     ("1.746", "0.491 %"), ("1.5", "0.45 %")],
)  # fmt: skip
def test_an_answer_that_is_carried_into_table_c1_stays_in_its_column(manganese: str, said: str) -> None:
    """EN 1011-2:2001, Table C.1, has columns for CE 0.43 and 0.49; a CE of 0.431 printed as 0.43 asks for less."""
    analysis = {"C": D("0.20"), "Mn": D(manganese)} | dict.fromkeys(("Cr", "Mo", "V", "Ni", "Cu"), D(0))
    assert carbon_equivalent(analysis).shown == said


def test_pcm_is_printed_in_its_own_band() -> None:
    """AWS D1.1, Annex B, from memory: below 0.18, 0.23, 0.28, 0.33 and 0.38."""
    rest = dict.fromkeys(("Mn", "Cu", "Cr", "Ni", "Mo", "V", "B"), D(0))
    assert [pcm({"C": D(c), "Si": D(0)} | rest).shown for c in ("0.2749", "0.276", "0.28", "0.284")] == [
        "0.27 %", "0.276 %", "0.28 %", "0.284 %",
    ]  # fmt: skip


def test_the_limits_are_those_of_the_tables() -> None:
    assert set(COLUMNS_CE) <= set(CE.limits) and set(map(D, PCM_BOUNDS)) == set(PCM.limits)
