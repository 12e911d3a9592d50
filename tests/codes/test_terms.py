"""Names of terms as a list to choose from shows them."""

import pytest

from codes.terms import TERMS, term, tokens


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
