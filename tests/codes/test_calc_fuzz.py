"""Whatever is asked, the door answers or refuses in words: no calculation falls over."""

import json

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from codes.__main__ import main
from codes.calc.calculation import Input, Kind
from codes.calc.registry import calculations
from codes.terms import tokens

ODD = st.sampled_from(
    [None, "", "x", True, [], {}, [1], "1e-300", "1e300", "nan", "-0", "0", "3 in", {"value": 1}, "9" * 99]
)
FIGURES = st.one_of(
    st.integers(1, 500),
    st.decimals("0.001", "5", places=3).map(str),
    st.sampled_from(["0.000001", "999999", "0.5", "90", "180", "-180", "60", "1000000", "0", "1e-11", "-5"]),
)
WORDS = st.sampled_from(["A", "B", "C", "Nb", "x", "mm", "kJ/in", "°F", "D"])
PAIR = st.lists(FIGURES, min_size=2, max_size=2)


def plain(one: Input) -> st.SearchStrategy[object]:
    """Inputs that fit the kind, and some that do not."""
    analysis = st.dictionaries(st.sampled_from(["C", "Mn", "Si", "Cr", "Mo", "V", "Ni", "Cu", "Xx"]), FIGURES)
    line = st.fixed_dictionaries({"preheat": FIGURES, "points": st.lists(PAIR, max_size=3)})
    by_kind: dict[Kind, st.SearchStrategy[object]] = {
        Kind.NUMBER: FIGURES,
        Kind.NUMBERS: st.lists(FIGURES, max_size=4),
        Kind.RANGE: st.one_of(PAIR, FIGURES, st.fixed_dictionaries({"min": FIGURES, "max": FIGURES})),
        Kind.TERM: st.sampled_from(list(tokens(one.vocabulary) if one.vocabulary else one.options) or ["x"]),
        Kind.TERMS: st.lists(WORDS, max_size=3),
        Kind.YES_NO: st.sampled_from(["yes", "no", True, False]),
        Kind.TEXT: WORDS,
        Kind.ANALYSIS: analysis,
        Kind.VECTOR: st.lists(FIGURES, min_size=3, max_size=3),
        Kind.PAIRS: st.lists(PAIR, max_size=3),
        Kind.LINES: st.lists(line, max_size=3),
    }
    # Mostly what fits, so that the formulas themselves are reached.
    return st.one_of(*[by_kind[one.kind]] * 9, ODD)


@pytest.mark.parametrize("name", calculations())
@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(data=st.data())
def test_the_door_always_answers_in_words(name: str, data: st.DataObject) -> None:
    stated = [one for one in calculations()[name].inputs if one.needed == "always" or data.draw(st.booleans())]
    inputs = {one.name: data.draw(plain(one)) for one in stated}
    units = data.draw(st.sampled_from(["si", "us"]))
    code, text = main([], json.dumps({"calculation": name, "inputs": inputs, "units": units}).encode())
    answer = json.loads(text)
    assert code in (0, 3)
    assert answer["outcome"] == "answered" if code == 0 else answer["error"]["problem"]
