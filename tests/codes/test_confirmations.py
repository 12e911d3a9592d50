"""The six-monthly clock: edges of every period, the three options, and what ends a certificate."""

from datetime import date, timedelta

import pytest

from codes.clauses import Clause
from codes.confirmations import OPTION_C_ENDS, Scheme, confirmed_periods, option_letter
from codes.dates import add_months
from codes.validity import Event, ValidityInput

WHERE = Clause("a standard", "9")
SCHEME = Scheme("a standard", WHERE, WHERE, WHERE, WHERE, new_test_years=3, term_years=2)
TESTED = date(2023, 3, 15)
DAY = timedelta(days=1)
C_FACTS = {"same_manufacturer": "yes", "iso_3834": "3", "quality_documented": "yes"}


def day(text: str) -> date:
    return date.fromisoformat(text)


def confirmations(until: date, start: date = TESTED) -> list[Event]:
    """A signature on the last possible day, again and again."""
    found = []
    on = add_months(start, 6)
    while on <= until:
        found.append(Event("confirmation", on))
        on = add_months(on, 6)
    return found


def prolongation(on: str, first: str, second: str, **details: str) -> Event:
    given = {"weld_1": first, "weld_2": second, "conditions_reproduced": "yes"} | details
    return Event("prolongation", day(on), details={key: value for key, value in given.items() if value})


def state(on: date, option: str = "a", events: list[Event] | None = None, **more):
    life = ValidityInput(more.pop("tested_on", TESTED), option, events=tuple(events or []), **more)
    return confirmed_periods(life, SCHEME).state(on)


def test_first_six_months_on_every_day_of_four_years() -> None:
    for offset in range(1462):
        tested = date(2024, 1, 1) + offset * DAY
        last = add_months(tested, 6)
        assert not state(tested - DAY, tested_on=tested).valid
        assert state(tested, tested_on=tested).valid
        assert state(last, tested_on=tested).valid
        late = state(last + DAY, tested_on=tested)
        assert (late.valid, late.reason) == (False, "validity_confirmation")


def test_before_the_test_it_has_not_started() -> None:
    assert state(TESTED - DAY).reason == "validity_not_started"


def test_results_accepted_later_start_later_but_the_clock_runs_from_the_weld() -> None:
    results = day("2023-04-20")
    assert state(results - DAY, results_on=results).reason == "validity_not_started"
    assert state(results, results_on=results).until == day("2023-09-15")
    assert state(day("2023-10-01"), results_on=day("2023-10-01")).reason == "validity_confirmation"


def test_a_confirmation_on_the_last_day_counts_and_one_a_day_later_does_not() -> None:
    due = day("2023-09-15")
    assert state(day("2024-03-15"), events=[Event("confirmation", due)]).valid
    late = state(due + DAY, events=[Event("confirmation", due + DAY)])
    assert (late.valid, late.reason) == (False, "validity_confirmation")


def test_a_late_confirmation_never_revives_even_with_good_ones_after_it() -> None:
    events = [Event("confirmation", day(d)) for d in ("2023-09-10", "2024-03-11", "2024-06-01", "2024-11-01")]
    assert state(day("2024-03-10"), events=events).valid
    assert not state(day("2024-03-11"), events=events).valid
    assert not state(day("2024-11-02"), events=events).valid


def test_an_early_confirmation_starts_its_own_six_months() -> None:
    events = [Event("confirmation", day("2023-05-01"))]
    assert state(day("2023-11-01"), events=events).valid
    assert not state(day("2023-11-02"), events=events).valid


def test_events_may_come_in_any_order_and_one_before_the_test_confirms_nothing() -> None:
    events = [Event("confirmation", day("2024-03-01")), Event("confirmation", day("2023-09-10"))]
    assert state(day("2024-09-01"), events=events).valid
    assert state(day("2023-09-15"), events=[Event("confirmation", day("2023-01-01"))]).until == day("2023-09-15")


@pytest.mark.parametrize(("on", "valid"), [("2026-03-15", True), ("2026-03-16", False)])
def test_option_a_ends_after_its_years(on: str, valid: bool) -> None:
    found = state(day(on), events=confirmations(day("2026-04-01")))
    assert (found.valid, found.reason) == (valid, "" if valid else "validity_expiry")


def test_option_a_cannot_be_prolonged() -> None:
    events = [*confirmations(day("2027-01-01")), prolongation("2026-03-01", "2026-01-01", "2026-02-01")]
    found = state(day("2026-03-16"), events=events)
    assert found.reason == "validity_expiry"
    assert "new test only" in found.because


END_B = day("2025-03-15")


