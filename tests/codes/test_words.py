"""Terms as a reader sees them, one and several."""

import pytest

from codes.words import listed, term_words, terms_words


@pytest.mark.parametrize(
    ("variable", "tokens", "said"),
    [
        ("position", ("PB", "PF"), "PB · 2F, PF · 3G / 3F up"),
        ("aws_position", ("F", "1G", "2F"), "F, 1G, 2F"),  # as AWS A3.0 names them
        ("weld_type", ("butt_cjp", "butt_pjp"), "butt weld, full or partial penetration"),
        ("weld_type", ("butt_pjp", "fillet", "butt_cjp"), "butt weld, full or partial penetration or fillet weld"),
        ("weld_type", ("butt_pjp", "fillet"), "butt weld, partial penetration or fillet weld"),
        ("weld_type", ("fillet",), "fillet weld"),
        ("run_type", (), "none"),
        ("position", ("PZ",), "PZ"),
    ],
)
def test_several_terms(variable: str, tokens: tuple[str, ...], said: str) -> None:
    assert terms_words(variable, tokens) == said


def test_backing_of_whatever_material_is_not_called_steel() -> None:
    assert term_words("weld_detail", "ss_mb") == "ss mb (with backing)"


def test_words_with_a_comma_of_their_own_are_parted_by_semicolons() -> None:
    assert listed(["fillet weld", "plug or slot weld"]) == "fillet weld, plug or slot weld"
    said = listed(["butt weld, full penetration", "butt weld, partial penetration"])
    assert said == "butt weld, full penetration; butt weld, partial penetration"
