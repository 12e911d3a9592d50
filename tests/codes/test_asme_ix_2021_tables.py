"""ASME IX procedures: tables against the figures of the code, both unit systems, each edge and one step outside."""

from decimal import Decimal
from decimal import Decimal as D

import pytest
from hypothesis import given
from hypothesis import strategies as st

from codes.asme_ix_2021 import EDITIONS, NOT_JUDGED
from codes.asme_ix_2021.edition_table import TOPICS, stands
from codes.asme_ix_2021.listed import COLUMNS, LISTED, listed
from codes.asme_ix_2021.metals import covered_pairs
from codes.asme_ix_2021.table_451 import LONGITUDINAL, TRANSVERSE, row_for
from codes.asme_ix_metals import DEPOSITS, USUAL_A_NUMBERS, a_numbers, base_metal, metal_key
from codes.clauses import Mark
from codes.unit_sets import System
from codes.units import INCH_MM
from codes.values import Steel
from codes.vocabulary import TERMS
from tests.codes.asme_ix_cases import BASES, made, outcome_of, sets_of

STEP = D("0.001")
GRID: dict[System, list[tuple[str, str, str]]] = {
    # T, lowest base, highest base: the row's ends, and one step past each
    "si": [
        ("1.499", "1.499", "2.998"), ("1.5", "1.5", "3"), ("10", "1.5", "20"), ("10.001", "5", "20.002"),
        ("18.999", "5", "37.998"), ("19", "5", "38"), ("37.999", "5", "75.998"), ("38", "5", "200"),
        ("150", "5", "200"), ("150.001", "5", "199.50133"), ("200", "5", "266"),
    ],
    "us": [
        ("0.062", "0.062", "0.124"), ("0.0625", "0.0625", "0.125"), ("0.375", "0.0625", "0.75"),
        ("0.376", "0.1875", "0.752"), ("0.749", "0.1875", "1.498"), ("0.75", "0.1875", "1.5"),
        ("1.499", "0.1875", "2.998"), ("1.5", "0.1875", "8"), ("6", "0.1875", "8"), ("6.001", "0.1875", "7.98133"),
    ],
}  # fmt: skip
POINTS = [(system, *point) for system, points in GRID.items() for point in points]


def mm(figure: str, system: System) -> Decimal:
    return D(figure) * (INCH_MM if system == "us" else 1)


@pytest.mark.parametrize(("system", "t", "lo", "hi"), POINTS)
def test_base_thickness(system: System, t: str, lo: str, hi: str) -> None:
    record = f"unit_system={system}; parent_t={mm(t, system)}"
    base = "GTAW"  # has no rule for thick passes
    for end, inside in ((lo, 0), (hi, 0), (lo, -STEP), (hi, STEP)):
        figure = mm(end, system) + inside
        found = outcome_of(made(record, f"parent_t={figure}; deposit_t=0.5", base))
        assert found == (("outside", "base_thickness") if inside else ("covered", "")), (figure, end)


@pytest.mark.parametrize(
    ("system", "t", "deposit", "most"),
    [
        ("si", "18", "18", "36"), ("si", "19", "18.999", "37.998"), ("si", "19", "19", "38"), ("si", "30", "19", "60"),
        ("si", "38", "18.9", "37.8"), ("si", "38", "19", "200"), ("si", "150", "19", "200"),
        ("si", "160", "18", "36"), ("si", "160", "19", "212.8"), ("us", "1.5", "0.749", "1.498"),
        ("us", "1.5", "0.75", "8"), ("us", "0.75", "0.75", "1.5"), ("us", "7", "0.75", "9.31"),
    ],
)  # fmt: skip
def test_deposit(system: System, t: str, deposit: str, most: str) -> None:
    record = f"unit_system={system}; parent_t={mm(t, system)}; deposit_t={mm(deposit, system)}"
    for step, expect in ((D(0), ("covered", "")), (STEP, ("outside", "deposit_thickness"))):
        demand = f"parent_t={mm(t, system)}; deposit_t={mm(most, system) + step}"
        assert outcome_of(made(record, demand, "GTAW")) == expect


