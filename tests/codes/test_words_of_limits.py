"""What a limit says beside its figures: whose it is, its line and reading, and how a size or an angle is written."""

from datetime import date
from decimal import Decimal as D

import pytest

from codes.asme_ix_people_2021 import position_rows as asme_rows
from codes.aws_d1_1_people_2020 import position_rows as aws_rows
from codes.aws_d1_1_people_2020.validity import WELDER
from codes.aws_d1_1_prequalified import limit_sets as prequalified_sets
from codes.check import best
from codes.clauses import Mark
from codes.continuity import continuity_periods
from codes.editions import edition
from codes.iso_14732_2013.mechanised import backing_limits
from codes.limits import Limit, OneOf, When, Within
from codes.readings import DEFAULTS
from codes.units import System, amount_in
from codes.validity import ValidityInput
from codes.values import Interval, Steel
from tests.codes import asme_ix_cases, aws_cases, procedure_cases
from tests.codes.aws_cases import changes, values
from tests.codes.aws_written import BASES
from tests.codes.test_aws_d1_1_people_cases import BASES as PEOPLE


def aws_limits(base: str, record: str, name: str) -> list[Limit]:
    (limits,) = edition("AWS D1.1:2020").limit_sets(aws_cases.record_of(base, record), {})
    return [limit for limit in limits.limits if limit.variable == name]


@pytest.mark.parametrize(
    ("record", "labels"),
    [
        ("", ["process 111"]),
        ("piece=A", ["coupon A, process 111"]),
        ("process=141 || process=111", ["coupon 1, process 141", "coupon 1, process 111"]),
        ("process=141; place=root || process=111", ["coupon 1, process 141 (root)", "coupon 1, process 111"]),
        ("place=root", ["process 111"]),
    ],
)
def test_a_coupon_is_named_where_it_has_a_name(record: str, labels: list[str]) -> None:
    """ASME IX: the label of a set says of which coupon and process it is."""
    found = asme_ix_cases.sets_of(asme_ix_cases.made(record))
    assert [one.label for one in found][: len(labels)] == labels


def test_a_test_piece_is_named_where_it_has_a_name() -> None:
    """ISO 15614-1: likewise, and the place only where other processes share the piece."""
    code = edition("ISO 15614-1:2017")
    for record, labels in (
        ("", ["process 135"]),
        ("piece=7", ["piece 7, process 135"]),
        ("place=root", ["process 135"]),
        (
            "process=141; place=root || process=135; place=fill",
            ["piece 1, process 141 (root)", "piece 1, process 135 (fill)"],
        ),
        ("process=135; place=root || process=135; place=fill", ["piece 1, process 135", "piece 1, process 135"]),
    ):
        row = {"base": "butt 135", "record": record}
        found = code.limit_sets(procedure_cases.record_of(row), {})
        assert [one.label for one in found][: len(labels)] == labels


@pytest.mark.parametrize(("system", "said"), [("us", "coupon T = 12.7 mm (0.5 in):"), ("si", "coupon T = 12.7 mm:")])
def test_a_record_in_inches_says_inches_too(system: str, said: str) -> None:
    """ASME IX: the figures of the code are those of the record's own system."""
    (limits, *_) = asme_ix_cases.sets_of(asme_ix_cases.made(f"unit_system={system}; parent_t=0.5in"))
    assert any(one.because.startswith(said) for one in limits.limits if one.variable == "parent_t")


def test_angles_and_openings_are_written_in_their_units() -> None:
    """AWS D1.1, Table 6.5, line 33."""
    (angle,), (opening,) = (aws_limits("GMAW", "groove_angle=45", n) for n in ("groove_angle", "root_opening"))
    assert angle.tested == "45°" and "°, smaller by" in angle.because and angle.because.count("°") == 2
    assert "°" not in opening.because and "in" in opening.because


@pytest.mark.parametrize(("base", "line"), [("SAW", "2015 lines 7 to 9"), ("GTAW", "2015 line 6")])
def test_the_line_of_added_filler_is_that_of_the_process(base: str, line: str) -> None:
    (limit,) = aws_limits(base, "", "extra_filler")
    assert limit.clause.ref.endswith(line)


def test_the_reading_of_preheat_stands_with_the_category_it_decides() -> None:
    """Table 5.8: A913 of category C is the doubtful row."""
    written = values(BASES["SMAW groove"])
    found = [one for one in prequalified_sets([written], {})[0].limits if one.variable == "preheat"]
    readings = {one.because.split(",")[0]: bool(one.readings) for one in found if one.because.startswith("category")}
    assert readings == {"category A": False, "category B": False, "category C": True, "category D": False}


