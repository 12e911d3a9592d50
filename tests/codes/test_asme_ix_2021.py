"""ASME IX procedures: advice, readings, unit systems, records together, and what the door says."""

import json
from decimal import Decimal as D

import pytest

from codes.__main__ import main
from codes.asme_ix_2021 import combine, limit_sets
from codes.asme_ix_2021.classification import read, unclassified
from codes.asme_ix_2021.flux import class_of
from codes.asme_ix_2021.thresholds import stepped
from codes.check import best, check
from codes.cover import uncovered
from codes.editions import UnknownEdition, edition
from codes.parse import BadField
from codes.units import CONVERSIONS
from codes.values import Interval
from codes.verdict import Outcome
from tests.codes.asme_ix_cases import demands_of, made, outcome_of, record_of, sets_of, verdicts_of


def advice(record: str, demand: str, base: str = "SMAW") -> list[str]:
    (verdict,) = verdicts_of(made(record, demand, base))
    assert verdict.outcome is Outcome.COVERED, verdict.sentence
    return [found.variable for found in verdict.findings if "revise the WPS, no new test" in found.because]


@pytest.mark.parametrize(
    ("base", "record", "demand", "variables"),
    [
        ("SMAW", "", "", []),
        ("SMAW", "", "filler_diameter=3.2", ["filler_diameter"]),
        ("SMAW", "", "position=PF", ["position"]),
        ("SMAW", "", "filler_designation=E7016", ["filler_designation"]),
        ("GMAW", "", "mechanisation=automatic", ["mechanisation"]),
        ("SMAW", "", "current_type=AC", ["current_type"]),
        ("SMAW", "", "run_type=single_run", ["run_type"]),
        ("SMAW", "current=100..160", "current=120..150", []),
        ("SMAW", "current=100..160", "current=120..170", ["current"]),
        ("SMAW", "impact_tested=yes", "impact_required=yes; filler_diameter=3.2", ["filler_diameter"]),
        ("GTAW", "", "pulsed_current=yes", ["pulsed_current"]),
        ("SAW", "", "flux_make=G", ["flux_make"]),
    ],
)
def test_a_nonessential_change_revises_the_wps(base: str, record: str, demand: str, variables: list[str]) -> None:
    assert advice(record, demand, base) == variables


def test_supplementary_variables_give_no_advice_where_they_bind() -> None:
    row = made("impact_tested=yes", "impact_required=yes; current_type=AC")
    (verdict,) = verdicts_of(row)
    assert [found.outcome for found in verdict.findings if found.variable == "current_type"] == [Outcome.OUTSIDE]


def test_a_looked_up_p_number_is_said_to_be_unverified() -> None:
    for grade, warned in (("A572-50", True), ("A36", False), ("P-1 Gr 1", False)):
        (verdict,) = verdicts_of(made("steels=P-1", f"steels={grade}"))
        assert verdict.outcome is Outcome.COVERED
        assert any("not verified" in found.because for found in verdict.findings) is warned
        assert any("P-number of a grade" in reading for reading in verdict.readings) is warned
    (quiet,) = verdicts_of(made("steels=P-1", "steels=A572-50", settings="P-number of a grade=lenient"))
    assert not any("not verified" in found.because for found in quiet.findings)


def test_the_same_plate_in_two_unit_systems() -> None:
    """0.24 in is below 1/4 in, 6.1 mm is not below 6 mm: each record by its own figures."""
    us = made("unit_system=us; impact_tested=yes; parent_t=0.24in", "impact_required=yes; parent_t=4")
    si = made("unit_system=si; impact_tested=yes; parent_t=6.1", "impact_required=yes; parent_t=4")
    assert outcome_of(us) == ("covered", "")
    assert outcome_of(si) == ("outside", "base_thickness")
    (verdict,) = verdicts_of(us)
    assert any("0.24 in" in found.because for found in verdict.findings)


def test_a_step_of_a_hundred_fahrenheit_is_exact() -> None:
    to_si = CONVERSIONS["°C"].to_si
    for tested in range(32, 700):
        assert stepped(to_si(D(tested)), "us", down=False) == to_si(D(tested + 100))
        assert stepped(to_si(D(tested)), "us", down=True) == to_si(D(tested - 100))


@pytest.mark.parametrize("field", ["parent_t", "deposit_t"])
def test_a_coupon_of_nothing_is_refused(field: str) -> None:
    row = made(f"{field}=0; deposit_t=0" if field == "parent_t" else "deposit_t=0")
    with pytest.raises(BadField) as error:
        sets_of(row)
    assert error.value.field == field


