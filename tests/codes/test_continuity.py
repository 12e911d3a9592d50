"""The clock of use: edges, every gap, what counts as use, and what opens a lapsed qualification again."""

import random
from datetime import date, timedelta
from itertools import pairwise

import pytest

from codes.asme_ix_people_2021.validity import OPERATOR as IX_OPERATOR
from codes.asme_ix_people_2021.validity import WELDER as IX_WELDER
from codes.aws_d1_1_people_2020.validity import OPERATOR, TACK, WELDER
from codes.continuity import Rules, continuity_periods
from codes.dates import add_months
from codes.validity import Event, State, ValidityInput

DAY = timedelta(days=1)
TESTED = date(2024, 1, 15)
FACTS = {"process": "135", "employer": "North"}
HAND = {"process": "135", "mechanisation": "partly_mechanised"}


def day(text: str) -> date:
    return date.fromisoformat(text)


def use(on: str, **details: str) -> Event:
    return Event("use", day(on), details=HAND | details)


def state(on: str | date, *events: Event, rules: Rules = WELDER, tested: date = TESTED, **facts: str) -> State:
    life = ValidityInput(tested, events=events, facts=FACTS | facts)
    return continuity_periods(life, rules).state(day(on) if isinstance(on, str) else on)


@pytest.mark.parametrize(("rules", "grace"), [(WELDER, 0), (IX_WELDER, 1)], ids=["AWS D1.1", "ASME IX"])
def test_the_last_good_day_on_every_day_of_four_years(rules: Rules, grace: int) -> None:
    """Six months to the day: still good under AWS, already too late under ASME."""
    for offset in range(1461):
        used = date(2024, 1, 1) + offset * DAY
        last = add_months(used, 6) - grace * DAY
        found = continuity_periods(ValidityInput(used, facts=FACTS), rules)
        assert not found.state(used - DAY).valid
        assert found.state(used).valid
        assert found.state(last).valid
        assert found.state(last).until == last
        late = found.state(last + DAY)
        assert (late.valid, late.reason) == (False, "continuity")


@pytest.mark.parametrize("rules", [WELDER, IX_WELDER], ids=["AWS D1.1", "ASME IX"])
def test_a_use_on_every_day_of_four_years_keeps_it_or_comes_too_late(rules: Rules) -> None:
    last = rules.last_day(TESTED)
    assert last is not None
    for offset in range(1461):
        used = TESTED + offset * DAY
        found = continuity_periods(ValidityInput(TESTED, events=(use(used.isoformat()),), facts=FACTS), rules)
        until = rules.last_day(used)
        assert until is not None
        assert found.state(until).valid is (used <= last)
        assert not found.state(max(until, last) + DAY).valid


@pytest.mark.parametrize(
    ("tested", "aws", "ix"),
    [
        ("2023-08-31", "2024-02-29", "2024-02-28"),
        ("2024-08-31", "2025-02-28", "2025-02-27"),
        ("2024-02-29", "2024-08-29", "2024-08-28"),
        ("2024-12-31", "2025-06-30", "2025-06-29"),
    ],
)
def test_month_ends_and_leap_days(tested: str, aws: str, ix: str) -> None:
    for rules, last in ((WELDER, aws), (IX_WELDER, ix)):
        assert state(last, rules=rules, tested=day(tested)).valid
        assert not state(day(last) + DAY, rules=rules, tested=day(tested)).valid


def test_every_gap_counts_not_only_the_last() -> None:
    events = (use("2024-03-01"), use("2024-11-05"), use("2025-01-20"))
    assert state("2024-09-01", *events).valid
    late = state("2025-02-01", *events)
    assert (late.valid, late.reason) == (False, "continuity")
    assert "after 2024-03-01" in late.because
    assert "lapsed on 2024-09-02" in late.because


def test_a_use_entered_late_but_made_in_time_fills_the_gap() -> None:
    events = (use("2024-03-01"), use("2024-11-05"), use("2024-08-20"))
    assert state("2025-02-01", *events).valid