@pytest.mark.parametrize(
    ("base", "text", "outcome"),
    [
        ("SMAW fillet", "filler_designation=E6010; leg_z=3/16in; parent_t=3/4in|1/4in", "not stated"),
        ("SMAW fillet", "filler_designation=E7018; leg_z=1/8in; parent_t=3/4in|1/4in", "covered"),
        ("SMAW PJP", "filler_designation=E6010; deposit_t=3/16in; parent_t=1in", "outside"),
    ],
)
def test_a_small_weld_may_be_saved_by_the_thinner_part_where_that_is_a_rule(base: str, text: str, outcome: str) -> None:
    """Table 7.7, note: a fillet need not exceed the thinner part; the table of PJP sizes has no such way out."""
    written = values(BASES[base] | changes(text))
    found = [
        f.outcome.value for f in best(written, prequalified_sets([written], {})).findings if f.variable == "parent_t"
    ]
    assert outcome in found and (outcome == "outside") is ("outside" in found), found


@pytest.mark.parametrize(
    ("detail", "reason"), [("ci", "consumable_insert"), ("ss_nb", "backing"), ("ss_mb", "backing")]
)
def test_the_reason_of_a_root_names_the_insert(detail: str, reason: str) -> None:
    """ISO 14732:2013, 4.1 (consumable insert and backing are essential)."""
    (limit,) = backing_limits({"weld_detail": detail}, DEFAULTS)
    assert limit.reason == reason


@pytest.mark.parametrize(
    ("value", "unit", "system", "words"),
    [
        ("45", "°", System.SI, "45°"),
        ("45", "°", System.US, "45°"),
        ("100", "°C", System.SI, "100 °C"),
        ("100", "°C", System.US, "212 °F"),
        ("25.4", "mm", System.US, "1 in"),
        ("3", "", System.US, "3"),
    ],
)
def test_figure_and_unit_as_printed(value: str, unit: str, system: System, words: str) -> None:
    """SI brochure, 9th edition, 5.4.3: a space before the unit, none before the degree of an angle."""
    assert amount_in(D(value), unit, system) == words


@pytest.mark.parametrize(
    ("base", "record", "name", "reading", "said"),
    [
        ("butt 135", "parent_t=29.9", "parent_t", "thicker part", False),
        ("butt 135", "parent_t=30", "parent_t", "thicker part", True),
        ("butt 135", "parent_t=30; joint_type=tee", "parent_t", "thicker part", False),
        ("butt 135", "parent_t=40; run_type=single_run", "parent_t", "single run above", False),
        ("butt 135", "parent_t=40.1; run_type=single_run", "parent_t", "single run above", True),
        ("butt 135", "parent_t=100; run_type=single_run", "parent_t", "single run above", True),
        ("butt 135", "parent_t=100.1; run_type=single_run", "parent_t", "single run above", False),
        ("butt 135", "parent_t=60; run_type=multi_run", "parent_t", "single run above", False),
        ("fillet 135", "parent_t=3", "parent_t", "fillet thickness", False),
        ("fillet 135", "parent_t=3.1", "parent_t", "fillet thickness", True),
        ("fillet 135", "parent_t=29.9", "parent_t", "fillet thickness", True),
        ("fillet 135", "parent_t=30", "parent_t", "fillet thickness", False),
        ("butt 135", "level=2", "preheat", "preheat and interpass", True),
        ("butt 135", "level=1", "preheat", "preheat and interpass", False),
        ("butt 135", "level=2", "interpass", "preheat and interpass", True),
        ("butt 135", "level=1", "interpass", "preheat and interpass", False),
        ("butt 135", "level=2", "level", "level", True),
        ("butt 135", "level=1", "level", "level", False),
    ],
)
def test_a_reading_is_named_where_the_record_meets_its_doubt(
    base: str, record: str, name: str, reading: str, said: bool
) -> None:
    """ISO 15614-1:2017, the doubtful rows: said where they decide, and nowhere else."""
    (limits, *_) = edition("ISO 15614-1:2017").limit_sets(
        procedure_cases.record_of({"base": base, "record": record}), {}
    )
    found = [words for one in limits.limits if one.variable == name for words in one.readings]
    assert any(reading in words.partition("(")[0] for words in found) is said, found


@pytest.mark.parametrize(("preheat", "doubtful"), [("100", False), ("100..150", True), ("100..100", False)])
def test_the_end_of_a_range_of_preheat_is_a_reading(preheat: str, doubtful: bool) -> None:
    """ASME IX, QW-406.1: which end of a recorded range counts; one figure leaves no choice."""
    (limits, *_) = asme_ix_cases.sets_of(asme_ix_cases.made(f"preheat={preheat}"))
    (found,) = [one for one in limits.limits if one.variable == "preheat" and one.tested]
    assert bool(found.readings) is doubtful