@pytest.mark.parametrize("name", ["ASME IX:2015", "ASME IX:2025", "ASME IX", "ASME VIII", "ASME IX:2022"])
def test_other_editions_are_refused_by_name(name: str) -> None:
    with pytest.raises(UnknownEdition, match=name.replace("(", "")):
        edition(name)


def test_aliases() -> None:
    assert edition("asme bpvc.ix-2021").key == edition("ASME Section IX:2021").key == "ASME IX:2021"


def test_every_set_cites_its_own_edition() -> None:
    for year in (2017, 2019, 2021, 2023):
        for limits in sets_of(made(year=year)):
            assert limits.standard == f"ASME IX:{year}"
            assert {limit.clause.standard for limit in limits.limits} == {limits.standard}


ROOT = made("process=141; parent_t=13; deposit_t=5")
FILL = made("process=111; parent_t=40; deposit_t=40")
JOINT = made("process=141; parent_t=13; deposit_t=5", "process=141; place=root; parent_t=100; deposit_t=10")


def test_records_combine_and_never_alone() -> None:
    records = [record_of(ROOT), record_of(FILL)]
    (joint,) = demands_of(JOINT)
    alone = [limits for record in records for limits in limit_sets(2021, record, {})]
    assert best(joint, alone).outcome is Outcome.OUTSIDE
    (together,) = combine(2021, records, {})
    assert check(joint, together).outcome is Outcome.COVERED
    assert "record 1" in together.label and "record 2" in together.label
    assert combine(2021, records[:1], {}) == ()


@pytest.mark.parametrize(
    ("root", "fill"),
    [
        ("process=141; parent_t=12.9", "process=111; parent_t=40"),  # coupon too thin
        ("process=141; parent_t=13", "process=111; parent_t=13"),  # no greater thickness
        ("process=141; parent_t=13", "process=141; parent_t=40"),  # not another process
        ("process=136; parent_t=13", "process=111; parent_t=40"),  # FCAW is not named
        ("unit_system=us; process=141; parent_t=13", "process=111; parent_t=40"),  # units mixed
        ("weld_type=fillet; process=141; parent_t=13", "process=111; parent_t=40"),  # fillet coupon
    ],
)
def test_no_root_relief(root: str, fill: str) -> None:
    found = combine(2021, [record_of(made(root)), record_of(made(fill))], {})
    assert [limits for limits in found if "root" in limits.label] == []


def test_the_root_keeps_its_own_filler_and_the_fill_its_own() -> None:
    (together,) = combine(2021, [record_of(ROOT), record_of(FILL)], {})
    (joint,) = demands_of(JOINT)
    assert "f_number" in check(joint | {"f_number": "F4"}, together).reasons
    assert check(joint | {"preheat": D(-36)}, together).reasons == ("preheat",)


AUSTENITISED = "; pwht=yes; pwht_condition=above; pwht_temperature=900; pwht_minutes=60"


@pytest.mark.parametrize(
    ("process", "root", "t", "reasons"),
    [
        # QW-407.4: 1.1 T of the root's own coupon, 14.3 mm; the fill's alone would be 44 mm.
        ("141", "parent_t=13; deposit_t=5" + AUSTENITISED, "14.3", ()),
        ("141", "parent_t=13; deposit_t=5" + AUSTENITISED, "14.4", ("base_thickness",)),
        # QW-403.9: a root pass over 13 mm leaves 1.1 T, 22 mm; one of 13 mm the base thickness of the fill.
        ("135", "parent_t=20; deposit_t=15; max_run_t=14", "22", ()),
        ("135", "parent_t=20; deposit_t=15; max_run_t=14", "22.1", ("base_thickness",)),
        ("135", "parent_t=20; deposit_t=15; max_run_t=13", "100", ()),
    ],
)
def test_a_root_keeps_what_its_heat_treatment_and_its_passes_allow(
    process: str, root: str, t: str, reasons: tuple[str, ...]
) -> None:
    """QW-200.4(b) lends the range of QW-451; 403.9 and 407.4 are variables of their own (conservative reading)."""
    treated = AUSTENITISED if AUSTENITISED in root else ""
    records = [
        record_of(made(f"process={process}; {root}")),
        record_of(made(f"process=111; parent_t=40; deposit_t=40{treated}")),
    ]
    (joint,) = demands_of(
        made(f"process={process}; {root}", f"process={process}; place=root; parent_t={t}; max_run_t=5")
    )
    (together,) = (limits for limits in combine(2021, records, {}) if "root" in limits.label)
    assert check(joint, together).reasons == reasons


def test_one_record_of_two_coupons_earns_the_same() -> None:
    pieces = [{**record_of(ROOT)[0], "piece": "A"}, {**record_of(FILL)[0], "piece": "B"}]
    assert len(limit_sets(2021, pieces, {})) == 3
    same = [{**piece, "piece": "A"} for piece in pieces]
    assert len(limit_sets(2021, same, {})) == 2