@pytest.mark.parametrize(
    ("details", "says"),
    [
        ({"process": "136"}, "made with FCAW, the test with GMAW"),
        ({"process": ""}, "its process is not stated"),
        ({"mechanisation": ""}, "its mechanisation is not stated"),
        ({"mechanisation": "automatic"}, "automatic welding keeps no qualification of this kind alive"),
        ({"employer": "South"}, "made for South, the test for North"),
        ({"used_on": "1.7.2024"}, "not written as 2026-03-31"),
        ({"used_on": "2024-07-02"}, "signed on 2024-07-01, before it was made"),
        ({"transfer_mode": "dip"}, "made with GMAW-S, the test with GMAW"),
    ],
)
def test_what_is_no_use(details: dict[str, str], says: str) -> None:
    found = state("2024-07-20", use("2024-07-01", **details))
    assert not found.valid
    assert says in found.because


@pytest.mark.parametrize(
    "details", [{}, {"employer": "north "}, {"process": "138"}, {"mechanisation": "manual"}, {"transfer_mode": "spray"}]
)
def test_what_is_use(details: dict[str, str]) -> None:
    assert state("2024-12-31", use("2024-07-01", **details)).valid


def test_under_asme_short_circuiting_is_no_process_of_its_own() -> None:
    assert state("2024-12-31", use("2024-07-01", transfer_mode="dip"), rules=IX_WELDER).valid


@pytest.mark.parametrize(
    ("rules", "kept_by"), [(WELDER, "manual"), (OPERATOR, "automatic"), (IX_OPERATOR, "automatic")]
)
def test_hand_and_machine_keep_their_own_qualifications_only(rules: Rules, kept_by: str) -> None:
    for mode in ("manual", "partly_mechanised", "fully_mechanised", "automatic"):
        same = (mode in ("manual", "partly_mechanised")) is (kept_by == "manual")
        assert state("2024-12-01", use("2024-07-01", mechanisation=mode), rules=rules).valid is same


def test_a_signature_counts_from_the_day_of_the_weld_it_names() -> None:
    signed = Event("confirmation", day("2024-07-10"), details={"used_on": "2024-05-10"})
    assert state("2024-11-10", signed).valid
    assert not state("2024-11-11", signed).valid
    unnamed = state("2024-07-20", Event("confirmation", day("2024-07-10")))
    assert not unnamed.valid
    assert "names no day of welding" in unnamed.because


def test_a_lapse_is_not_revived_by_use_only_by_a_renewal() -> None:
    late = (use("2024-08-01"), use("2024-09-01"))
    assert not state("2024-09-02", *late).valid
    renewed = (*late, Event("renewal", day("2024-10-01")))
    assert not state("2024-09-30", *renewed).valid
    found = state("2024-10-01", *renewed)
    assert (found.valid, found.because) == (True, "renewed by the test of 2024-10-01")
    assert state("2025-04-01", *renewed).valid
    assert not state("2025-04-02", *renewed).valid
    assert state("2024-07-15", *renewed).valid


@pytest.mark.parametrize(("rules", "last"), [(WELDER, "2024-07-15"), (IX_WELDER, "2024-07-14")], ids=["AWS", "ASME"])
def test_each_process_of_one_test_has_its_own_clock(rules: Rules, last: str) -> None:
    """ASME IX, QW-322.1(a), and AWS D1.1, 6.2.3.1: use of GTAW keeps no SMAW alive, whatever paper both stand on."""
    facts, gtaw = {"process": "141,111"}, {"process": "141", "mechanisation": "manual"}
    used = [use(on, **gtaw) for on in ("2024-05-01", "2024-09-01")]
    assert state(last, *used, rules=rules, **facts).valid
    late = state(day(last) + DAY, *used, rules=rules, **facts)
    assert (late.valid, late.reason) == (False, "continuity")
    assert "made with GTAW, the test with SMAW" in late.because
    both = (*used, use("2024-07-10", **gtaw | {"process": "111"}))
    # SMAW ends it, used last on 10 July; GTAW of 1 September would run into March.
    end = day(last.replace("2024-07-1", "2025-01-1")) - 5 * DAY
    assert end == add_months(day("2024-07-10"), 6) - (DAY if rules.lapses_on_day else 0 * DAY)
    assert state(end, *both, rules=rules, **facts).valid
    ended = state(end + DAY, *both, rules=rules, **facts)
    assert (ended.valid, ended.reason) == (False, "continuity")
    assert "no weld with SMAW after 2024-07-10" in ended.because
    found = state("2024-09-02", *both, rules=rules, **facts)
    assert [due.by for due in found.dues] == [found.until]


