"""Figures as written, days of validity, rounded ranges and additions of grades: edges that every code shares."""

from datetime import date
from decimal import Decimal as D

import pytest

from codes.amounts import amount
from codes.clauses import Clause, Mark
from codes.confirmations import Scheme, confirmed_periods
from codes.limits import Limit, Within, span
from codes.slots import Slots
from codes.steels import addition, grade_of, steel_of
from codes.units import System, interval_in
from codes.validity import Event, ValidityInput
from codes.values import Interval
from tests.codes.test_continuity import state, use

WHERE = Clause("a standard", "9", Mark.OWN)


@pytest.mark.parametrize(
    ("written", "unit", "figure"),
    [
        ("12.", "mm", "12"),
        ("12.5", "mm", "12.5"),
        ("12,5 mm", "mm", "12.5"),
        ("1e1", "mm", "10"),
        ("3/8 in", "mm", "9.525"),
        ("1-1/2 in", "mm", "38.1"),
        ("1 1/2 in", "mm", "38.1"),
        ("-20 C", "°C", "-20"),
        ("14 F", "°C", "-10"),
        ({"value": "3/8", "unit": "in"}, "mm", "9.525"),
        ({"value": "3/8 in", "unit": "inch"}, "mm", "9.525"),
        ({"value": "12"}, "mm", "12"),
        (12, "mm", "12"),
        (0.1, "mm", "0.1"),
    ],
)
def test_a_figure_as_people_write_it(written: object, unit: str, figure: str) -> None:
    assert amount(written, unit) == D(figure)


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ({"unit": "in"}, "write an amount as"),
        ({"value": "3", "per": "in"}, "write an amount as"),
        ({"value": "3 mm", "unit": "in"}, "state one unit"),
        ("1_0", "is not a unit"),
        ("١٢", "is not a number"),
        ("3/8", "is a fraction"),
        ("3/8 mm", "is a fraction"),
        ("3/0 in", "divides by nought"),
        ("12 kg", "is not a unit"),
        (True, "must be a number"),
        (None, "must be a number"),
        ("", "is not a number"),
        ("12.5.1", "is not a number"),
    ],
)
def test_what_is_no_figure_is_refused_in_words(written: object, said: str) -> None:
    with pytest.raises(ValueError, match=said):
        amount(written, "mm")


@pytest.mark.parametrize(
    ("lo", "hi", "us"),
    [
        # 0.99921 to 1.00039 in: the one thousandth inside is 1.000.
        ("25.38", "25.41", ("1", "1")),
        ("25.4", "25.4", ("1", "1")),
        ("3", "16", ("0.119", "0.629")),
        # 0.99961 to 0.99988 in holds no thousandth: the nearest figure of the lower end.
        ("25.39", "25.397", ("1", "1")),
    ],
)
def test_a_narrow_range_in_inches(lo: str, hi: str, us: tuple[str, str]) -> None:
    """Ends are rounded inwards, so that nothing outside the range is shown as inside."""
    found = interval_in(Interval(D(lo), D(hi), "mm"), "mm", System.US)
    assert (found.lo, found.hi) == (D(us[0]), D(us[1]))


SCHEME = Scheme("a standard", WHERE, WHERE, WHERE, WHERE, new_test_years=3, term_years=2)


def test_validity_may_last_a_single_day() -> None:
    """ISO 9606-1:2012, 9.1 and 9.2: results accepted on the last day of the first six months are good for that day."""
    for results, valid in (("2026-07-31", True), ("2026-08-01", False)):
        life = ValidityInput(date(2026, 1, 31), "a", results_on=date.fromisoformat(results))
        found = confirmed_periods(life, SCHEME)
        days = [
            found.state(date(2026, 7, 30)).valid,
            found.state(date(2026, 7, 31)).valid,
            found.state(date(2026, 8, 1)).valid,
        ]
        assert days == [False, valid, False], results


def test_a_qualification_may_be_revoked_after_a_single_day() -> None:
    """AWS D1.1, 6.2.3: the day before the revocation is the last good one, be it the first."""
    for revoked, valid in ((16, True), (15, False)):
        event = Event("revocation", date(2024, 1, revoked), details={"why": "doubt"})
        assert state("2024-01-15", event).valid is valid
        assert not state("2024-01-16", event).valid
    assert state("2024-01-16", use("2024-01-15")).valid


def test_limits_that_tell_nothing_more_apart_change_nothing() -> None:
    one = Limit("parent_t", span(D(3), D(24), "mm"), WHERE)
    other = Limit("parent_t", Within(Interval(D(3), D(30), "mm")), WHERE)
    known = Slots().joined([one])
    assert known.joined([one]) is known
    assert known.joined([other]).of("parent_t", D(25)) != known.joined([other]).of("parent_t", D(31))
    assert known.of("parent_t", D(25)) == known.of("parent_t", D(31))


def test_a_firms_own_grade_stands_before_the_table_and_beside_it() -> None:
    """A grade that a firm adds is found by its own name, and hides no other."""
    own = (addition("Weldox X", "3.1", "-:700", "data sheet"), addition("S355J2", "1.2", "-:350", "certificate"))
    assert steel_of("weldox x", additions=own).yield_mpa == 700
    assert steel_of("S355J2", additions=own).yield_mpa == 350
    assert steel_of("S235JR", additions=own) == steel_of("S235JR")
    assert grade_of("S235JR", own).standard and not grade_of("Weldox X", own).standard


@pytest.mark.parametrize("system", list(System))
def test_both_systems_show_an_end_that_is_open_as_open(system: System) -> None:
    found = interval_in(Interval(D(3), D(16), "mm", lo_open=True, hi_open=True), "mm", system)
    assert (found.lo_open, found.hi_open) == (True, True)


def test_what_happened_on_one_day_counts_in_the_order_of_the_code_not_of_the_file() -> None:
    """AWS D1.1, 6.2.3 (reading of this register): a weld before a failure, a revocation after it, a renewal last."""
    test = {"process": "135", "mechanisation": "partly_mechanised", "full_test": "yes"}
    renewal = Event("renewal", date(2024, 3, 1), details=test)
    revoked = Event("revocation", date(2024, 3, 1), details={"why": "doubt"})
    for events in ((renewal, revoked), (revoked, renewal)):
        assert state("2024-03-01", *events).valid, events
    lapsed = date(2024, 8, 1)
    failed, trained = Event("failed_renewal", lapsed), {"trained_on": "2024-08-02"}
    for details, valid in ((test, False), (test | trained, True)):
        again = Event("renewal", date(2024, 8, 3), details=details)
        assert state("2024-08-03", failed, again).valid is valid, details
    same_day = Event("renewal", lapsed, details=test)
    assert not state("2024-08-01", same_day, failed).valid
