"""The one checker: three answers, conditions, missing values, margins, and what needs a further test."""

from decimal import Decimal as D

import pytest

from codes.check import best, check
from codes.clauses import Clause, Mark
from codes.limits import Free, Limit, LimitSet, Nothing, OneOf, Unrecorded, Within, span, unless, when_is
from codes.values import Interval
from codes.verdict import Outcome

CLAUSE = Clause("An invented standard:2026", "1.1", Mark.OWN)
PROCESS = Limit("process", OneOf(("135", "138")), CLAUSE, "tested 135")


def a_set(*limits):
    return LimitSet("record 1", (PROCESS, *limits))


THICKNESS = Limit("deposit_t", span(D(3), D(16), "mm"), CLAUSE, "tested s = 8 mm: 3 to 2 s")
ABOVE_16 = Within(Interval(D(16), None, "mm", lo_open=True))


@pytest.mark.parametrize(
    ("value", "outcome", "margin"),
    [
        (D(3), Outcome.COVERED, D(0)),
        (D(16), Outcome.COVERED, D(0)),
        (D("2.9"), Outcome.OUTSIDE, D("-0.1")),
        (D("16.1"), Outcome.OUTSIDE, D("-0.1")),
        (Interval(D(3), D(16), "mm"), Outcome.COVERED, D(0)),
        (Interval(D(3), D(17), "mm"), Outcome.OUTSIDE, D(-1)),
        (Interval(D(5), None, "mm"), Outcome.OUTSIDE, None),
        (Interval(D(20), None, "mm"), Outcome.OUTSIDE, D(-4)),
        (Interval(None, D(16), "mm"), Outcome.OUTSIDE, None),
        (Interval(None, D(2), "mm"), Outcome.OUTSIDE, D(-1)),
        ((D(5), D(20)), Outcome.OUTSIDE, D(-4)),
        ((D(5), D(15)), Outcome.COVERED, D(1)),
        (None, Outcome.NOT_STATED, None),
    ],
)
def test_both_edges_one_step_outside_several_values_and_not_stated(value, outcome, margin):
    demand = {"process": "135"} | ({} if value is None else {"deposit_t": value})
    verdict = check(demand, a_set(THICKNESS))
    found = next(f for f in verdict.findings if f.variable == "deposit_t")
    assert (verdict.outcome, found.margin) == (outcome, margin)


def test_a_margin_of_nothing_says_on_which_side_of_the_end_it_lies():
    """An end that belongs to the range is its limit; one that is left out is missed, by no size."""
    for allowed, said in ((span(None, D(16), "mm"), "at its limit"), (ABOVE_16, "misses at an end that is left out")):
        limit = Limit("deposit_t", allowed, CLAUSE, "tested s = 8 mm")
        found = next(f for f in check({"process": "135", "deposit_t": D(16)}, a_set(limit)).findings if f.margin == 0)
        assert found.margin_text == said


def test_every_variable_has_a_finding_worst_first():
    verdict = check({"process": "136"}, a_set(THICKNESS))
    assert [f.outcome for f in verdict.findings] == [Outcome.OUTSIDE, Outcome.NOT_STATED]
    assert verdict.reasons == ("process", "deposit_t")


def test_the_sentence_names_value_range_miss_and_clause():
    sentence = check({"process": "135", "deposit_t": D("16.1")}, a_set(THICKNESS)).sentence
    for part in ("16.1 mm", "3 to 16 mm", "by 0.1 mm", "tested s = 8 mm", "1.1"):
        assert part in sentence


CAP = Limit("parent_t", span(None, D(12), "mm"), CLAUSE, "no impact tests", when=(when_is("impact_required", "yes"),))


@pytest.mark.parametrize(
    ("impact", "thickness", "outcome"),
    [
        ("yes", D(13), Outcome.OUTSIDE),
        ("yes", D(12), Outcome.COVERED),
        ("no", D(13), Outcome.COVERED),
        (None, D(13), Outcome.NOT_STATED),  # it might apply, so nothing is known
        (None, D(12), Outcome.COVERED),  # it holds whether or not it applies
    ],
)
def test_a_condition_that_is_not_stated_never_passes_by_silence(impact, thickness, outcome):
    demand = {"process": "135", "parent_t": thickness} | ({"impact_required": impact} if impact else {})
    assert check(demand, a_set(CAP)).outcome is outcome


def test_a_window_meets_a_condition_with_any_of_its_values():
    only_flat = Limit("position", OneOf(("PA",)), CLAUSE, when=(when_is("weld_type", "fillet"),))
    demand = {"process": "135", "position": "PB", "weld_type": ("butt_cjp", "fillet")}
    assert check(demand, a_set(only_flat)).outcome is Outcome.OUTSIDE


def test_negated_condition():
    limit = Limit("position", OneOf(("PA",)), CLAUSE, when=(unless("weld_type", "fillet"),))
    assert check({"process": "135", "position": "PB", "weld_type": "fillet"}, a_set(limit)).outcome is Outcome.COVERED
    assert check({"process": "135", "position": "PB", "weld_type": "butt_cjp"}, a_set(limit)).outcome is Outcome.OUTSIDE


def test_free_needs_no_value_and_nothing_admits_none():
    assert check({"process": "135"}, a_set(Limit("diameter", Free(), CLAUSE))).outcome is Outcome.COVERED
    nothing = a_set(Limit("diameter", Nothing(), CLAUSE))
    assert check({"process": "135", "diameter": D(50)}, nothing).outcome is Outcome.OUTSIDE


def test_what_the_record_does_not_state_is_not_stated():
    verdict = check({"process": "135", "diameter": D(50)}, a_set(Limit("diameter", Unrecorded("diameter"), CLAUSE)))
    assert verdict.outcome is Outcome.NOT_STATED
    assert "does not state diameter" in verdict.sentence


def test_a_further_test_that_is_needed_is_never_covered():
    limit = Limit("parent_t", span(None, D(12)), CLAUSE, needs="a production weld test")
    verdict = check({"process": "135", "parent_t": D(20)}, a_set(limit))
    assert verdict.outcome is Outcome.NOT_STATED and "production weld test" in verdict.sentence


def test_a_limit_set_without_limits_covers_nothing_and_conditional_ones_alone_are_refused():
    assert check({"process": "135"}, LimitSet("empty", ())).outcome is Outcome.NOT_STATED
    with pytest.raises(ValueError, match="conditional"):
        LimitSet("loose", (CAP,))


def test_best_takes_the_covering_set_else_the_nearest():
    far = LimitSet("far", (Limit("process", OneOf(("111",)), CLAUSE), THICKNESS))
    near = LimitSet("near", (PROCESS, THICKNESS))
    assert best({"process": "135", "deposit_t": D(20)}, (far, near)).label == "near"
    assert best({"process": "111", "deposit_t": D(10)}, (near, far)).label == "far"
    with pytest.raises(ValueError, match="no limits"):
        best({}, ())


def test_readers_see_words_and_both_names_never_tokens():
    limit = Limit("run_type", OneOf(("multi_run",)), CLAUSE, "tested 3 runs", when=(when_is("weld_type", "butt_cjp"),))
    verdict = check({"process": "136", "run_type": "single_run", "weld_type": "butt_cjp"}, a_set(limit))
    assert (
        "Process 136 · FCAW-G is outside 135 · GMAW, 138 · GMAW metal-cored: tested 135" in verdict.findings[0].sentence
    )
    assert "Run type single run (single layer) is outside multi run (multi layer)" in verdict.findings[1].sentence
    assert str(limit.when[0]) == "weld type is butt weld, full penetration"