@pytest.mark.parametrize("rows", [TRANSVERSE, LONGITUDINAL])
@given(t=st.decimals("0.001", "500", places=3), system=st.sampled_from(["si", "us"]))
def test_every_coupon_has_one_row_and_a_range_around_itself(rows: tuple, t: Decimal, system: System) -> None:
    serving = [row for row in rows if row.serves(system).holds(t)]
    assert len(serving) == 1
    assert serving[0].lowest(t, system) <= t <= serving[0].highest(t, system)
    assert serving[0].deposit(t, t, system) >= t


def test_no_row_for_no_thickness() -> None:
    assert row_for(TRANSVERSE, D(0), "si") is None


@pytest.mark.parametrize(
    ("t", "least"), [("5.9", "2.95"), ("6", "6"), ("15.9", "15.9"), ("16", "16"), ("17", "16"), ("60", "16")]
)
def test_lowest_thickness_for_toughness(t: str, least: str) -> None:
    record = f"impact_tested=yes; parent_t={t}"
    assert outcome_of(made(record, f"impact_required=yes; parent_t={least}", "GTAW")) == ("covered", "")
    below = f"impact_required=yes; parent_t={D(least) - STEP}; deposit_t=1"
    assert outcome_of(made(record, below, "GTAW")) == ("outside", "base_thickness")


PAIRS = {
    ("P1", "P1"): {("P1", "P1")},
    ("P8", "P1"): {("P8", "P1")},
    ("P3", "P3"): {("P3", "P3"), ("P3", "P1")},
    ("P4", "P4"): {("P4", "P4"), ("P4", "P3"), ("P4", "P1")},
    ("P4", "P3"): {("P4", "P3"), ("P4", "P1")},
    ("P4", "P1"): {("P4", "P3"), ("P4", "P1")},
    ("P5A", "P5A"): {("P5A", "P5A"), ("P5A", "P4"), ("P5A", "P3"), ("P5A", "P1")},
    ("P5A", "P4"): {("P5A", "P4"), ("P5A", "P3"), ("P5A", "P1")},
    ("P5A", "P3"): {("P5A", "P4"), ("P5A", "P3"), ("P5A", "P1")},
    ("P5A", "P1"): {("P5A", "P4"), ("P5A", "P3"), ("P5A", "P1")},
    ("P5B", "P5B"): {("P5B", "P5B")},
    ("P15E", "P15E"): {("P15E", "P15E"), ("P5B", "P15E"), ("P5B", "P5B")},
    ("P8", "P15E"): {("P8", "P15E"), ("P8", "P5B")},
}


@pytest.mark.parametrize("tested", PAIRS)
def test_pairs_of_p_numbers(tested: tuple[str, str]) -> None:
    covered = PAIRS[tested]
    assert {tuple(sorted(pair)) for pair in covered_pairs([tested])} == {tuple(sorted(pair)) for pair in covered}
    names = ("P1", "P3", "P4", "P5A", "P5B", "P5C", "P15E", "P8")
    for i, one in enumerate(names):
        for other in names[i:]:
            row = made(f"steels=P-{tested[0][1:]} / P-{tested[1][1:]}", f"steels=P-{one[1:]} / P-{other[1:]}")
            inside = {(one, other), (other, one)} & covered
            assert outcome_of(row) == (("covered", "") if inside else ("outside", "p_number")), (one, other)


@pytest.mark.parametrize(
    ("written", "number"),
    [
        ("SA-516 Gr. 70", "P-1 Gr 2"), ("A516 Grade 60", "P-1 Gr 1"), ("A36", "P-1 Gr 1"), ("A572-50", "P-1 Gr 1"),
        ("A106 C", "P-1 Gr 2"), ("SA-335 P22", "P-5A Gr 1"), ("P-No. 5A", "P-5A"), ("P-1, Group 2", "P-1 Gr 2"),
        ("316L", "P-8 Gr 1"), ("P-No.1 Gr.No. 2", "P-1 Gr 2"),
    ],
)  # fmt: skip
def test_p_number_of_a_metal(written: str, number: str) -> None:
    assert str(base_metal(Steel(grade=written))) == number