def test_the_toughness_coupon_adds_its_own_bounds() -> None:
    full = made("impact_tested=yes; parent_t=25; heat_input=2.0; interpass=200")
    extra = made("impact_tested=yes; toughness_only=yes; parent_t=8; heat_input=1.0; interpass=150")
    (together,) = combine(2021, [record_of(full), record_of(extra)], {})
    (joint,) = demands_of(made("", "impact_required=yes; parent_t=8; heat_input=1.0; interpass=205"))
    assert check(joint, together).outcome is Outcome.COVERED
    assert check(joint | {"heat_input": D("1.1")}, together).reasons == ("heat_input",)
    assert check(joint | {"interpass": D(206)}, together).reasons == ("interpass",)
    assert check(joint | {"parent_t": D("7.9")}, together).reasons == ("base_thickness",)


def test_a_window_over_two_records_leaves_what_neither_covers() -> None:
    sets = [limits for t in ("3", "12") for limits in sets_of(made(f"parent_t={t}; deposit_t=12"))]
    (joint,) = demands_of(made("", "deposit_t=5"))
    window = joint | {"parent_t": Interval(D("1.5"), D(24), "mm")}
    assert uncovered(window, sets[:1]) and uncovered(window, sets[1:])
    # 3 mm gives 1.5 to 6, 12 mm gives 5 to 24: they overlap.
    assert uncovered(joint | {"parent_t": Interval(D("1.5"), D(24), "mm")}, sets) == ()
    (left,) = uncovered(joint | {"parent_t": Interval(D("1.5"), D(25), "mm")}, sets)
    assert left.demand["parent_t"] == Interval(D(24), D(25), "mm", lo_open=True)


@pytest.mark.parametrize(
    ("tested", "wanted", "same"),
    [
        ("E7018", "E7018-1", True), ("E7018-1", "E7018", False), ("E7015", "E7018 H4R", True),
        ("E7018", "E7018M", False),
        ("E8018-C3", "E8016-C3", True), ("E8018-C3", "E8018-C1", False), ("E71T-1C", "E70T-1C-J", True),
        ("E71T-1C", "E71T-1M", False), ("E71T-1CJ", "E71T-1C", False), ("ER70S-6", "ER70S-3", False),
        ("E6010", "E6011", False), ("E7018-A1", "E7018-A1 H8", True),
    ],
)  # fmt: skip
def test_classification(tested: str, wanted: str, same: bool) -> None:
    row = made(f"impact_tested=yes; filler_designation={tested}", f"impact_required=yes; filler_designation={wanted}")
    assert ("filler_class" not in outcome_of(row)[1]) is same, (read(tested), read(wanted))


def test_classes_without_a_full_name() -> None:
    assert [
        name for name in ("E8018-G", "E7018", "ER80S-G", "Nova 7", "E 42 4 B 42 H5", "EM12K") if unclassified(name)
    ] == [
        "E8018-G",
        "ER80S-G",
        "Nova 7",
        "E 42 4 B 42 H5",
    ]


def test_flux_classes() -> None:
    assert class_of("F7A2-EM12K-H8") == class_of("f7a2-em12k") == ("7", "F7A2-EM12K")
    assert class_of("F8P4-EA2-A2") == ("8", "F8P4-EA2-A2")
    assert class_of("S A AB 1") is None


def test_the_door_answers_for_both_editions() -> None:
    tested = {
        "unit_system": "si", "process": "111", "mechanisation": "manual", "weld_type": "groove", "steels": "P-1 Gr 1",
        "parent_t": 12, "deposit_t": 12, "position": "1G", "f_number": "F-4", "a_number": "A-1", "preheat": 20,
        "filler_designation": "E7018", "pwht": "no", "current_type": "DCEP", "impact_tested": "no",
    }  # fmt: skip
    demand = tested | {"parent_t": 24.1, "deposit_t": 24, "impact_required": "no", "max_run_t": 5}
    for name in ("unit_system", "impact_tested"):
        demand.pop(name)
    for code in ("ASME IX:2021", "ASME IX:2023"):
        question = {"record": {"code": code, "kind": "pqr", "tested": tested}, "demand": demand}
        exit_code, printed = main([], json.dumps(question).encode())
        answer = json.loads(printed)
        assert (exit_code, answer["reasons"]) == (1, ["base_thickness"]), answer["sentence"]
        exit_code, printed = main([], json.dumps(question | {"demand": demand | {"parent_t": 24}}).encode())
        assert exit_code == 0, printed
