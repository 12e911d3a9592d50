"""ASME IX procedures: the lists of variables and the process families, laid beside the code's own row by row."""

import pytest

from codes.asme_ix_2021.listed import LISTED, TABLES, listed
from codes.asme_ix_2021.piece import FAMILIES
from codes.asme_ix_2021.process import FORM_OF
from codes.asme_ix_2021.treatment import FIVE_CONDITIONS
from codes.verdict import Outcome
from tests.codes.asme_ix_cases import made, outcome_of, sets_of, verdicts_of

# paragraph and SMAW, SAW, GMAW/FCAW, GTAW; B is supplementary with toughness and else nonessential
LISTS = """
402.1 NNNN  402.4 NNN-  402.5 ---N  402.10 NNNN  402.11 NNNN  403.5 SSSS  403.6 SSSS  403.8 EEEE  403.9 EEE-
403.10 --E-  403.11 EEEE  404.3 ---N  404.4 EEEE  404.5 EEEE  404.6 NNN-  404.7 S---  404.9 -E--  404.10 -E--
404.12 S-SS  404.14 ---E  404.22 ---N  404.23 --EE  404.24 -EE-  404.27 -EE-  404.29 -N--  404.30 EEEE
404.32 --E-  404.33 NNNN  404.34 -E--  404.35 -B--  404.36 -E--  404.50 ---N  405.1 NNNN  405.2 S-SS
405.3 N-NN  406.1 EEEE  406.2 NNN-  406.3 SSSS  407.1 EEEE  407.2 SSSS  407.4 EEEE  408.1 --NN  408.2 --EE
408.3 --NN  408.5 --NN  408.9 --EE  408.10 --EE  409.1 SSSS  409.2 --E-  409.3 ---N  409.4 BBBB  409.8 NNNN
409.12 ---N  410.1 NNNN  410.3 --NN  410.5 NNNN  410.6 NNNN  410.7 -NNN  410.8 -NN-  410.9 BBBB  410.10 -BBB
410.11 ---E  410.15 -NNN  410.25 NNNN  410.26 NNNN  410.64 EEEE
"""


def test_the_lists() -> None:
    words = LISTS.split()
    expected = dict(zip(words[::2], words[1::2], strict=True))
    assert {row.paragraph: row.kinds.replace("S/N", "B").replace(" ", "") for row in LISTED} == expected
    assert TABLES == {"SMAW": "QW-253", "SAW": "QW-254", "GMAW": "QW-255", "FCAW": "QW-255", "GTAW": "QW-256"}


@pytest.mark.parametrize(("year", "gone"), [(2017, 0), (2019, 1), (2021, 3), (2023, 3)])
def test_the_list_of_an_edition(year: int, gone: int) -> None:
    rows = listed("GMAW", year)
    count = sum(kinds[2] != "-" for kinds in LISTS.split()[1::2])
    assert len(rows) == count - gone and ("405.2" in {row.paragraph for row in rows}) is (year == 2017)


def test_process_families_and_forms() -> None:
    numbers = "111=SMAW 121=SAW 124=SAW 125=SAW 131=GMAW 133=GMAW 135=GMAW 138=GMAW 114=FCAW 132=FCAW 136=FCAW 137=FCAW"
    numbers += " 141=GTAW 142=GTAW 143=GTAW 145=GTAW"
    found = {f"{number}={family}" for family, members in FAMILIES.items() for number in members}
    assert found == set(numbers.split())
    solid = {number for number, form in FORM_OF.items() if form == "solid"}
    cored = {number for number, form in FORM_OF.items() if form == "flux_cored"}
    assert (solid, cored) == ({"131", "135", "141", "145"}, {"114", "132", "136", "137", "143"})
    assert {number for number, form in FORM_OF.items() if form == "metal_cored"} == {"133", "138"}


@pytest.mark.parametrize(("tested", "asked", "expect"), [
    ("131", "133", "covered"), ("135", "131", "covered"), ("136", "114", "covered"), ("114", "137", "covered"),
    ("132", "135", "outside"), ("133", "136", "outside"),
])  # fmt: skip
def test_wire_processes(tested: str, asked: str, expect: str) -> None:
    found = outcome_of(made(f"process={tested}", f"process={asked}", "GMAW"))
    assert found == (expect, "" if expect == "covered" else "product_form")


@pytest.mark.parametrize(("tested", "asked", "expect"), [
    ("141", "145", "covered"), ("141", "143", "outside"), ("143", "143", "covered"), ("145", "141", "covered"),
])  # fmt: skip
def test_tungsten_processes(tested: str, asked: str, expect: str) -> None:
    assert outcome_of(made(f"process={tested}", f"process={asked}", "GTAW"))[0] == expect