def test_an_act_without_a_process_keeps_one_of_several_processes_not_alive() -> None:
    """AWS D1.1, 6.2.3.1 (strict): which process was welded must be said; a full test was made with all."""
    signed = Event("confirmation", day("2024-07-10"), details={"used_on": "2024-07-10"})
    assert state("2024-07-16", signed).valid
    assert "its process is not stated" in state("2024-07-16", signed, process="141,111").because
    short, full = (Event("renewal", day("2024-08-01"), details=one) for one in ({}, {"full_test": "yes"}))
    assert not state("2024-08-01", short, process="141,111").valid
    assert state("2024-08-01", full, process="141,111").valid
    assert state("2024-07-16", signed, process="135,135", transfer_mode="spray,pulsed").valid
    assert not state("2024-07-16", signed, process="135,135", transfer_mode="spray,dip").valid


@pytest.mark.parametrize(("rules", "lapsed"), [(WELDER, "2024-07-16"), (IX_WELDER, "2024-07-15")], ids=["AWS", "ASME"])
def test_a_renewal_counts_for_the_processes_that_it_states(rules: Rules, lapsed: str) -> None:
    """AWS D1.1, 6.2.3.1, and ASME IX, QW-322.2(a): one test renews the process that it was made with."""
    facts = {"process": "141,111"}
    one, other, both = (Event("renewal", day("2024-08-01"), details={"process": p}) for p in ("141", "111", "111, 141"))
    assert not state(lapsed, both, rules=rules, **facts).valid
    assert not state("2024-08-01", one, rules=rules, **facts).valid
    assert state("2024-08-01", both, rules=rules, **facts).valid
    assert not state("2024-07-31", one, other, rules=rules, **facts).valid
    together = state("2024-08-01", one, other, rules=rules, **facts)
    assert (together.valid, together.until) == (True, rules.last_day(day("2024-08-01")))
    third = Event("renewal", day("2024-08-01"), details={"process": "135,136"})
    assert "made with GMAW and FCAW, the test with" in state("2024-08-02", third, rules=rules, **facts).because
    full = Event("renewal", day("2024-08-01"), details={"process": "141", "full_test": "yes"})
    assert not state("2024-08-01", full, rules=rules, **facts).valid


def test_a_signature_on_a_weld_of_two_processes_keeps_both() -> None:
    said = {"used_on": "2024-07-10", "process": "141,111"}
    signed = Event("confirmation", day("2024-07-12"), details=said)
    assert state("2025-01-10", signed, process="141,111").valid
    assert not state("2025-01-11", signed, process="141,111").valid
    assert not state("2024-07-16", signed, process="141,111,135").valid


def test_a_failed_renewal_holds_up_the_processes_that_it_states_and_all_where_it_states_none() -> None:
    """AWS D1.1, 6.25, from memory: further training comes first; which process failed is the examiner's to say."""
    facts, renewed = {"process": "141,111"}, Event("renewal", day("2024-08-01"), details={"process": "141,111"})
    for said, valid in (({"process": "135"}, True), ({"process": "141"}, False), ({}, False)):
        failed = Event("failed_renewal", day("2024-07-20"), details=said)
        assert state("2024-08-01", failed, renewed, **facts).valid is valid, said