@pytest.mark.parametrize(
    ("event", "says"),
    [
        (prolongation("2025-03-14", "2024-09-15", "2025-03-14"), ""),
        (prolongation("2025-03-14", "2024-09-14", "2025-03-14"), "weld of 2024-09-14"),
        (prolongation("2025-03-15", "2024-10-01", "2025-03-01"), "signed before 2025-03-15"),
        (prolongation("2025-03-01", "2024-10-01", "2025-03-02"), "weld of 2025-03-02"),
        (prolongation("2025-03-01", "2024-10-01", ""), "fewer than two welds"),
        (prolongation("2025-03-01", "2024-10-01", "1.2.2025"), "not written as"),
        (prolongation("2025-03-01", "2024-10-01", "2025-02-01", conditions_reproduced="no"), "reproduced"),
        (prolongation("2025-03-01", "2024-10-01", "2025-02-01", conditions_reproduced=""), "reproduced"),
        (prolongation("2025-03-01", "2024-10-01", "2025-02-01", tested_by="VT"), "not by RT, UT"),
        (prolongation("2025-03-01", "2024-10-01", "2025-02-01", tested_by="ut"), ""),
        (prolongation("2025-03-01", "2024-10-01", "2025-02-01", reported_on="2025-03-15"), "reported on"),
        (prolongation("2025-03-01", "2024-10-01", "2025-02-01", reported_on="2025-03-14"), ""),
        (prolongation("2025-03-01", "", "", welds="2024-10-01, 2025-02-01"), ""),
    ],
)
def test_option_b_is_lengthened_by_two_good_welds(event: Event, says: str) -> None:
    events = [*confirmations(day("2027-06-01")), event]
    assert state(END_B, "b", events).valid
    after = state(END_B + DAY, "b", events)
    assert after.valid is not bool(says)
    if says:
        assert after.reason == "validity_expiry"
        assert says in after.because
        return
    assert state(day("2027-03-15"), "b", events).valid
    assert state(day("2027-03-16"), "b", events).reason == "validity_expiry"


def test_a_second_term_needs_welds_of_its_own() -> None:
    first = prolongation("2025-03-01", "2024-10-01", "2025-02-01")
    second = prolongation("2027-03-01", "2026-10-01", "2027-02-01")
    events = [*confirmations(day("2029-06-01")), first, second]
    assert state(day("2029-03-15"), "b", events).valid
    assert not state(day("2029-03-16"), "b", events).valid


def test_a_prolongation_does_not_heal_a_missed_confirmation() -> None:
    events = [prolongation("2025-03-01", "2024-10-01", "2025-02-01")]
    assert state(day("2025-04-01"), "b", events).reason == "validity_confirmation"


def test_option_c_has_no_end_while_confirmed() -> None:
    found = state(day("2040-01-01"), "c", confirmations(day("2040-01-01")), facts=C_FACTS)
    assert found.valid


@pytest.mark.parametrize(
    ("fact", "value", "reason"),
    [
        ("same_manufacturer", "no", "revalidation_option"),
        ("iso_3834", "4", "revalidation_option"),
        ("iso_3834", "ISO 3834-2", ""),
        ("quality_documented", "no", "revalidation_option"),
        ("same_manufacturer", "", "missing_data"),
        ("iso_3834", "", "missing_data"),
        ("quality_documented", "", "missing_data"),
    ],
)
def test_option_c_needs_all_its_conditions(fact: str, value: str, reason: str) -> None:
    found = state(day("2023-06-01"), "c", facts=C_FACTS | {fact: value})
    assert (found.valid, found.reason) == (not reason, reason)
    assert bool(found.missing) is (reason == "missing_data")


@pytest.mark.parametrize("kind", OPTION_C_ENDS)
def test_what_ends_option_c_ends_it_that_day(kind: str) -> None:
    events = [Event(kind, day("2023-06-01"))]
    assert state(day("2023-05-31"), "c", events, facts=C_FACTS).valid
    assert state(day("2023-06-01"), "c", events, facts=C_FACTS).reason == "revalidation_option"
    assert state(day("2023-06-01"), "a", events).valid


def test_a_revocation_counts_from_its_day() -> None:
    events = [Event("revocation", day("2023-06-01"), details={"why": "lack of fusion found."})]
    assert state(day("2023-05-31"), events=events).valid
    found = state(day("2023-06-01"), events=events)
    assert (found.reason, found.because) == ("revoked", "revoked on 2023-06-01: lack of fusion found")


def test_revocation_is_named_before_a_lapse_of_the_same_day() -> None:
    events = [Event("revocation", day("2023-09-16"))]
    assert state(day("2023-09-16"), events=events).reason == "revoked"


@pytest.mark.parametrize(
    ("printed", "last"), [("2023-06-01", "2023-06-01"), ("2030-01-01", "2023-09-15"), ("2023-09-15", "2023-09-15")]
)
def test_a_printed_end_shortens_and_never_lengthens(printed: str, last: str) -> None:
    assert state(day(last), printed_until=day(printed)).valid
    assert not state(day(last) + DAY, printed_until=day(printed)).valid


