"""EN 1090-2: all gates of one set of facts as one limit set. A finding names its gate."""

from collections.abc import Iterator, Sequence

from codes.clauses import Mark
from codes.editions import Tested
from codes.en_1090_2_2018.age import age_limits
from codes.en_1090_2_2018.coordinator import coordinator_limits
from codes.en_1090_2_2018.extra_tests import extra_test_limits
from codes.en_1090_2_2018.figures import FIGURES_2018, QUALIFIED, Figures, in_classes
from codes.en_1090_2_2018.methods import method_limits
from codes.en_1090_2_2018.steel_sets import Known
from codes.en_1090_2_2018.tacks import tack_limits
from codes.limits import Limit, LimitSet
from codes.readings import Settings


def gates(facts: Tested, settings: Settings, figures: Figures = FIGURES_2018) -> LimitSet:
    """The gates that stand between these facts and a joint: method, age, extra tests, coordinator, tacks."""
    return LimitSet(f"gates of {figures.standard}", tuple(_limits(facts, settings, figures)), figures.standard)


def gate_sets(pieces: Sequence[Tested], settings: Settings) -> tuple[LimitSet, ...]:
    """One limit set for each set of facts."""
    return tuple(gates(piece, settings) for piece in pieces)


def _limits(facts: Tested, settings: Settings, figures: Figures) -> Iterator[Limit]:
    yield from method_limits(facts, figures, settings)
    # Every gate on strength would let an unknown yield pass, so it is asked for first.
    clause = figures.clause("7.4.1", Mark.OWN, "the gates on strength cannot be judged without it")
    because = "parent materials: grade limits need the specified yield strength of both parts"
    needs = "the specified yield strength of both parts"
    classes = (in_classes(*QUALIFIED),)
    yield Limit("steels", Known(), clause, because, classes, reason="steels", needs=needs)
    yield from age_limits(facts, figures)
    yield from extra_test_limits(facts, figures)
    yield from coordinator_limits(facts, figures)
    yield from tack_limits(facts, figures)
