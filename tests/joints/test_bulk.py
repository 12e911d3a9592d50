"""The bulk answer is the explained answer, for random offers and joints, on every run."""

from collections import Counter
from dataclasses import replace
from decimal import Decimal as D
from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st

from codes.limits import Limit, OneOf, Unrecorded, when_is
from codes.values import Interval
from codes.verdict import Outcome
from joints.bulk import Engine
from joints.coverage import answer
from joints.demands import Place
from joints.margins import joint_room
from tests.joints import makers
from tests.joints.makers import CODE, ON, RANGE, demand, joint_demand, validity, within

POSITIONS = ("PA", "PB", "PF", "PE")


class Cases:
    """Random offers and joints that fit together often enough for all three answers to occur."""

    def __init__(self, seed: int) -> None:
        self.random = Random(seed)

    def chance(self, share: float) -> bool:
        return self.random.random() < share

    def mm(self) -> D:
        return D(self.random.choice((2, 5, 8, 10, 10, 12, 12, 16, 16, 31, 34)))

    def process(self) -> str:
        return "135" if self.chance(0.85) else "136"

    def positions(self) -> tuple[str, ...]:
        return tuple(sorted(self.random.sample(POSITIONS, self.random.randint(2, 4))))

    def span(self) -> tuple[D, D]:
        if self.chance(0.7):
            return D(self.random.choice((2, 5, 8))), D(self.random.choice((16, 31, 34)))
        lo, hi = sorted((self.mm(), self.mm()))
        return lo, hi

    def extra_limits(self) -> list[Limit]:
        made: list[tuple[float, Limit]] = [
            (0.5, Limit("position", OneOf(self.positions()), RANGE)),
            (0.5, Limit("throat_a", within(*self.span()), RANGE, when=(when_is("weld_type", "fillet"),))),
            (0.5, Limit("deposit_t", within(*self.span()), RANGE, when=(when_is("weld_type", "butt_cjp"),))),
            (0.3, Limit("gas", OneOf(self.random.choice((("M21",), ("C1", "M21"), ("C1",)))), RANGE)),
            (0.3, Limit("travel_speed", within(*self.random.choice(((1, 30), (1, 12), (10, 30), (13, 30)))), RANGE)),
            (0.05, Limit("run_type", Unrecorded("its runs"), RANGE)),
            (0.1, Limit("run_type", OneOf(("single_run",)), RANGE, needs="a macro")),
        ]
        return [limit for share, limit in made if self.chance(share)]

    def record(self, label: str):
        sets = [
            makers.limits(f"{label}.{i}", *self.extra_limits(), t=self.span(), process=self.process())
            for i in range(self.random.randint(1, 2))
        ]
        return makers.record(label, *sets, code=CODE if self.chance(0.85) else "ISO 15614-1:2004")

    def procedure(self, pk: int):
        window = {
            "process": self.process(),
            "mechanisation": "partly_mechanised" if self.chance(0.8) else ("partly_mechanised", "automatic"),
            "parent_t": Interval(*self.span(), "mm"),
            "position": self.positions(),
            "gas": "M21" if self.chance(0.8) else ("M21", "C1"),
            "travel_speed": Interval(D(5), D(20)),
        }
        if self.chance(0.3):
            window["throat_a"] = Interval(*self.span(), "mm")
        if self.chance(0.3):
            window["run_type"] = self.random.choice(("single_run", "multi_run"))
        records = [self.record(f"R{pk}.{n}") for n in range(self.random.randint(1, 3))]
        serves = self.random.choice((("tack", "final"), ("tack", "final"), ("tack",), ("final",)))
        made = makers.procedure(f"WPS {pk} rev A", *records, window=window, serves=serves, pk=pk)
        return made if self.chance(0.95) else replace(made, records=())

    def procedures(self):
        return tuple(self.procedure(pk) for pk in range(self.random.randint(0, 6)))

    def certificates(self):
        until = (validity(), validity(), validity(end=ON), validity(end=ON.replace(day=24)))
        return tuple(
            makers.certificate(
                f"Person {pk}",
                Limit("process", OneOf((self.process(),)), RANGE),
                *self.extra_limits(),
                pk=pk,
                kind="welder" if self.chance(0.8) else "operator",
                code="ISO 9606-1:2012" if self.chance(0.85) else "AWS D1.1:2020",
                valid=self.random.choice(until),
            )
            for pk in range(self.random.randint(0, 8))
        )

    def demand(self):
        fillet = self.chance(0.6)
        made = demand(
            process=self.process(),
            mechanisation="partly_mechanised" if self.chance(0.8) else "automatic",
            weld_type="fillet" if fillet else "butt_cjp",
            parent_t=self.mm() if self.chance(0.5) else (self.mm(), self.mm()),
            throat_a=self.mm() if fillet else None,
            deposit_t=None if fillet else self.mm(),
            position=self.random.choice(POSITIONS),
            run_type="single_run" if self.chance(0.3) else None,
        )
        return {name: value for name, value in made.items() if self.chance(0.97)}

    def joint(self):
        several = [self.demand() for _ in range(1 if self.chance(0.85) else 2)]
        place = Place("Bay 1", ("135", "136")) if self.chance(0.5) else None
        return joint_demand(*several, tack=self.demand(), place=place, code=CODE if self.chance(0.8) else "")