@pytest.mark.parametrize("rules", [WELDER, IX_WELDER], ids=["AWS", "ASME"])
@pytest.mark.parametrize("order", ["141,111", "111,141"])
def test_of_several_clocks_the_one_that_still_stands_is_named(rules: Rules, order: str) -> None:
    """AWS D1.1, 6.2.3.1, and ASME IX, QW-322.1(a): a renewal of GTAW leaves SMAW lapsed, and the answer says so."""
    gtaw = Event("renewal", day("2024-08-01"), details={"process": "141"})
    one = state("2024-08-01", gtaw, rules=rules, process=order).because
    assert one.startswith("no weld with SMAW after 2024-01-15"), one
    assert "the renewal of 2024-08-01 does not count: it was made with GTAW, the test with SMAW" in one
    failed = Event("failed_renewal", day("2024-07-20"), details={"process": "111"})
    both = Event("renewal", day("2024-08-01"), details={"process": "141,111"})
    held_up = state("2024-08-01", failed, both, rules=rules, process=order).because
    assert held_up.startswith("no weld with SMAW after 2024-01-15"), held_up
    assert "the one of 2024-07-20 failed, and no further training since is stated" in held_up


def test_a_clock_that_ran_longer_is_named_when_it_alone_is_left() -> None:
    """SMAW lapses first and is renewed on 1 August; GTAW, used last on 20 January, lapsed meanwhile and is not."""
    used = use("2024-01-20", process="141", mechanisation="manual")
    renewed = Event("renewal", day("2024-08-01"), details={"process": "111"})
    found = state("2024-08-01", used, renewed, process="111,141")
    assert not found.valid
    assert "no weld with SMAW after 2024-01-15, so it lapsed on 2024-07-16" in found.because
    assert "no weld with GTAW after 2024-01-20, so it lapsed on 2024-07-21" in found.because


def test_short_circuiting_is_named_beside_its_process() -> None:
    """AWS D1.1 holds GMAW-S apart, ASME IX does not hold its clock apart."""
    facts = {"process": "135,135", "transfer_mode": "spray,dip"}
    plain = Event("renewal", day("2024-08-01"), details={"process": "135"})
    both = Event("renewal", day("2024-08-01"), details={"process": "135,135", "transfer_mode": "spray,dip"})
    assert not state("2024-08-01", plain, **facts).valid
    assert state("2024-08-01", both, **facts).valid
    assert state("2024-08-01", plain, rules=IX_WELDER, **facts).valid


def test_a_renewal_in_time_is_a_use() -> None:
    found = continuity_periods(
        ValidityInput(TESTED, events=(Event("renewal", day("2024-05-01")),), facts=FACTS), WELDER
    )
    assert [(p.start, p.end) for p in found.periods] == [(TESTED, day("2024-11-01"))]


@pytest.mark.parametrize(
    ("details", "says"),
    [
        ({"passed": "no"}, "was not passed"),
        ({"process": "111"}, "made with SMAW"),
        ({"employer": "South"}, "made for South"),
    ],
)
def test_a_renewal_that_does_not_count_says_why(details: dict[str, str], says: str) -> None:
    found = state("2024-10-02", Event("renewal", day("2024-10-01"), details=details))
    assert (found.valid, found.reason) == (False, "continuity")
    assert says in found.because


def test_after_a_failed_renewal_training_comes_first() -> None:
    failed = Event("failed_renewal", day("2024-09-01"))
    assert not state("2024-10-02", failed, Event("renewal", day("2024-10-01"))).valid
    early = Event("renewal", day("2024-10-01"), details={"trained_on": "2024-08-31"})
    assert not state("2024-10-02", failed, early).valid
    trained = Event("renewal", day("2024-10-01"), details={"trained_on": "2024-09-01"})
    assert state("2024-10-02", failed, trained).valid


@pytest.mark.parametrize(("rules", "key"), [(WELDER, "full_test"), (IX_WELDER, "like_production")])
def test_a_revocation_is_ended_only_by_the_renewal_the_code_names(rules: Rules, key: str) -> None:
    revoked = Event("revocation", day("2024-03-01"), details={"why": "cracked welds"})
    assert state("2024-02-29", revoked, rules=rules).valid
    found = state("2024-03-01", revoked, use("2024-03-02"), rules=rules)
    assert (found.valid, found.reason) == (False, "revoked")
    assert "cracked welds" in found.because
    plain = state("2024-03-20", revoked, Event("renewal", day("2024-03-10")), rules=rules)
    assert (plain.valid, plain.reason) == (False, "revoked")
    assert "after a revocation it must be" in plain.because
    right = Event("renewal", day("2024-03-10"), details={key: "yes"})
    assert state("2024-03-20", revoked, right, rules=rules).valid
    assert not state("2024-03-09", revoked, right, rules=rules).valid