def test_without_an_option_nothing_is_valid() -> None:
    found = state(TESTED, "")
    assert (found.valid, found.reason) == (False, "missing_data")
    assert "option" in found.missing


def test_an_event_that_is_not_understood_leaves_the_answer_open() -> None:
    found = state(TESTED, events=[Event("suspension", TESTED)])
    assert (found.valid, found.reason) == (False, "missing_data")
    assert "suspension" in found.missing


@pytest.mark.parametrize(
    ("written", "letter"),
    [("a", "a"), ("9.3 b)", "b"), ("5.3c", "c"), (" C ", "c"), ("", ""), ("9.3", ""), ("d", "")],
)
def test_option_letter(written: str, letter: str) -> None:
    assert option_letter(written) == letter


def test_what_is_due_is_what_stood_open_on_that_day() -> None:
    events = [Event("confirmation", day("2023-08-01"))]
    before = state(day("2023-07-31"), events=events)
    assert [(due.act, due.by) for due in before.dues] == [
        ("confirmation", day("2023-09-15")),
        ("new test", day("2026-03-15")),
    ]
    after = state(day("2023-08-01"), events=events)
    assert after.dues[0].by == day("2024-02-01")


def test_no_signature_is_owed_for_a_day_after_the_term() -> None:
    """9.3 a: the certificate ends on 2026-03-15, whoever signs after it; a prolongation of option b lengthens that."""
    signed = [Event("confirmation", add_months(TESTED, 5 * n)) for n in range(1, 8)]
    found = state(day("2026-03-01"), events=signed)
    assert [(due.act, due.by) for due in found.dues] == [("new test", day("2026-03-15"))]
    welds = {"weld_1": "2025-01-10", "weld_2": "2025-02-10", "conditions_reproduced": "yes"}
    prolonged = Event("prolongation", day("2025-03-01"), details=welds)
    for extra, owed in (([], False), ([prolonged], True)):
        found = state(day("2025-03-02"), "b", [*signed[:4], *extra])
        assert ("confirmation" in [due.act for due in found.dues]) is owed


def test_option_b_says_when_its_welds_are_due() -> None:
    found = state(TESTED, "b")
    act = found.dues[-1]
    assert (act.by, "2024-09-15" in act.act) == (day("2025-03-14"), True)


def test_leap_day() -> None:
    assert state(day("2024-08-29"), tested_on=day("2024-02-29")).valid
    assert state(day("2025-02-28"), tested_on=day("2024-08-31")).valid
    assert not state(day("2025-03-01"), tested_on=day("2024-08-31")).valid


def test_a_signature_on_the_day_of_the_test_is_a_confirmation_made() -> None:
    """9.2: the first six months start with the weld, and a signature of that day is on the list of what was done."""
    life = ValidityInput(TESTED, "a", events=(Event("confirmation", TESTED),))
    (period,) = confirmed_periods(life, SCHEME).periods
    assert [due.done_on for due in period.dues if due.act == "confirmation"] == [TESTED, None]
    early = ValidityInput(TESTED, "a", events=(Event("confirmation", TESTED - DAY),))
    (period,) = confirmed_periods(early, SCHEME).periods
    assert [due.done_on for due in period.dues if due.act == "confirmation"] == [None]


def test_what_opened_a_period_is_said() -> None:
    """9.1: the weld, or the results where they were accepted on a later day."""
    for results, said in ((None, "welded"), (TESTED, "welded"), (TESTED + DAY, "results")):
        (period,) = confirmed_periods(ValidityInput(TESTED, "a", results_on=results), SCHEME).periods
        assert said in period.opened


def test_no_signature_is_owed_for_the_last_day_of_the_last_term() -> None:
    """ISO 9606-1:2012, 9.3 b: tested 2024-01-15 and signed each 15th, it ends on 2026-01-15 whoever signs that day."""
    tested = day("2024-01-15")
    signed = [Event("confirmation", day(on)) for on in ("2024-07-15", "2025-01-15", "2025-07-15")]
    last = state(day("2026-01-14"), "b", signed, tested_on=tested)
    assert [due.act for due in last.dues if due.act == "confirmation"] == []
    ended = state(day("2026-01-16"), "b", signed, tested_on=tested)
    assert (ended.valid, ended.reason, ended.because) == (False, "validity_expiry", "option b ends on 2026-01-15")
    # One day earlier in the month it is owed: the term still runs on the day after.
    early = [Event("confirmation", day(on)) for on in ("2024-07-14", "2025-01-14", "2025-07-14")]
    owed = state(day("2026-01-13"), "b", early, tested_on=tested)
    assert [due.by for due in owed.dues if due.act == "confirmation"] == [day("2026-01-14")]
    late = state(day("2026-01-15"), "b", early, tested_on=tested)
    assert (late.valid, late.reason) == (False, "validity_confirmation")