def test_bulk_equals_explained() -> None:
    seen: Counter[tuple[Outcome, bool]] = Counter()

    @settings(max_examples=150, deadline=None)
    @given(st.integers(0, 2**63))
    def equal(seed: int) -> None:
        cases = Cases(seed)
        offers, people = cases.procedures(), cases.certificates()
        engine = Engine(offers, people, ON)
        for joint in [cases.joint() for _ in range(8)]:
            explained, bulk = answer(joint, offers, people, ON), engine.result(joint)
            assert bulk.outcome is explained.outcome
            assert bulk.reasons == explained.reasons
            assert bulk.sentence == explained.sentence
            assert bulk.room == joint_room(explained)
            for mine, theirs in ((bulk.tack, explained.tack), (bulk.final, explained.final)):
                assert mine.outcome is theirs.outcome
                assert mine.person_ids == theirs.person_ids
                assert mine.labels == theirs.labels
                seen[theirs.outcome, bool(theirs.covering)] += 1

    equal()
    # The comparison is worth something only if all kinds of answers occurred.
    for kind in (
        (Outcome.COVERED, True),
        (Outcome.OUTSIDE, True),
        (Outcome.OUTSIDE, False),
        (Outcome.NOT_STATED, False),
    ):
        assert seen[kind] > 20, seen


def test_the_three_answers_in_bulk() -> None:
    engine = Engine((makers.procedure(),), (makers.certificate(),), ON)
    assert engine.result(joint_demand()).outcome is Outcome.COVERED
    assert engine.result(joint_demand(demand(parent_t=D(31)))).outcome is Outcome.OUTSIDE
    assert engine.result(joint_demand(demand(parent_t=None))).outcome is Outcome.NOT_STATED


def test_equal_demands_are_asked_once() -> None:
    engine = Engine((makers.procedure(),), (makers.certificate(),), ON)
    assert engine.result(joint_demand()) == engine.result(joint_demand())
    assert engine.asked == 2  # tacks and final weld


def test_demands_that_no_limit_tells_apart_are_asked_once_and_each_said_in_its_own_figures() -> None:
    engine = Engine((makers.procedure(),), (makers.certificate(),), ON)
    thick = [engine.result(joint_demand(demand(parent_t=D(t)))) for t in ("30.001", "31", "40")]
    assert engine.asked == 2
    assert [one.outcome for one in thick] == [Outcome.OUTSIDE] * 3
    assert "31 mm" in thick[1].sentence and "40 mm" in thick[2].sentence
    assert engine.result(joint_demand(demand(parent_t=D(30)))).outcome is Outcome.COVERED
    assert engine.asked == 4