def test_tack_welders_have_no_clock_but_can_be_revoked() -> None:
    assert state("2034-01-15", rules=TACK).valid
    assert state("2034-01-15", rules=TACK).until is None
    assert not state("2024-01-14", rules=TACK).valid
    revoked = Event("revocation", day("2025-01-01"))
    assert state("2024-12-31", revoked, rules=TACK).valid
    assert state("2025-01-01", revoked, rules=TACK).reason == "revoked"


def test_an_event_nobody_knows_leaves_everything_open() -> None:
    found = state("2024-02-01", Event("holiday", day("2024-02-01")))
    assert not found.valid
    assert 'what the event "holiday"' in found.missing


@pytest.mark.parametrize("fact", ["process", "employer"])
def test_facts_that_the_events_are_held_to_must_be_stated(fact: str) -> None:
    life = ValidityInput(TESTED, events=(use("2024-03-01", employer="North"),), facts={**FACTS, fact: ""})
    assert f"the {fact} of the test" in continuity_periods(life, WELDER).missing


def test_what_is_due_is_the_next_weld() -> None:
    found = state("2024-05-01", use("2024-03-01"))
    assert [(due.act, due.by) for due in found.dues] == [("weld with the process", day("2024-09-01"))]
    assert state("2024-02-01", use("2024-03-01")).dues[0].by == day("2024-07-15")


def test_results_that_come_late_open_later_under_aws_and_not_under_asme() -> None:
    life = ValidityInput(TESTED, results_on=day("2024-03-01"), facts=FACTS)
    assert not continuity_periods(life, WELDER).state(day("2024-02-29")).valid
    assert continuity_periods(life, WELDER).state(day("2024-03-01")).until == day("2024-07-15")
    assert continuity_periods(life, IX_WELDER).state(TESTED).valid


def test_an_event_before_the_test_says_nothing() -> None:
    assert state("2024-07-15", use("2023-12-01"), Event("revocation", day("2023-12-02"))).until == day("2024-07-15")


@pytest.mark.parametrize(("rules", "exactly"), [(WELDER, True), (IX_WELDER, False)], ids=["AWS D1.1", "ASME IX"])
def test_any_welds_on_any_day_agree_with_a_look_at_every_gap(rules: Rules, exactly: bool) -> None:
    """The reading in one line: no two neighbouring marks (test, welds, the day itself) lie too far apart."""
    draw = random.Random(6)
    for _ in range(300):
        uses = sorted(TESTED + draw.randrange(0, 900) * DAY for _ in range(draw.randrange(0, 9)))
        found = continuity_periods(
            ValidityInput(TESTED, events=tuple(use(u.isoformat()) for u in uses), facts=FACTS), rules
        )
        for _ in range(20):
            on = TESTED + draw.randrange(0, 1100) * DAY
            marks = [TESTED, *(u for u in uses if u <= on), on]
            edges = [(add_months(a, 6), b) for a, b in pairwise(marks)]
            assert found.state(on).valid is all(b <= end if exactly else b < end for end, b in edges), (uses, on)


def test_what_the_codes_differ_in() -> None:
    """AWS D1.1, 6.2.3: more than six months, GMAW-S apart, from the results on, tack welders without a clock.

    ASME IX, QW-322: six months or more, by process, from the test on.
    """
    found = {
        name: (rules.lapses_on_day, rules.mode_apart, rules.from_results, rules.clock, rules.modes[0])
        for name, rules in (
            ("AWS welder", WELDER), ("AWS operator", OPERATOR), ("AWS tack welder", TACK),
            ("IX welder", IX_WELDER), ("IX operator", IX_OPERATOR),
        )
    }  # fmt: skip
    assert found == {
        "AWS welder": (False, True, True, True, "manual"),
        "AWS operator": (False, True, True, True, "fully_mechanised"),
        "AWS tack welder": (False, True, True, False, "manual"),
        "IX welder": (True, False, False, True, "manual"),
        "IX operator": (True, False, False, True, "fully_mechanised"),
    }