@pytest.mark.parametrize(
    "written", ["A992", "A588", "A913 50", "A1085", "A572 60", "S355J2+N", "5L X80", "P22", "", "P-99"]
)
def test_metals_without_a_p_number(written: str) -> None:
    assert base_metal(Steel(grade=written)) is None


def test_a_number_stated_as_the_group_beside_the_grade() -> None:
    stated = base_metal(Steel(group="P1", grade="A992"))
    assert stated is not None and (str(stated), stated.mark) == ("P-1", Mark.OWN)
    assert base_metal(Steel(group="1.2", grade="S355J2")) is None


def test_spellings_of_one_grade() -> None:
    assert len({metal_key(name) for name in ("SA-106 Gr. B", "A106B", "ASTM A106 Grade B", "a/sa-106 B")}) == 1


def test_analysis_warns_of_the_a_number() -> None:
    mild = {"C": D("0.20"), "Cr": D("0.2"), "Mo": D("0.3"), "Ni": D("0.5"), "Mn": D("1.6"), "Si": D("1")}
    assert a_numbers(mild) == ("A1",)
    assert a_numbers(mild | {"C": D("0.21")}) == ()
    assert a_numbers(
        {"C": D("0.05"), "Cr": D("19"), "Mo": D("2.5"), "Ni": D("12"), "Mn": D("1.5"), "Si": D("0.5")}
    ) == ("A8",)
    assert {row.a_number for row in DEPOSITS} == set(TERMS["a_number"]) - {"none"} >= set(USUAL_A_NUMBERS.values())


def test_editions_differ_as_the_table_says() -> None:
    expected = {"405.2": {2017}, "403.10": {2017, 2019}, "404.32": {2017, 2019}}
    for paragraph, years in expected.items():
        assert {year for year in (2017, 2019, 2021, 2023) if stands(paragraph, year)} == years
    assert {paragraph for topic in TOPICS for paragraph in topic.paragraphs} == set(expected)


def test_every_essential_variable_of_the_lists_has_a_rule() -> None:
    """The rest are marked in the limits or need something the register does not hold; each is named here."""
    without = {"404.27", "404.34", "408.10", "410.11", "410.64"}  # inside 404.24 and 404.10, or refused by P-number
    record = "impact_tested=yes; pwht=yes; pwht_condition=above; max_run_t=; position=PF; weave=weave; parent_t=12.5"
    plain = "impact_tested=yes; transfer_mode=dip; position=PA; pwht=yes; pwht_condition=below"
    special = "steels=P-43; f_number=F43; backing_gas=I1; a_number="
    for family in COLUMNS:
        made_here = [made(text, "", family, 2017) for text in (record, plain, special)]
        refs = " ".join(limit.clause.ref for row in made_here for limits in sets_of(row) for limit in limits.limits)
        for row in listed(family, 2017):
            if row.kind(family) in ("E", "S", "S/N") and row.paragraph not in without:
                assert f"QW-{row.paragraph}" in refs, (family, row.paragraph)


def test_the_lists_name_known_variables_and_every_column() -> None:
    from codes.variables import VARIABLES

    for row in LISTED:
        assert len(row.kinds.split()) == 4 and set(row.kinds.split()) <= {"E", "S", "N", "S/N", "-"}
        assert set(row.variables) <= set(VARIABLES)
    assert len({row.paragraph for row in LISTED}) == len(LISTED)
    assert set(COLUMNS) == set(BASES)


def test_editions_and_names() -> None:
    assert [edition.key for edition in EDITIONS] == [f"ASME IX:{year}" for year in (2017, 2019, 2021, 2023)]
    assert "ASME IX:2015" in NOT_JUDGED and "ASME IX" in NOT_JUDGED
