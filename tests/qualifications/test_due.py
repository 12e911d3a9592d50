"""What falls due: edges of every horizon, lapses, and what is left out."""

from datetime import date, timedelta

import pytest

from codes.clauses import Clause
from codes.confirmations import Scheme, confirmed_periods
from codes.validity import Event, Validity, ValidityInput
from qualifications.due import END, LAPSED, WITHIN, falls_due, grouped
from qualifications.offers import CertificateOffer
from qualifications.periods import cut

C = Clause("Test standard", "9")
SCHEME = Scheme("Test standard", C, C, C, C, new_test_years=3, term_years=2)


def life(
    *confirmed: date, option: str = "a", revoked: date | None = None, tested: date = date(2025, 1, 31)
) -> Validity:
    events = [Event("confirmation", day) for day in confirmed]
    events += [Event("revocation", revoked, details={"why": "doubt"})] if revoked else []
    return confirmed_periods(ValidityInput(tested, option, events=tuple(events)), SCHEME)


def offer(validity: Validity, pk: int = 1, name: str = "Ada Krol") -> CertificateOffer:
    return CertificateOffer(pk, pk, name, f"{name}, W-{pk}", "welder", (), validity, number=f"W-{pk}")


DUE = date(2025, 7, 31)


@pytest.mark.parametrize("horizon", WITHIN)
@pytest.mark.parametrize(("shift", "inside"), [(0, True), (1, True), (-1, False)])
def test_each_horizon_counts_its_last_day(horizon: int, shift: int, inside: bool) -> None:
    """Asked `horizon` days before the due day it is in; a day earlier it is not."""
    on = DUE - timedelta(days=horizon) + timedelta(days=shift)
    items = falls_due([offer(life(tested=date(2025, 1, 31)))], on, within=(horizon,))
    assert [i.by for i in items if i.act == "confirmation"] == ([DUE] if inside else [])


def test_on_the_day_itself_it_is_due_and_a_day_later_it_has_lapsed() -> None:
    one = offer(life())
    (today,) = falls_due([one], DUE)
    assert (today.act, today.days, today.within) == ("confirmation", 0, 30)
    (after,) = falls_due([one], DUE + timedelta(days=1))
    assert (after.act, after.by, after.days, after.within) == (LAPSED, DUE, -1, 0)
    assert "no confirmation between 2025-01-31 and 2025-07-31" in after.because


@pytest.mark.parametrize(("days", "shown"), [(89, True), (90, True), (91, False)])
def test_a_lapse_is_shown_for_ninety_days(days: int, shown: bool) -> None:
    items = falls_due([offer(life())], DUE + timedelta(days=days))
    assert bool(items) is shown


def test_a_confirmation_done_falls_due_no_more() -> None:
    one = offer(life(date(2025, 7, 1)))
    acts = {(i.act, i.by) for i in falls_due([one], date(2025, 7, 10), within=(180,))}
    assert ("confirmation", DUE) not in acts
    assert ("confirmation", date(2026, 1, 1)) in acts


def test_the_end_of_option_a_is_named_once() -> None:
    days = [date(2025, 1, 31)]
    while days[-1] < date(2027, 12, 1):
        days.append(days[-1] + timedelta(days=150))
    items = falls_due([offer(life(*days[1:]))], date(2027, 12, 20))
    ends = [(i.act, i.by) for i in items if i.by == date(2028, 1, 31)]
    assert ends == [("new test", date(2028, 1, 31))]


def test_option_b_names_the_two_welds() -> None:
    days = [date(2025, 6, 30), date(2025, 12, 1), date(2026, 5, 1), date(2026, 10, 1)]
    items = falls_due([offer(life(*days, option="b"))], date(2026, 11, 25))
    (welds,) = [i for i in items if i.act.startswith("two test welds")]
    assert welds.by == date(2027, 1, 30)


def test_a_revocation_is_a_lapse() -> None:
    (item,) = falls_due([offer(life(revoked=date(2025, 6, 1)))], date(2025, 6, 2))
    assert (item.act, item.by) == (LAPSED, date(2025, 5, 31))
    assert "revoked on 2025-06-01: doubt" in item.because
    assert item.what == "no longer valid: revoked on 2025-06-01: doubt"


def test_an_end_that_no_due_names_is_named_itself() -> None:
    """A revocation that takes effect later this month."""
    items = falls_due([offer(life(revoked=date(2025, 6, 20)))], date(2025, 6, 2))
    assert (END, date(2025, 6, 19)) in {(i.act, i.by) for i in items}


def test_whoever_left_is_neither_due_nor_lapsed() -> None:
    one = offer(cut(life(), date(2025, 6, 15)))
    assert falls_due([one], date(2025, 6, 16)) == ()


def test_before_the_test_nothing_is_due() -> None:
    assert falls_due([offer(life())], date(2025, 1, 30)) == ()


def test_what_is_not_judged_is_left_out() -> None:
    nothing = Validity((), life().before, "not judged")
    assert falls_due([offer(nothing)], DUE) == ()


def test_groups_hold_every_item_once_and_stay_when_empty() -> None:
    offers = [offer(life(), 1), offer(life(date(2025, 5, 1)), 2, "Bo Lang"), offer(life(tested=date(2025, 1, 1)), 3)]
    items = falls_due(offers, date(2025, 7, 10))
    groups = grouped(items)
    assert [g.title for g in groups] == [
        "No longer valid",
        "Within 30 days",
        "In 31 to 60 days",
        "In 61 to 90 days",
        "In 91 to 180 days",
    ]
    assert sorted(i.certificate_id for g in groups for i in g.items) == sorted(i.certificate_id for i in items)
    assert [i.certificate_id for i in groups[0].items] == [3]
    assert [i.certificate_id for i in groups[1].items] == [1]
    assert groups[2].items == ()


def test_earliest_first() -> None:
    offers = [offer(life(date(2025, 5, 1)), 2, "Bo Lang"), offer(life(), 1)]
    days = [i.by for i in falls_due(offers, date(2025, 7, 10))]
    assert days == sorted(days)