def test_metals_with_five_conditions_of_heat_treatment() -> None:
    names = "1 2 3 4 5A 5B 5C 6 9A 9B 9C 10A 10B 10C 10F 10G 10H 10I 10J 10K 11A 11B 15E 15F"
    assert {f"P{name}" for name in names.split()} == set(FIVE_CONDITIONS)


def test_heat_treatment_of_a_pair_with_a_metal_outside_the_five_conditions() -> None:
    """Strict: with a P-8 or unassigned side the recorded temperatures bind, not the condition alone."""
    for metals in ("P-1 / P-8", "P-1 / A992"):
        record = f"steels={metals}; pwht=yes; pwht_condition=below; pwht_temperature=600..640"
        assert outcome_of(made(record, "pwht_temperature=640")) == ("covered", "")
        assert outcome_of(made(record, "pwht_temperature=641")) == ("outside", "pwht")
    record = "steels=P-1 / P-3; pwht=yes; pwht_condition=below; pwht_temperature=600..640"
    assert outcome_of(made(record, "pwht_temperature=641")) == ("covered", "")


def texts(record: str, base: str = "SMAW") -> str:
    return "\n".join(
        f"{limit.because} | {limit.words} | {limit.tested}" for limit in sets_of(made(record, "", base))[0].limits
    )


@pytest.mark.parametrize(("record", "base", "words"), [
    ("", "SMAW", "tested F-4: the same F-number"),
    ("", "SMAW", "tested A-1: the same A-number"),
    ("", "SMAW", "coupon T = 12 mm: 5 mm to 24 mm (2 T)"),
    ("parent_t=38", "SMAW", "coupon T = 38 mm: 5 mm to 200 mm (the top figure)"),
    ("parent_t=200", "SAW", "(1.33 T)"),
    ("unit_system=us; parent_t=0.5in", "SMAW", "T = 12.7 mm (0.5 in): 4.7625 mm (0.1875 in) to 25.4 mm (1 in) (2 T)"),
    ("unit_system=us; preheat=200F", "SMAW", "tested preheat 93.3 °C (200 °F): 100 °F lower at most, 37.8 °C (100 °F)"),
    ("preheat=100", "SMAW", "tested preheat 100 °C: 55 °C lower at most, 45 °C"),
    ("steels=P-1 Gr 1 / P-8 Gr 1", "SMAW", "P-8 to P-1"),
    ("steels=P-1 Gr 1 / P-8 Gr 1", "SMAW", "P-8 Gr 1 to P-1 Gr 1"),
    ("steels=A992", "SMAW", "A992 to A992"),
    ("parent_t=20; max_run_t=14", "SMAW", "a pass of 14 mm in the coupon: 1.1 x 20 mm = 22 mm"),
    ("transfer_mode=spray|dip", "GMAW", "tested spray and dip"),
    ("f_number=", "SMAW", "fillers of F-4"),
    ("heat_input=1.2|1.5", "SMAW", "unknown: the record does not state" ),
])  # fmt: skip
def test_limits_in_words(record: str, base: str, words: str) -> None:
    if words.startswith("unknown"):
        assert words not in texts(record, base)
        assert "up to 1.5 kJ/mm" in texts(record, base)
        return
    assert words in texts(record, base)


def test_a_missing_fact_is_named() -> None:
    for record, missing in (
        ("parent_t=", "the coupon thickness T"), ("deposit_t=", "the deposit of the process in the coupon"),
        ("steels=", "P-number or grade of the parent metals"), ("unit_system=", "unit system"),
        ("preheat=", "preheat"), ("a_number=", "A-number"),
    ):  # fmt: skip
        (verdict,) = verdicts_of(made(record, "parent_t=12; deposit_t=12; steels=P-1; preheat=20; a_number=A1"))
        assert verdict.outcome is Outcome.NOT_STATED
        assert f"unknown: the record does not state {missing}" in {found.missing for found in verdict.findings}, record


