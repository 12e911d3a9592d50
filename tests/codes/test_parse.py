"""Plain data in and out: words as people write them, and messages that name field and remedy."""

from decimal import Decimal as D

import pytest

from codes.editions import all_editions
from codes.parse import BadField, parse_value, parse_values, to_plain
from codes.readings import in_reading, reading_name
from codes.terms import UnknownTerm, both_names, parse_term, tokens
from codes.values import Interval, Steel, SteelPair
from codes.variables import VARIABLES, Kind, Variable, register
from codes.vocabulary import ALIASES, TERMS


@pytest.mark.parametrize(
    ("vocabulary", "word", "token"),
    [
        ("process", "135", "135"),
        ("process", "smaw", "111"),
        ("position", "pb", "PB"),
        ("position", "H-LO45", "H-L045"),
        ("run_type", "ml", "multi_run"),
        ("weld_type", "BW", "butt_cjp"),
        ("mechanisation", "semiautomatic", "partly_mechanised"),
        ("weld_detail", "ss nb", "ss_nb"),
        ("yes_no", "Ja", "yes"),
    ],
)
def test_words_as_people_write_them(vocabulary, word, token):
    assert parse_term(vocabulary, word) == token


def test_an_unknown_word_names_the_known_ones():
    with pytest.raises(UnknownTerm, match=r"butt_cjp or full-penetration butt weld; .*; fillet;"):
        parse_term("weld_type", "spot weld")
    with pytest.raises(UnknownTerm) as caught:
        parse_term("weld_type", "spot weld")
    assert "use one of: full-penetration butt weld;" in caught.value.in_words and "_" not in caught.value.in_words
    with pytest.raises(UnknownTerm, match=r"PA.*PB"):
        parse_term("position", "XX")


def test_every_alias_and_every_vocabulary_leads_somewhere():
    for vocabulary, aliases in ALIASES.items():
        for alias, token in aliases.items():
            assert token in TERMS[vocabulary], (vocabulary, alias)
    for variable in VARIABLES.values():
        if variable.kind is Kind.TERM:
            assert tokens(variable.vocabulary)


def test_both_names_of_a_process_and_a_position():
    assert both_names("process", "135") == "135 · GMAW"
    assert both_names("position", "PB") == "PB · 2F"


@pytest.mark.parametrize(
    ("vocabulary", "token", "said"),
    [
        ("mechanisation", "manual", "manual"),
        ("weld_type", "fillet", "fillet weld"),
        ("plasma_mode", "keyhole", "keyhole"),
        ("transfer_mode", "pulsed", "P · GMAW-P"),
        ("qualification_route", "none", "no qualification"),
    ],
)
def test_two_names_that_say_the_same_are_said_once(vocabulary: str, token: str, said: str):
    assert both_names(vocabulary, token) == said


@pytest.mark.parametrize(
    ("name", "plain", "problem"),
    [
        ("deposit_t", "-3", "negative"),
        ("deposit_t", "three", "not a number"),
        ("deposit_t", True, "must be a number"),
        ("deposit_t", "1e9", "is too large; figures below a million are read"),
        ("deposit_t", "NaN", "not a usable number"),
        ("deposit_t", {"min": 5, "max": 3}, "lies above"),
        ("deposit_t", {"from": 5}, "min and max"),
        ("position", "upside down", "use one of"),
        ("position", {"a": 1}, "must be a word"),
        ("on", "31.12.2026", "2026-03-31"),
        ("steels", 5, "one or two steels"),
        ("steels", [{"group": "1.1"}] * 3, "one or two"),
        ("steels", {"grup": "1.1"}, "nothing else"),
    ],
)
def test_bad_values_name_the_field_and_the_remedy(name, plain, problem):
    with pytest.raises(BadField, match=problem) as caught:
        parse_value(VARIABLES[name], plain)
    assert caught.value.field in (name, "yield_mpa")


def test_an_unknown_variable_is_refused():
    with pytest.raises(BadField, match="not a known variable"):
        parse_values({"thickness": 3})
    with pytest.raises(BadField, match="not a known variable"):
        parse_values({"position": "PA"}, names=["process"])


def test_blank_is_not_stated_and_temperatures_may_be_negative():
    assert parse_values({"position": "", "deposit_t": None, "impact_temperature": "-20"}) == {
        "impact_temperature": D(-20)
    }


@pytest.mark.parametrize(
    "value",
    [
        D("3.6"),
        "PA",
        ("PA", "PC"),
        Interval(D(3), None, "mm"),
        Interval(D(3), D(5), "mm", True, True),
        SteelPair(Steel("1.2", D(355), "S355J2"), Steel("1.1", D(235))),
        (SteelPair(Steel("1.2", D(355)), Steel("1.1", D(235))), SteelPair(Steel("2.1", D(420)), Steel("2.1", D(420)))),
    ],
)
def test_plain_and_back(value):
    name = "position" if value in ("PA", ("PA", "PC")) else "deposit_t"
    first = value[0] if isinstance(value, tuple) else value
    name = "steels" if isinstance(first, SteelPair) else name
    assert parse_value(VARIABLES[name], to_plain(value)) == value


