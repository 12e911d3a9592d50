"""ISO 9606-1:2012, clause 9: the life of a certificate, every boundary day, and every day of four years."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from codes.dates import add_months, add_years
from codes.editions import edition
from codes.readings import DEFAULTS
from codes.validity import Event, State, Validity, ValidityInput

CODE = edition("ISO 9606-1:2012")
TEST = date(2023, 3, 15)
DAY = timedelta(days=1)
OPTION_C = {"same_manufacturer": "yes", "iso_3834": "2", "quality_documented": "yes"}
FOUR_YEARS = [date(2023, 1, 1) + timedelta(days=n) for n in range(4 * 365 + 1)]


def life(given: ValidityInput) -> Validity:
    assert CODE.periods is not None
    return CODE.periods(given, DEFAULTS)


def confirmed(start: date, until: date) -> tuple[Event, ...]:
    """A confirmation every five months."""
    days = [add_months(start, n) for n in range(5, 240, 5)]
    return tuple(Event("confirmation", day, by="responsible person") for day in days if day <= until)


def state(option: str, on: date, *events: Event, tested: date = TEST, **more: object) -> State:
    every = (*confirmed(tested, on), *events)
    return life(ValidityInput(tested, option, events=every, **more)).state(on)  # type: ignore[arg-type]


def test_unconfirmed_it_lapses_after_six_months_whatever_the_day() -> None:
    """Month ends and leap days included: the day itself still counts, the next never."""
    for tested in FOUR_YEARS:
        found = life(ValidityInput(tested, "a"))
        due = add_months(tested, 6)
        assert found.state(tested - DAY).reason == "validity_not_started", tested
        assert found.state(tested).valid and found.state(due).valid, tested
        after = found.state(due + DAY)
        assert not after.valid and after.reason == "validity_confirmation", tested
        assert due.day == tested.day or (due + DAY).day == 1, tested


@pytest.mark.parametrize(("option", "years"), [("a", 3), ("b", 2)])
def test_confirmed_it_ends_after_its_years_whatever_the_day(option: str, years: int) -> None:
    for tested in FOUR_YEARS:
        end = add_years(tested, years)
        found = life(ValidityInput(tested, option, events=confirmed(tested, end)))
        assert found.state(end).valid, tested
        after = found.state(end + DAY)
        assert not after.valid and after.reason == "validity_expiry", tested


@given(
    tested=st.sampled_from(FOUR_YEARS),
    gaps=st.lists(st.integers(1, 250), max_size=8),
    option=st.sampled_from(["a", "b", "c"]),
    ask=st.integers(-10, 2500),
)
def test_it_is_never_valid_after_a_gap_of_more_than_six_months(
    tested: date, gaps: list[int], option: str, ask: int
) -> None:
    """Against a second reckoning of the chain, day by day of the list."""
    days = [tested + timedelta(days=sum(gaps[: i + 1])) for i in range(len(gaps))]
    events = tuple(Event("confirmation", day) for day in days)
    on = tested + timedelta(days=ask)
    last, alive = tested, on >= tested
    for day in days:
        if day > on:
            break
        alive = alive and day <= add_months(last, 6)
        last = day
    alive = alive and on <= add_months(last, 6)
    if option != "c":
        alive = alive and on <= add_years(tested, 3 if option == "a" else 2)
    facts = OPTION_C if option == "c" else {}
    assert life(ValidityInput(tested, option, events=events, facts=facts)).state(on).valid is alive


@pytest.mark.parametrize(("conf", "valid"), [(date(2023, 9, 15), True), (date(2023, 9, 16), False)])
def test_a_late_confirmation_revives_nothing(conf: date, valid: bool) -> None:
    found = life(ValidityInput(TEST, "a", events=(Event("confirmation", conf),)))
    assert found.state(date(2023, 12, 1)).valid is valid


def test_an_early_confirmation_starts_six_months_of_its_own() -> None:
    found = life(ValidityInput(TEST, "a", events=(Event("confirmation", date(2023, 4, 1)),)))
    assert found.state(date(2023, 10, 1)).valid
    assert not found.state(date(2023, 10, 2)).valid


def test_it_starts_on_the_day_the_results_were_accepted() -> None:
    found = life(ValidityInput(TEST, "a", results_on=date(2023, 4, 3)))
    assert not found.state(date(2023, 4, 2)).valid and found.state(date(2023, 4, 3)).valid
    # The clock runs from the day of welding all the same.
    assert found.state(date(2023, 4, 3)).until == date(2023, 9, 15)


@pytest.mark.parametrize(
    ("printed", "until"), [(date(2023, 8, 31), date(2023, 8, 31)), (date(2030, 1, 1), date(2023, 9, 15))]
)
def test_a_printed_date_wins_only_where_it_is_earlier(printed: date, until: date) -> None:
    assert life(ValidityInput(TEST, "b", printed_until=printed)).state(TEST).until == until


def prolongation(on: str, weld_1: str, weld_2: str, **details: str) -> Event:
    stated = {"weld_1": weld_1, "weld_2": weld_2, "conditions_reproduced": "yes"} | details
    return Event("prolongation", date.fromisoformat(on), details=stated)


B_END = date(2025, 3, 15)
LATER = date(2026, 1, 10)


@pytest.mark.parametrize(
    ("event", "valid"),
    [
        (prolongation("2025-03-14", "2024-09-15", "2025-03-14"), True),
        (prolongation("2025-03-14", "2024-09-14", "2025-03-01"), False),
        (prolongation("2025-03-01", "2024-10-01", "2025-03-02"), False),
        (prolongation("2025-03-15", "2024-10-01", "2024-11-01"), False),
        (prolongation("2025-03-01", "2024-10-01", ""), False),
        (prolongation("2025-03-01", "2024-10-01", "soon"), False),
        (prolongation("2025-03-01", "2024-10-01", "2024-11-01", conditions_reproduced="no"), False),
        (prolongation("2025-03-01", "2024-10-01", "2024-11-01", conditions_reproduced=""), False),
        (prolongation("2025-03-01", "2024-10-01", "2024-11-01", tested_by="UT"), True),
        (prolongation("2025-03-01", "2024-10-01", "2024-11-01", tested_by="VT"), False),
        (prolongation("2025-03-01", "2024-10-01", "2024-11-01", reported_on="2025-03-15"), False),
    ],
)
def test_option_b_lives_on_two_good_welds(event: Event, valid: bool) -> None:
    assert state("b", B_END, event).valid
    found = state("b", LATER, event)
    assert found.valid is valid
    assert valid or found.reason == "validity_expiry"


def test_option_b_runs_on_from_the_old_end() -> None:
    event = prolongation("2025-01-10", "2024-10-01", "2024-11-01")
    assert state("b", date(2027, 3, 15), event).valid
    assert not state("b", date(2027, 3, 16), event).valid


def test_option_a_is_not_prolonged() -> None:
    event = prolongation("2026-03-01", "2025-10-01", "2025-11-01")
    found = state("a", date(2026, 3, 16), event)
    assert not found.valid and "new test only" in found.because


def test_option_c_has_no_end_while_everything_holds() -> None:
    assert state("c", date(2040, 1, 1), facts=OPTION_C).valid


@pytest.mark.parametrize("fact", OPTION_C)
def test_option_c_with_a_fact_unstated_is_not_valid(fact: str) -> None:
    facts = {name: value for name, value in OPTION_C.items() if name != fact}
    found = state("c", TEST, facts=facts)
    assert not found.valid and found.missing and found.reason == "missing_data"


@pytest.mark.parametrize(
    ("fact", "answer"), [("same_manufacturer", "no"), ("iso_3834", "4"), ("quality_documented", "no")]
)
def test_option_c_with_a_fact_against_it_is_not_valid(fact: str, answer: str) -> None:
    found = state("c", TEST, facts=OPTION_C | {fact: answer})
    assert not found.valid and found.reason == "revalidation_option"


@pytest.mark.parametrize("kind", ["manufacturer_changed", "iso_3834_lost", "quality_not_shown"])
def test_option_c_ends_on_the_day_a_condition_is_lost(kind: str) -> None:
    lost = date(2025, 6, 2)
    event = Event(kind, lost)
    assert state("c", lost - DAY, event, facts=OPTION_C).valid
    assert state("c", lost, event, facts=OPTION_C).reason == "revalidation_option"
    # Options a and b do not hang on the employer.
    assert state("a", lost, event).valid


def test_no_option_stated_is_not_valid() -> None:
    found = state("", TEST)
    assert not found.valid and "option" in found.missing


def test_revoked_is_over_from_that_day() -> None:
    event = Event("revocation", date(2024, 1, 10), details={"why": "defects in job 12"})
    assert state("a", date(2024, 1, 9), event).valid
    found = state("a", date(2024, 1, 10), event)
    assert found.reason == "revoked" and "defects in job 12" in found.because
    assert not state("a", date(2024, 8, 1), event).valid


def test_what_is_due_next() -> None:
    found = state("b", date(2024, 10, 1))
    acts = [due.act for due in found.dues]
    assert acts[0] == "confirmation"
    assert any(act.startswith("two test welds made from 2024-09-15") for act in acts)