@pytest.mark.parametrize(("first", "second", "mixed"), [
    ("P-1 Gr 1", "P-1 Gr 2", True), ("P-1 Gr 1", "P-1 Gr 1", False), ("P-1 Gr 1", "P-3 Gr 2", False),
    ("P-1", "P-1 Gr 2", False), ("P-1 Gr 1 / P-1 Gr 2", "P-1 Gr 3", False), ("A992", "A588", False),
])  # fmt: skip
def test_which_records_mix_their_groups(first: str, second: str, mixed: bool) -> None:
    for tested in ("yes", "no"):
        record = f"piece=A; impact_tested={tested}; steels={first} || piece=B; impact_tested=yes; steels={second}"
        found = [limits.label for limits in sets_of(made(record)) if "group" in limits.label]
        assert bool(found) is (mixed and tested == "yes"), found
        assert len(found) <= 1


ANNEALED = "pwht=yes; pwht_condition=solution; pwht_temperature=1050; a_number=A8"
NORMALISED = "pwht=yes; pwht_condition=above; pwht_temperature=900"


@pytest.mark.parametrize(("metals", "expect"), [("P-8", 40), ("P-7", 40), ("P-45", 40), ("P-1", 22), ("P-15E", 22)])
def test_normalising_caps_ferrous_coupons_alone(metals: str, expect: int) -> None:
    for treated in (NORMALISED, NORMALISED.replace("above", "above_then_below")):
        record = f"steels={metals}; {treated}; a_number=A1; parent_t=20"
        assert outcome_of(made(record, f"parent_t={expect}")) == ("covered", "")
        assert outcome_of(made(record, f"parent_t={expect}.1; deposit_t=20")) == ("outside", "base_thickness")


@pytest.mark.parametrize(("metals", "exempt"), [
    ("P-8 Gr 1", True), ("P-10H Gr 1", True), ("P-8 Gr 1 / P-10H Gr 1", True), ("P-1 Gr 1 / P-8 Gr 1", False),
    ("A992", False),
])  # fmt: skip
def test_a_solution_anneal_frees_austenitic_coupons(metals: str, exempt: bool) -> None:
    record = f"impact_tested=yes; steels={metals}; {ANNEALED}; pwht_minutes=60; heat_input=1.5; parent_t=12"
    found = outcome_of(
        made(record, "impact_required=yes; parent_t=5; heat_input=2; interpass=300; run_type=single_run")
    )
    assert found == (("covered", "") if exempt else ("outside", "base_thickness+heat_input+passes_per_side")), metals


@pytest.mark.parametrize("metals", ["P-21", "P-43", "P-49"])
def test_no_a_number_outside_iron(metals: str) -> None:
    record = f"steels={metals}; a_number=; backing_gas=I1"
    assert outcome_of(made(record, "", "GTAW")) == ("covered", "")
    assert outcome_of(made("steels=P-15F; a_number=", "a_number=A5", "GTAW")) == ("not stated", "a_number")


@pytest.mark.parametrize("fill", ["weld_type=fillet", "process=15", "toughness_only=yes", "parent_t="])
def test_the_fill_of_two_records_is_a_groove_of_a_known_process(fill: str) -> None:
    record = f"piece=A; process=141; parent_t=13 || piece=B; process=111; parent_t=40; {fill}"
    assert [limits for limits in sets_of(made(record)) if "root" in limits.label] == []


@pytest.mark.parametrize("change", ["process=141", "weld_type=fillet", "toughness_only=yes", "parent_t="])
def test_records_that_do_not_mix_their_groups(change: str) -> None:
    tested = "impact_tested=yes; parent_t=12"
    for first, second in (("", change), (change, "")):
        record = f"piece=A; {tested}; steels=P-1 Gr 1; {first} || piece=B; {tested}; steels=P-1 Gr 2; {second}"
        assert [limits for limits in sets_of(made(record)) if "group" in limits.label] == []


@pytest.mark.parametrize("change", ["process=141", "impact_tested=no", "parent_t=25", "toughness_only=no", "parent_t="])
def test_coupons_that_do_not_extend_a_record(change: str) -> None:
    whole = "piece=A; impact_tested=yes; parent_t=25 || piece=B; impact_tested=yes; toughness_only=yes; parent_t=8"
    assert [limits for limits in sets_of(made(f"{whole}; {change}")) if "extended" in limits.label] == []
    assert len([limits for limits in sets_of(made(whole)) if "extended" in limits.label]) == 1


@pytest.mark.parametrize(
    ("metal", "binds"), [("P-10I", True), ("P-41", True), ("P-49", True), ("P-8", False), ("P-35", False)]
)
def test_backing_gas_of_special_alloys(metal: str, binds: bool) -> None:
    row = made(f"steels={metal}; backing_gas=I1", "backing_gas=none", "GTAW")
    assert outcome_of(row) == (("outside", "backing_gas") if binds else ("covered", ""))
