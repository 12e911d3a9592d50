"""The bulk answer is the explained answer, for random offers and joints, on every run."""

from decimal import Decimal as D

from hypothesis import given, settings
from hypothesis import strategies as st

from codes.limits import Limit, OneOf, Unrecorded, when_is
from codes.values import Interval
from codes.verdict import Outcome
from joints.bulk import Engine
from joints.coverage import answer
from joints.demands import Place
from tests.joints.makers import (
    CODE,
    ON,
    RANGE,
    S355,
    certificate,
    demand,
    joint_demand,
    limits,
    procedure,
    record,
    validity,
    within,
)

MM = st.integers(2, 34).map(D)
POSITIONS = st.lists(st.sampled_from(("PA", "PB", "PF", "PE")), min_size=1, max_size=3, unique=True).map(tuple)
PROCESSES = st.sampled_from(("135", "136", "111"))
MECHANISATIONS = st.sampled_from(("manual", "partly_mechanised", "automatic"))


@st.composite
def ranges(draw) -> tuple[D, D]:
    lo, hi = sorted((draw(MM), draw(MM)))
    return lo, hi


@st.composite
def extra_limits(draw) -> list[Limit]:
    found = []
    if draw(st.booleans()):
        found.append(Limit("position", OneOf(draw(POSITIONS)), RANGE))
    if draw(st.booleans()):
        found.append(Limit("throat_a", within(*draw(ranges())), RANGE, when=(when_is("weld_type", "fillet"),)))
    if draw(st.booleans()):
        found.append(Limit("deposit_t", within(*draw(ranges())), RANGE, when=(when_is("weld_type", "butt_cjp"),)))
    if draw(st.booleans()):
        found.append(Limit("gas", OneOf(draw(st.sampled_from((("M21",), ("C1", "M21"), ("C1",))))), RANGE))
    if draw(st.integers(0, 9)) == 0:
        found.append(Limit("run_type", Unrecorded("its runs"), RANGE))
    if draw(st.integers(0, 5)) == 0:
        found.append(Limit("run_type", OneOf(("single_run",)), RANGE, needs="a macro"))
    return found


@st.composite
def records(draw, label: str):
    sets = [
        limits(f"{label}.{i}", *draw(extra_limits()), t=draw(ranges()), process=draw(PROCESSES))
        for i in range(draw(st.integers(1, 2)))
    ]
    return record(label, *sets, code=draw(st.sampled_from((CODE, CODE, "ISO 15614-1:2004"))))


@st.composite
def procedures(draw):
    found = []
    for i in range(draw(st.integers(0, 4))):
        lo, hi = draw(ranges())
        window = {
            "process": draw(PROCESSES),
            "mechanisation": draw(MECHANISATIONS),
            "parent_t": Interval(lo, hi, "mm"),
            "position": draw(POSITIONS),
            "gas": draw(st.sampled_from(("M21", ("M21", "C1")))),
            "travel_speed": Interval(D(5), D(20), "mm/min"),
        }
        if draw(st.booleans()):
            lo, hi = draw(ranges())
            window["throat_a"] = Interval(lo, hi, "mm")
        if draw(st.booleans()):
            window["run_type"] = draw(st.sampled_from(("single_run", "multi_run")))
        own = [draw(records(f"R{i}.{n}")) for n in range(draw(st.integers(1, 2)))]
        serves = draw(st.sampled_from((("tack", "final"), ("tack",), ("final",))))
        found.append(procedure(f"WPS {i} rev A", *own, window=window, serves=serves, pk=i))
    return tuple(found)


@st.composite
def certificates(draw):
    return tuple(
        certificate(
            f"Person {i}",
            Limit("process", OneOf((draw(PROCESSES),)), RANGE),
            *draw(extra_limits()),
            pk=i,
            kind=draw(st.sampled_from(("welder", "operator"))),
            code=draw(st.sampled_from(("ISO 9606-1:2012", "AWS D1.1:2020"))),
            valid=draw(st.sampled_from((validity(), validity(end=ON), validity(end=ON.replace(day=24))))),
        )
        for i in range(draw(st.integers(0, 5)))
    )


@st.composite
def phase_demands(draw):
    def maybe(strategy):
        return draw(st.one_of(strategy, strategy, strategy, st.none()))

    fillet = draw(st.booleans())
    return demand(
        process=maybe(PROCESSES),
        mechanisation=maybe(MECHANISATIONS),
        weld_type=maybe(st.just("fillet" if fillet else "butt_cjp")),
        parent_t=maybe(st.one_of(MM, st.tuples(MM, MM))),
        throat_a=maybe(MM) if fillet else None,
        deposit_t=None if fillet else maybe(MM),
        position=maybe(st.sampled_from(("PA", "PB", "PF", "PE"))),
        run_type=draw(st.sampled_from((None, "single_run"))),
        steels=S355,
    )


@st.composite
def joint_demands(draw):
    several = draw(st.lists(phase_demands(), min_size=1, max_size=2))
    place = draw(st.sampled_from((None, Place("Bay 1", ("135", "136")))))
    code = draw(st.sampled_from((CODE, CODE, "")))
    return joint_demand(*several, tack=draw(phase_demands()), place=place, code=code)


@settings(max_examples=250, deadline=None)
@given(procedures(), certificates(), st.lists(joint_demands(), min_size=1, max_size=4))
def test_bulk_equals_explained(offers, people, joints) -> None:
    engine = Engine(offers, people, ON)
    for joint in joints:
        explained, bulk = answer(joint, offers, people, ON), engine.result(joint)
        assert bulk.outcome is explained.outcome
        assert bulk.reasons == explained.reasons
        for mine, theirs in ((bulk.tack, explained.tack), (bulk.final, explained.final)):
            assert mine.outcome is theirs.outcome
            assert mine.people == theirs.person_ids
            assert set(mine.procedures) == {p.label for p in theirs.covering}


def test_the_random_cases_are_not_all_alike() -> None:
    """Both covered and uncovered joints occur in plain cases, so that the property test compares something."""
    engine = Engine((procedure(),), (certificate(),), ON)
    assert engine.result(joint_demand()).outcome is Outcome.COVERED
    assert engine.result(joint_demand(demand(parent_t=D(31)))).outcome is Outcome.OUTSIDE
    assert engine.result(joint_demand(demand(parent_t=None))).outcome is Outcome.NOT_STATED


def test_equal_demands_are_asked_once() -> None:
    engine = Engine((procedure(),), (certificate(),), ON)
    first, second = engine.result(joint_demand()), engine.result(joint_demand())
    assert first.final is second.final