def test_a_variable_cannot_change_its_meaning():
    register(VARIABLES["position"])
    with pytest.raises(ValueError, match="already defined"):
        register(Variable("position", "Something else", Kind.TEXT))


@pytest.mark.parametrize(
    ("name", "plain", "value"),
    [
        ("parent_t", "3/8 in", "9.525"),
        ("parent_t", "1-1/2 in", "38.1"),
        ("parent_t", "1 1/2 inch", "38.1"),
        ("parent_t", '5/16"', "7.9375"),
        ("parent_t", {"value": "3/8", "unit": "in"}, "9.525"),
        ("parent_t", {"value": 0.75, "unit": "in"}, "19.05"),
        ("parent_t", "10 mm", "10"),
        ("preheat", "212 F", "100"),
        ("preheat", "-4 °F", "-20"),
        ("travel_speed", "10 ipm", "254"),
        ("wire_feed", "250 in/min", "6.35"),
        ("gas_flow", "60 cfh", "28.316846592"),
        ("current", "250 A", "250"),
        ("groove_angle", "45 deg", "45"),
    ],
)
def test_figures_with_their_unit_convert_by_the_exact_factor(name, plain, value):
    assert parse_value(VARIABLES[name], plain) == D(value)


def test_a_range_in_inches_and_a_yield_in_ksi():
    found = parse_value(VARIABLES["parent_t"], {"min": "1/8", "max": "3/4", "unit": "in"})
    assert found == Interval(D("3.175"), D("19.05"), "mm")
    steels = parse_value(VARIABLES["steels"], {"grade": "A36", "yield_mpa": "36 ksi"})
    assert isinstance(steels, SteelPair) and round(steels.first.yield_mpa, 3) == D("248.211")


@pytest.mark.parametrize(
    ("name", "plain", "problem"),
    [
        ("parent_t", "3/8", "write its unit"),
        ("parent_t", "1 yd", '"yd" is not a unit of this field; use mm or in'),
        ("parent_t", {"min": 1, "max": 2, "unit": "yd"}, "use mm or in"),
        ("parent_t", {"value": "3/8 in", "unit": "mm"}, "state one unit"),
        ("parent_t", "3/0 in", "divides by nought"),
        ("parent_t", {"value": 1, "of": "in"}, "write an amount as"),
        ("parent_t", "0.375 °F", "use mm or in"),
        ("current", "250 V", "use A"),
        ("electrodes", "2 in", "leave it out"),
        ("travel_speed", "1,500", "can be read in two ways; write 1.500 or 1500"),
        ("parent_t", {"min": "1,500", "max": "3"}, "can be read in two ways"),
        ("preheat", "1/2 °F", "is a fraction"),
        ("steels", {"grade": "A36", "yield_mpa": "36 psf"}, "use MPa or ksi"),
    ],
)
def test_units_that_are_not_known_here_are_refused(name, plain, problem):
    with pytest.raises(BadField, match=problem) as caught:
        parse_value(VARIABLES[name], plain)
    assert caught.value.field in (name, "yield_mpa")


@pytest.mark.parametrize(
    ("key", "said"),
    [
        ("aws_d1_1_prequalified_saw_speed", "prequalified SAW speed"),
        ("15614-1 run type", "run type"),
        ("asme ix P-number of a grade", "P-number of a grade"),
        ("yield_by_band", "yield by band"),
    ],
)
def test_a_reading_is_named_without_the_standard_that_its_clause_names(key: str, said: str):
    assert reading_name(key) == said


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("yield_by_band (8.3.1): by grade: one figure", "yield by band (8.3.1): one figure"),
        ("iso_9606_1_plate_branch (5.4 c): strict: on pipe", "plate branch (5.4 c): strict: on pipe"),
        ("aws_d1_1_saw_speed (QW-322.1(a)): wide: as: is", "SAW speed (QW-322.1(a)): lenient: as: is"),
        ("yield_by_band (8.3.1): strict", "yield by band (8.3.1): strict"),
    ],
)
def test_a_reading_used_is_told_without_the_key_of_its_option(line: str, said: str) -> None:
    assert in_reading(line) == said


def test_a_reading_stands_by_itself_and_answers_no_question() -> None:
    """Beside a verdict its question does not stand: "yes, as for full penetration" told nobody anything."""
    switches = {switch.key: switch for edition in all_editions() for switch in edition.switches}.values()
    said = [meaning for switch in switches for meaning in switch.options.values()]
    assert not [one for one in said if one.partition(",")[0].partition(":")[0] in ("yes", "no")]
