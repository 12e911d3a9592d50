"""The quick answers say what the explained ones say: for random limits and demands, on every run."""

from hypothesis import given, settings
from hypothesis import strategies as st

from codes.check import check, covers, nearness
from codes.cover import is_covered, uncovered
from codes.limits import Limit, OneOf
from codes.verdict import Outcome
from joints.merge import merged
from joints.misses import COVERED, joined_misses, misses
from joints.requirements import joined
from tests.joints.makers import RANGE, demand, limits
from tests.joints.test_bulk import Cases


@settings(max_examples=80, deadline=None)
@given(st.integers(0, 2**63))
def test_misses_are_those_of_the_verdict(seed: int) -> None:
    cases = Cases(seed)
    for offer in cases.procedures():
        asked = cases.demand()
        box = merged(offer, asked)
        sets = [one for record in offer.records for one in record.sets]
        for one in sets:
            quick, verdict = misses(box, one.limits), check(box, one)
            assert quick.outcome is verdict.outcome
            assert quick.key == nearness(verdict)
            assert quick.reasons == verdict.reasons
            assert covers(box, one) is (verdict.outcome is Outcome.COVERED)
        if sets:
            assert is_covered(box, sets) is (not uncovered(box, sets))


def test_several_that_must_all_hold() -> None:
    first = limits("a", t=(3, 10))
    second = limits("b", Limit("position", OneOf(("PA",)), RANGE), t=(3, 11))
    both = joined_misses(misses(demand(), one.limits) for one in (first, second))
    whole = joined("both", demand(), [check(demand(), one) for one in (first, second)])
    assert (both.key, both.reasons) == (nearness(whole), whole.reasons)
    assert joined_misses((COVERED, COVERED)) is COVERED


def test_where_no_limit_counts_only_a_gate_stands_open() -> None:
    assert not misses(demand(), ()).covered
    assert misses(demand(), (), open_if_none=True).covered
