"""ISO 14732:2013 against its case table, and what a table cannot say."""

from datetime import date

import pytest

from codes.check import best, check
from codes.editions import UnknownEdition, edition
from codes.parse import parse_values
from codes.validity import Event, ValidityInput
from codes.verdict import Outcome
from tests.codes.cases_of import over, rows

CODE = edition("ISO 14732:2013")
COMMON = {"role": "operator", "process": "135", "run_type": "multi_run", "multi_arc": "no"}
MACHINE = {
    "automatic": {"unit": "R1", "arc_sensor": "yes", "joint_sensor": "no"},
    "fully_mechanised": {
        "joint_tracking": "yes",
        "arc_length_control": "yes",
        "visual_control": "direct",
        "weld_type": "butt_cjp",
        "position": "PA",
        "weld_detail": "ss_mb",
    },
}
ROWS = rows("iso_14732_2013")


def _base(text: str) -> dict[str, str]:
    mode = "fully_mechanised" if "mechanisation=fully_mechanised" in text else "automatic"
    return {"mechanisation": mode, **COMMON, **MACHINE[mode]}


def _state(row: dict[str, str]):
    tested, option, *confirmed = row["life"].split(" ")
    events = tuple(Event("confirmation", date.fromisoformat(day)) for day in confirmed if day)
    life = ValidityInput(date.fromisoformat(tested), option, events=events)
    return CODE.periods(life, {}).state(date.fromisoformat(row["on"]))


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["id"])
def test_case(row: dict[str, str]) -> None:
    tested = over(_base(row["given"]) | {"functional_knowledge": "yes"}, row["given"])
    # A demand for the other mode is asked with what that mode needs, too.
    demand = over({**_base(row["given"]), **_base(row["demand"] or row["given"])}, row["demand"])
    verdict = best(demand, CODE.limit_sets([tested], {}))
    outcome, reasons = verdict.outcome, set(verdict.reasons)
    if row["life"]:
        state = _state(row)
        if not state.valid:
            outcome = Outcome.NOT_STATED if state.missing else Outcome.OUTSIDE
            reasons.add(state.reason)
    assert (outcome.value, "+".join(sorted(reasons))) == (row["expect"], row["reasons"])


def test_the_table_cites_a_clause_mark_and_source_in_each_row() -> None:
    assert len({row["id"] for row in ROWS}) == len(ROWS)
    assert all(row["clause"] and row["mark"] and row["source"] for row in ROWS)


def test_the_hand_torch_is_refused_in_words() -> None:
    tested = over(_base("") | {"functional_knowledge": "yes"}, "")
    (limits,) = CODE.limit_sets([tested], {})
    verdict = check(tested | {"mechanisation": "partly_mechanised"}, limits)
    assert "never covers the hand torch" in verdict.sentence
    assert "tack and repair by hand" in verdict.sentence
    assert "ISO 9606-1" in verdict.sentence


@pytest.mark.parametrize(
    ("settings", "given", "demand", "outcome"),
    [
        ({"iso_14732_sensor_added": "wide"}, "arc_sensor=no", "arc_sensor=yes", "covered"),
        ({"iso_14732_sensor_added": "wide"}, "arc_sensor=yes", "arc_sensor=no", "outside"),
        ({"iso_14732_sensor_added": "strict"}, "arc_sensor=no", "arc_sensor=yes", "outside"),
        ({"iso_14732_backing": "as 9606"}, "mechanisation=fully_mechanised", "weld_detail=bs", "covered"),
        ({"iso_14732_backing": "as 9606"}, "mechanisation=fully_mechanised", "weld_detail=ss_nb", "outside"),
        ({"iso_14732_backing": "strict"}, "mechanisation=fully_mechanised", "weld_detail=bs", "outside"),
    ],
)
def test_readings(settings: dict[str, str], given: str, demand: str, outcome: str) -> None:
    tested = over(_base(given) | {"functional_knowledge": "yes"}, given)
    verdict = best(over(_base(given), demand), CODE.limit_sets([tested], settings))
    assert verdict.outcome.value == outcome
    assert any(next(iter(settings)) in line for line in verdict.readings)


def test_the_default_reading_stands_in_the_verdict() -> None:
    tested = over(_base("") | {"functional_knowledge": "yes"}, "")
    verdict = best(tested, CODE.limit_sets([tested], {}))
    assert verdict.outcome is Outcome.COVERED
    assert any("iso_14732_sensor_added (ISO 14732:2013, 4.2): strict" in line for line in verdict.readings)


def test_two_tests_are_never_mixed() -> None:
    """Unit of one test and runs of the other: neither covers both."""
    first = over(_base("") | {"functional_knowledge": "yes"}, "unit=R1; run_type=single_run")
    second = over(_base("") | {"functional_knowledge": "yes"}, "unit=R2; run_type=multi_run")
    sets = CODE.limit_sets([first, second], {})
    assert best(over(_base(""), "unit=R1; run_type=multi_run"), sets).outcome is Outcome.OUTSIDE
    assert best(over(_base(""), "unit=R2; run_type=single_run"), sets).outcome is Outcome.COVERED


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("ISO 14732:2025", "not judged here"),
        ("en iso 14732:2025", "coordinator's decision"),
        ("ISO 14732", "state the edition"),
        ("EN 1418:1997", "withdrawn"),
        ("ISO 99999", "does not hold"),
    ],
)
def test_other_editions_are_known_and_not_judged(name: str, says: str) -> None:
    with pytest.raises(UnknownEdition, match=says):
        edition(name)


def test_every_field_and_demand_is_a_known_variable() -> None:
    names = {field.name for field in CODE.fields} | set(CODE.recorded_only)
    plain = dict.fromkeys((*names, *CODE.demand), "")
    assert parse_values(plain) == {}
    assert set(CODE.demand) <= names
