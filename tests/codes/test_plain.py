"""A limit set as it is shown says neither more nor less than the set, and no line of it alone says more."""

from collections.abc import Mapping
from itertools import product

import pytest

from codes.check import check
from codes.clauses import Clause, Mark
from codes.limits import Limit, LimitSet, Nothing, OneOf, When, unless, when_is
from codes.plain import in_short, plainly
from codes.values import Value

CLAUSE = Clause("ISO 9606-1:2012", "5.3", Mark.CONFIRMED, "invented")


def limit(variable: str, *terms: str, when: tuple[When, ...] = (), needs: str = "") -> Limit:
    return Limit(variable, OneOf(terms) if terms else Nothing(), CLAUSE, when=when, needs=needs)


ROTATED = (when_is("product", "pipe"), when_is("rotated", "yes"))
BUTT = (
    limit("process", "135", "138"),
    limit("filler_type", "S", "M", when=(when_is("process", "135", "138"),)),
    limit("filler_group", "FM1", "FM2", when=(unless("filler_type", "nm"),)),
    limit("weld_type", "butt_cjp", "butt_pjp", when=(unless("weld_type", "branch"),)),
    limit("weld_type", when=(when_is("weld_type", "branch"),)),
    limit("product", "plate", "pipe"),
    limit("position", "PA", "PB", "PC", when=ROTATED),
    limit("position", "PA", "PF", when=(unless("weld_type", "fillet"),)),
)
OPERATOR = (
    limit("mechanisation", "fully_mechanised", "automatic"),
    limit("mechanisation", "automatic", when=(unless("mechanisation", "manual", "partly_mechanised"),)),
    limit("position", "PA"),
)
"""As ISO 9606-1:2012, 5.2 to 5.8 and ISO 14732:2013, 4.2 have them, in small."""
TERMS: Mapping[str, tuple[str, ...]] = {
    "process": ("135", "111"),
    "filler_type": ("S", "nm"),
    "filler_group": ("FM1", "FM3"),
    "weld_type": ("butt_cjp", "branch", "fillet"),
    "product": ("plate", "pipe", "bar"),
    "rotated": ("yes", "no"),
    "position": ("PA", "PB", "PF"),
    "mechanisation": ("manual", "fully_mechanised", "automatic"),
}


def said(limits: tuple[Limit, ...], variable: str) -> list[tuple[str, int]]:
    return [(str(one.allowed), len(one.when)) for one in limits if one.variable == variable]


def test_a_condition_that_the_set_always_meets_is_not_said_iso_9606_1_2012_5_5() -> None:
    """The fillers serve the processes that are covered, and the group all fillers that are left."""
    assert said(plainly(BUTT), "filler_type") == [("S, M", 0)]
    assert said(plainly(BUTT), "filler_group") == [("FM1, FM2", 0)]


def test_a_rotated_pipe_gets_no_position_that_the_test_weld_did_not_earn_iso_9606_1_2012_5_3() -> None:
    assert said(plainly(BUTT), "position") == [("PA", 2), ("PA, PF", 0)]
    assert said(in_short(BUTT), "position") == [("PA, PF", 0), ("PA", 2)]


def test_what_is_ruled_out_stays_said_iso_9606_1_2012_5_4_c() -> None:
    assert [one.ruled_out for one in plainly(BUTT) if one.variable == "weld_type"] == ["", "branch connection"]


def test_several_unconditional_sets_are_one_in_short_iso_14732_2013_4_2() -> None:
    assert said(plainly(OPERATOR), "mechanisation") == [("fully_mechanised, automatic", 0), ("automatic", 0)]
    assert said(in_short(OPERATOR), "mechanisation") == [("automatic", 0)]


def test_a_limit_that_never_counts_is_not_said() -> None:
    """A fillet's positions, in a set that covers butt welds only."""
    fillet = limit("position", "PA", "PB", when=(when_is("weld_type", "fillet"),))
    assert said(plainly((*BUTT, fillet)), "position") == said(plainly(BUTT), "position")


def test_a_condition_names_only_what_is_left_aws_d1_1_2020_table_6_12() -> None:
    """Branch connections are ruled out, so a line about full penetration does not speak of them."""
    kinds = (
        limit("weld_type", "butt_cjp", "branch", "fillet"),
        limit("weld_type", when=(when_is("weld_type", "branch"),)),
    )
    backing = limit("weld_detail", "ss_mb", when=(when_is("weld_type", "butt_cjp", "branch"),))
    shown = plainly((*kinds, backing))
    assert shown[2].when == (when_is("weld_type", "butt_cjp"),)
    assert [str(one.allowed) for one in shown[:2]] == ["butt_cjp, fillet", "nothing"]


def test_what_may_be_anything_keeps_its_conditions() -> None:
    where = (when_is("backing", "yes"),)
    assert plainly((limit("position", "PA"), limit("gouging", "none", when=where)))[1].when == where


def test_a_limit_that_a_named_test_may_widen_narrows_no_other() -> None:
    soft, other = limit("position", "PA", needs="a job test"), limit("position", "PA", "PC", when=ROTATED)
    assert plainly((limit("product", "plate", "pipe"), soft, other))[2] == other


def test_nothing_left_is_nothing_and_not_an_empty_list() -> None:
    narrow = (limit("product", "pipe"), limit("position", "PF"), limit("position", "PA", when=ROTATED))
    assert str(plainly(narrow)[2].allowed) == "nothing"


def test_a_limit_that_asks_of_its_own_variable_goes_on_narrowing_it() -> None:
    """What it refuses is not left of the variable, yet by its condition alone: without that PB would be allowed."""
    own = limit("position", "PA", when=(when_is("position", "PB", "PC"),))
    shown = plainly((limit("position", "PA", "PB"), own))
    assert shown[1] == own
    assert said(in_short((limit("position", "PA", "PB"), own)), "position") == [("PA", 0), ("PA", 1)]


OWN = (limit("position", "PA", "PB"), limit("position", "PA", when=(when_is("position", "PB", "PF"),)))


@pytest.mark.parametrize("limits", [BUTT, OPERATOR, (*BUTT, *OPERATOR[:2]), (*OPERATOR[:2], *OWN)])
@pytest.mark.parametrize("shown", [plainly, in_short])
def test_every_stated_demand_is_answered_as_by_the_set(limits: tuple[Limit, ...], shown: object) -> None:
    assert callable(shown)
    whole, simpler = LimitSet("set", limits), LimitSet("shown", shown(limits))
    seen = set()
    for values in product(*TERMS.values()):
        demand: dict[str, Value] = dict(zip(TERMS, values, strict=True))
        outcome = check(demand, whole).outcome
        assert check(demand, simpler).outcome is outcome, demand
        seen.add(outcome)
    assert len(seen) == 2
