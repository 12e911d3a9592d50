"""A renewal test that fails while the certificate is valid ends nothing by itself, and shows until it is settled."""

from datetime import date

import pytest

from codes.asme_ix_people_2021.validity import WELDER as IX_WELDER
from codes.aws_d1_1_people_2020.validity import TACK, WELDER
from codes.continuity import Rules, continuity_periods
from codes.validity import Event, State, ValidityInput

TESTED = date(2024, 1, 15)
FACTS = {"process": "135", "employer": "North"}


def day(text: str) -> date:
    return date.fromisoformat(text)


def state(on: str, *events: Event, rules: Rules = WELDER, **facts: str) -> State:
    return continuity_periods(ValidityInput(TESTED, events=events, facts=FACTS | facts), rules).state(day(on))


@pytest.mark.parametrize(
    ("rules", "place"),
    [(WELDER, "6.2.3.1 (2)"), (TACK, "6.2.3.2"), (IX_WELDER, "QW-322.1(b)")],
    ids=["AWS", "tack", "IX"],
)
def test_a_failed_test_of_a_valid_certificate_questions_it_and_does_not_end_it(rules: Rules, place: str) -> None:
    """AWS D1.1, 6.2.3.1 (2), and ASME IX, QW-322.1(b): a specific reason to question ability ends it, by decision."""
    failed = Event("failed_renewal", day("2024-05-01"), details={"why": "porosity."})
    assert state("2024-04-30", failed, rules=rules).questions == ()
    found = state("2024-05-01", failed, rules=rules)
    assert found.valid
    (question,) = found.questions
    assert (question.on, question.clause.ref) == (day("2024-05-01"), place)
    assert question.because == "the renewal test of 2024-05-01 failed: porosity"
    assert question.because in found.because
    untrained = Event("renewal", day("2024-05-10"))
    assert state("2024-05-10", failed, untrained, rules=rules).questions == (question,)
    passed = Event("renewal", day("2024-05-10"), details={"trained_on": "2024-05-02"})
    assert state("2024-05-09", failed, passed, rules=rules).questions
    assert state("2024-05-10", failed, passed, rules=rules).questions == ()
    revoked = Event("revocation", day("2024-05-10"))
    assert state("2024-05-10", failed, revoked, rules=rules).questions == ()


def test_a_failed_test_questions_the_process_that_it_was_made_with() -> None:
    facts = {"process": "141,111"}
    other, gtaw = (Event("failed_renewal", day("2024-05-01"), details={"process": one}) for one in ("135", "141"))
    assert state("2024-05-01", other, **facts).questions == ()
    (question,) = state("2024-05-01", gtaw, **facts).questions
    assert question.because == "the renewal test of 2024-05-01 with GTAW failed"
    passed = Event("renewal", day("2024-05-10"), details={"process": "141", "trained_on": "2024-05-02"})
    assert state("2024-05-10", gtaw, passed, **facts).questions == ()


def test_a_failed_test_after_the_lapse_questions_nothing_that_is_valid() -> None:
    failed = Event("failed_renewal", day("2024-08-01"))
    trained = Event("renewal", day("2024-09-01"), details={"trained_on": "2024-08-20"})
    assert not state("2024-08-01", failed).valid
    assert state("2024-09-01", failed, trained).questions == ()


def test_a_renewal_passed_in_time_after_training_settles_the_failure_for_good() -> None:
    """AWS D1.1, 6.25: the training was between the failure and that renewal; the next one needs none."""
    failed = Event("failed_renewal", day("2024-05-01"))
    passed = Event("renewal", day("2024-05-10"), details={"trained_on": "2024-05-02"})
    assert state("2025-06-01", failed, passed, Event("renewal", day("2025-06-01"))).valid