@pytest.mark.parametrize(("year", "doubtful"), [(2017, False), (2019, False), (2021, True), (2023, True)])
def test_transfer_is_a_reading_from_2021_on(year: int, doubtful: bool) -> None:
    """ASME IX, QW-409.2: until 2019 essential; from 2021 a doubt."""
    (limits, *_) = asme_ix_cases.sets_of(asme_ix_cases.made(base="GMAW", year=year))
    (found,) = [one for one in limits.limits if one.variable == "transfer_mode" and one.tested]
    assert bool(found.readings) is doubtful


@pytest.mark.parametrize(
    ("steels", "readings"),
    [
        ("A992 / A992", 0),
        ("A36 / A36", 1),
        ("A992 / A36", 2),
        ("A36 / A992", 2),
        ("A514 / A514", 0),
        ("A572 Gr 50 / A992", 0),
    ],
)
def test_groups_of_steels_are_a_reading_where_they_mix_or_change(steels: str, readings: int) -> None:
    """D1.1, Table 6.8: Group I to II, and grades of which the group hangs on the thickness."""
    found = aws_limits("GMAW", f"steels={steels}", "steels")
    assert {len(one.readings) for one in found} == {readings}, found


def test_which_rows_of_positions_were_seen_and_which_are_from_memory() -> None:
    """AWS D1.1: Table 6.10 in full, of Table 10.12 the rows of 4F and 5F. ASME IX: QW-461.9, grooves but 6G, pairs.

    Of the plates 3G and 4G together, grooves in small pipe are from memory.
    """
    seen = {(row.product, "+".join(row.tested)) for row in aws_rows.ROWS if row.clause.mark is Mark.CONFIRMED}
    plate = {("plate", name) for name in ["1G", "2G", "3G", "4G", "3G+4G", "1F", "2F", "3F", "4F", "3F+4F"]}
    assert seen == plate | {("pipe", "4F"), ("pipe", "5F")}
    seen = {(row.product, "+".join(row.tested)) for row in asme_rows.ROWS if row.clause.mark is Mark.CONFIRMED}
    plate = {("plate", name) for name in ["1G", "2G", "3G", "4G", "2G+3G+4G"]}
    assert seen == plate | {("pipe", name) for name in ("1G", "2G", "5G")}
    partly = ["+".join(row.tested) for row in asme_rows.ROWS if row.clause.mark is Mark.PART]
    assert partly == ["3G+4G"]


@pytest.mark.parametrize(
    ("t", "mark"), [("0.999in", Mark.MEMORY), ("1in", Mark.CONFIRMED), ("1.001in", Mark.CONFIRMED)]
)
def test_the_row_of_thick_plates_was_seen(t: str, mark: Mark) -> None:
    """D1.1, Table 6.2: the row of 1 in and over by a forum of the AWS, the others from memory."""
    found = [one for one in aws_limits("GMAW", f"parent_t={t}", "parent_t") if one.because.startswith("tested T")]
    assert {one.clause.mark for one in found} == {mark}


@pytest.mark.parametrize(
    ("results", "said"),
    [("", "piece was welded"), ("2024-01-15", "piece was welded"), ("2024-01-16", "results were accepted")],
)
def test_what_opened_a_qualification(results: str, said: str) -> None:
    """AWS D1.1, 6.2.3: from the day of the test, or the later one of its results."""
    accepted = date.fromisoformat(results) if results else None
    life = ValidityInput(date(2024, 1, 15), results_on=accepted, facts={"process": "135", "employer": "North"})
    (period,) = continuity_periods(life, WELDER).periods
    assert period.opened.endswith(said)


@pytest.mark.parametrize(
    ("condition", "said"),
    [
        (When("p_number", OneOf(("P1",))), "P-number is P-1"),
        (When("gas_co2", Within(Interval(D(15), D(25), "%"))), "CO2 content is 15 to 25 %"),
        (When("aws_position", OneOf(("1G",)), True), "AWS position is not 1G"),
        (When("run_type", OneOf(("multi_run",))), "run type is multi run (multi layer)"),
    ],
)
def test_symbols_and_numbers_keep_their_capital_inside_a_sentence(condition: When, said: str) -> None:
    assert str(condition) == said


@pytest.mark.parametrize(
    ("group", "said"), [("1.2", "group 1.2"), ("II", "group II"), ("P-1 Gr 1", "P-1 Gr 1"), ("", "steel not stated")]
)
def test_a_p_number_is_no_group_twice(group: str, said: str) -> None:
    assert str(Steel(group)) == said


@pytest.mark.parametrize(
    ("system", "t", "said"),
    [("us", "9.525", "tested T = 9.525 mm (0.375 in), US set: "), ("si", "10", "tested T = 10 mm, SI set: ")],
)
def test_a_plate_of_a_us_record_says_its_inches(system: str, t: str, said: str) -> None:
    piece = values(PEOPLE["welder"][0] | {"unit_system": system, "parent_t": t})
    (limits,) = edition("AWS D1.1:2020 welder").limit_sets([piece], {})
    assert said in " ".join(limit.because for limit in limits.limits if limit.variable == "parent_t")
