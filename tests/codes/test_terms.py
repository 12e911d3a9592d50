"""Names of terms as a list to choose from shows them."""

import pytest

from codes.terms import TERMS, parse_term, term, tokens


@pytest.mark.parametrize(
    ("vocabulary", "token", "said"),
    [
        ("weld_type", "fillet", "fillet weld"),
        ("mechanisation", "manual", "manual welding"),
        ("mechanisation", "partly_mechanised", "partly mechanised · semiautomatic"),
        ("product", "plate", "P · plate"),
        ("process", "135", "135 · GMAW"),
        ("qualification_route", "none", "no qualification"),
    ],
)
def test_the_longer_name_stands_alone_where_it_says_all(vocabulary: str, token: str, said: str) -> None:
    """The names are those of ISO/TR 25901 and AWS A3.0, from memory."""
    assert term(vocabulary, token).named == said


def test_each_term_has_a_name() -> None:
    assert not [(v, t) for v in TERMS for t in tokens(v) if not term(v, t).named.strip()]


@pytest.mark.parametrize(
    ("token", "said"),
    [
        ("procedure_test", "welding procedure test (4.1 a)"),
        ("pre_production", "pre-production welding test (4.1 b)"),
        ("test_piece", "test piece (4.1 c)"),
        ("production_test", "production test (4.1 d)"),
    ],
)
def test_what_an_operator_is_qualified_by_is_said_and_read_by_its_letter_too(token: str, said: str) -> None:
    """ISO 14732:2013, 4.1."""
    assert term("operator_method", token).both == said
    for word in (said, said[-2], f"ISO 14732 4.1 {said[-2]}"):
        assert parse_term("operator_method", word) == token
