"""The checker's three finer points: an assumed value, the smallest of several, and a fact that is missing."""

from dataclasses import dataclass
from decimal import Decimal as D

from codes.check import check
from codes.clauses import Clause
from codes.cover import uncovered
from codes.limits import Limit, LimitSet, Nothing, OneOf, span, unless, when_is
from codes.values import Atom
from codes.variables import VARIABLES
from codes.verdict import Outcome
from codes.where_so import WHERE

HERE = Clause("a standard", "1")


def one(*limits: Limit) -> LimitSet:
    return LimitSet("record", (Limit("process", OneOf(("135",)), HERE), *limits))


def test_a_silent_demand_takes_the_assumed_value() -> None:
    limits = one(Limit("level", span(D(1), D(1)), HERE, assumed=D(2)))
    assert check({"process": "135"}, limits).outcome is Outcome.OUTSIDE
    assert check({"process": "135", "level": D(1)}, limits).outcome is Outcome.COVERED


def test_least_only_judges_the_thinner_part() -> None:
    limits = one(Limit("parent_t", span(D(15), D(60)), HERE, least_only=True))
    for parts, outcome in (((D(20), D(80)), "covered"), ((D(14), D(20)), "outside"), (D(80), "outside")):
        assert check({"process": "135", "parent_t": parts}, limits).outcome.value == outcome
    assert uncovered({"process": "135", "parent_t": (D(20), D(80))}, [limits]) == ()


@dataclass(frozen=True)
class Even:
    """Even numbers; a text leaves the question open."""

    def admits(self, atom: Atom) -> bool:
        return isinstance(atom, D) and atom % 2 == 0

    def unstated(self, atom: Atom) -> str:
        return "" if isinstance(atom, D) else "the number"

    def margin(self, atom: Atom) -> D | None:
        return None

    def __str__(self) -> str:
        return "even"


def test_a_missing_fact_is_not_stated_but_a_certain_refusal_is_outside() -> None:
    limits = one(Limit("layers", Even(), HERE))
    for value, outcome in ((D(2), "covered"), (D(3), "outside"), ("many", "not stated"), (("many", D(3)), "outside")):
        assert check({"process": "135", "layers": value}, limits).outcome.value == outcome


def test_nothing_is_outside_even_where_the_demand_is_silent() -> None:
    limits = one(Limit("hardness_hv10", Nothing(), HERE, "test failed"))
    verdict = check({"process": "135"}, limits)
    assert verdict.outcome is Outcome.OUTSIDE
    assert "is not covered: test failed" in verdict.sentence
    waits = one(Limit("hardness_hv10", Nothing(), HERE, "test failed", when=(when_is("pwht", "yes"),)))
    assert check({"process": "135"}, waits).outcome is Outcome.NOT_STATED


def test_a_condition_on_what_is_yes_or_no_is_said_in_words():
    assert str(when_is("rotated", "yes")) == str(unless("rotated", "no")) == "the pipe is rotated"
    assert str(when_is("rotated", "no")) == str(unless("rotated", "yes")) == "the pipe is not rotated"
    assert set(WHERE) == {name for name, one in VARIABLES.items() if one.vocabulary == "yes_no"}
    assert all(len({*both, ""}) == 3 for both in WHERE.values())


def test_another_condition_that_is_negated_says_not():
    assert str(unless("position", "PB")) == "position is not PB · 2F"
