"""ISO terms and names said again in US terms: only where it follows, never over what is stated."""

import pytest

from codes.door.answer import answer
from codes.door.question import read_question
from codes.parse import BadField, parse_values
from codes.us_terms import with_us_terms


@pytest.mark.parametrize(
    ("weld", "position", "aws", "progression"),
    [
        ("butt_cjp", "PA", "1G", None),
        ("butt_cjp", "PC", "2G", None),
        ("butt_cjp", "PF", "3G", "uphill"),
        ("butt_pjp", "PG", "3G", "downhill"),
        ("butt_cjp", "PE", "4G", None),
        ("butt_cjp", "PH", "5G", "uphill"),
        ("butt_cjp", "J-L045", "6G", "downhill"),
        ("fillet", "PA", "1F", None),
        ("fillet", "PB", "2F", None),
        ("fillet", "PD", "4F", None),
        ("fillet", "PG", "3F", "downhill"),
        # The two systems part here: nothing is said.
        ("fillet", "PC", None, None),
        ("butt_cjp", "PB", None, None),
    ],
)
def test_positions(weld: str, position: str, aws: str | None, progression: str | None) -> None:
    found = with_us_terms(parse_values({"weld_type": weld, "position": position}))
    assert (found.get("aws_position"), found.get("progression")) == (aws, progression)


def test_several_positions_all_or_none() -> None:
    found = with_us_terms(parse_values({"weld_type": "fillet", "position": ["PB", "PF"]}))
    assert (found["aws_position"], found["progression"]) == (("2F", "3F"), "uphill")
    assert "aws_position" not in with_us_terms(parse_values({"weld_type": "fillet", "position": ["PB", "PC"]}))


def test_what_is_stated_stays() -> None:
    stated = parse_values({"weld_type": "butt_cjp", "position": "PF", "aws_position": "2G", "f_number": "F1"})
    stated |= parse_values({"filler_designation": "E7018", "p_number": "P8", "steels": "A36"})
    assert with_us_terms(stated) == stated


def test_without_the_weld_type_or_the_position_nothing_follows() -> None:
    for plain in ({"position": "PA"}, {"weld_type": "fillet"}, {}):
        assert with_us_terms(parse_values(plain)) == parse_values(plain)


@pytest.mark.parametrize(("filler", "group"), [("E7018", "F4"), ("ER70S-6", "F6"), ("G 42 4 M21 3Si1", None)])
def test_f_numbers(filler: str, group: str | None) -> None:
    assert with_us_terms(parse_values({"filler_designation": filler})).get("f_number") == group


@pytest.mark.parametrize(
    ("steels", "number"),
    [("A36", "P1"), (["A36", "304L"], ("P1", "P8")), ("S355J2", "unassigned"), ({"group": "1.2"}, None)],
)
def test_p_numbers(steels: object, number: object) -> None:
    assert with_us_terms(parse_values({"steels": steels})).get("p_number") == number


PIECE = {
    "unit_system": "us",
    "process": "111",
    "filler_designation": "E7018",
    "weld_type": "butt_cjp",
    "product": "plate",
    "parent_t": "25.4",
    "aws_position": ["3G", "4G"],
    "progression": "up",
    "weld_detail": "ss_mb",
}
JOINT = {
    "process": "111",
    "mechanisation": "manual",
    "weld_type": "butt_cjp",
    "product": "plate",
    "parent_t": "12",
    "position": "PC",
    "weld_detail": "ss_mb",
    "filler_designation": "E7018",
}


def test_a_joint_in_iso_terms_is_answered_by_a_us_record_found_by_code_and_kind() -> None:
    record = {"code": "AWS D1.1:2020", "kind": "welder", "tested": PIECE}
    question = read_question({"record": record, "demand": JOINT})
    assert question.records[0].edition.key == "AWS D1.1:2020 welder"
    assert (question.demand["aws_position"], question.demand["f_number"]) == ("2G", "F4")
    assert "p_number" not in question.demand
    assert answer(question)["outcome"] == "covered"


def test_an_iso_record_is_asked_in_iso_terms_only() -> None:
    record = {"code": "ISO 9606-1:2012", "tested": {"process": "111"}}
    question = read_question({"record": record, "demand": JOINT})
    assert question.demand == parse_values(JOINT)


def test_a_kind_that_the_code_has_no_book_for_is_refused() -> None:
    with pytest.raises(BadField, match="has records of kind welder, not operator"):
        read_question({"record": {"code": "ISO 9606-1:2012", "kind": "operator"}, "demand": JOINT})
