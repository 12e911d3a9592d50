"""The turning plan: against every choice there is on small cases, its proof, its edges, and its speed."""

import random
import time
from itertools import combinations, pairwise

import pytest

from joints.turning.cover import Search
from joints.turning.plan import FLAT, HORIZONTAL, NOT_HERE, OTHER, Plan, Task, plan
from joints.turning.stops import turning


def task(name: str, text: str) -> Task:
    """A weld from one letter a step: f, h, o, or a dot where it may not be made."""
    return Task(name, tuple({"f": FLAT, "h": HORIZONTAL, "o": OTHER, ".": NOT_HERE}[letter] for letter in text))


def walked(stops: tuple[int, ...], start: int) -> int:
    """What is turned in the order given."""
    places = [start, *stops]
    return sum(abs(b - a) for a, b in pairwise(places))


def brute(tasks: list[Task], start: int, prefer: bool) -> tuple[int, int]:
    """The least stops and the least turning by trying everything."""
    steps = range(len(tasks[0].lies))
    for number in range(1, len(tasks) + 1):
        good = []
        for stops in combinations(steps, number):
            if all(any(fits(one, at, prefer) for at in stops) for one in tasks):
                low, high = min(stops), max(stops)
                good.append(min(abs(start - low) + high - low, abs(start - high) + high - low))
        if good:
            return number, min(good)
    raise AssertionError("no stops do")


def fits(one: Task, at: int, prefer: bool) -> bool:
    well = any(lie in (FLAT, HORIZONTAL) for lie in one.lies)
    return one.lies[at] in (FLAT, HORIZONTAL) if prefer and well else one.lies[at] != NOT_HERE


def check(tasks: list[Task], start: int, prefer: bool, found: Plan) -> None:
    """The plan is what it says of itself."""
    made = [name for stop in found.stops for name in stop.made]
    assert sorted(made) == sorted(one.name for one in tasks)
    by_name = {one.name: one for one in tasks}
    assert all(fits(by_name[name], stop.at, prefer) for stop in found.stops for name in stop.made)
    order = tuple(stop.at for stop in found.stops)
    assert walked(order, start) == found.turned
    apart = [by_name[name] for name in found.proof.apart]
    assert len(apart) <= len(found.stops)
    for one, other in combinations(apart, 2):
        assert not any(fits(one, at, prefer) and fits(other, at, prefer) for at in range(len(one.lies)))


@pytest.mark.parametrize("seed", range(300))
def test_the_plan_is_the_best_of_all(seed: int) -> None:
    chance = random.Random(seed)
    steps, start = 9, chance.randrange(9)
    tasks = []
    for number in range(chance.randint(1, 6)):
        lies = [NOT_HERE] * steps
        for _ in range(chance.randint(1, 3)):
            first = chance.randrange(steps)
            for at in range(first, min(steps, first + chance.randint(1, 3))):
                lies[at] = chance.choice((FLAT, HORIZONTAL, OTHER))
        tasks.append(Task(f"w{number}", tuple(lies)))
    prefer = chance.random() < 0.5
    found = plan(tasks, start, prefer)
    check(tasks, start, prefer, found)
    assert (len(found.stops), found.turned) == brute(tasks, start, prefer)


def test_one_stop_where_two_bands_meet() -> None:
    found = plan([task("a", "fff..."), task("b", "..hff.")], 0)
    assert [(stop.at, stop.made) for stop in found.stops] == [(2, ("a", "b"))]
    assert found.turned == 2


def test_one_step_apart_takes_two_stops_and_says_why() -> None:
    found = plan([task("a", "ff...."), task("b", "..ff..")], 0)
    assert [stop.at for stop in found.stops] == [0, 2]
    assert found.proof.apart in (("a", "b"), ("b", "a"))


def test_three_that_meet_two_by_two_need_the_search() -> None:
    """No two are apart, and still one stop does not do."""
    tasks = [task("a", "f.f"), task("b", "ff."), task("c", ".ff")]
    found = plan(tasks, 0)
    assert len(found.stops) == 2
    assert len(found.proof.apart) == 1 and found.proof.searched > 0


def test_flat_is_preferred_unless_fewer_turns_are() -> None:
    tasks = [task("a", "oo.f"), task("b", "ff..")]
    assert [stop.at for stop in plan(tasks, 0).stops] == [0, 3]
    assert [stop.at for stop in plan(tasks, 0, prefer=False).stops] == [0]


def test_a_weld_is_made_where_it_lies_best() -> None:
    found = plan([task("a", "f...h"), task("b", "....f"), task("c", "f....")], 0)
    assert {stop.at: stop.made for stop in found.stops} == {0: ("a", "c"), 4: ("b",)}


def test_the_shorter_side_is_turned_to_first() -> None:
    found = plan([task("a", "f......"), task("b", "......f")], 2)
    assert [stop.at for stop in found.stops] == [0, 6]
    assert found.turned == 8


@pytest.mark.parametrize(("stops", "taken"), [([0], 0), ([5], 5), ([-2, 5], 9), ([-5, 2], 9), ([-3, -1], 3)])
def test_turning(stops: list[int], taken: int) -> None:
    assert turning(stops) == taken


def test_nothing_to_weld_takes_no_stop() -> None:
    assert plan([], 0) == Plan((), 0, plan([], 0).proof)


def test_a_weld_that_fits_nowhere_has_no_place_in_a_plan() -> None:
    with pytest.raises(ValueError, match="leave it out of the plan and say why"):
        task("a", "...")


@pytest.mark.parametrize("start", [-1, 3])
def test_the_start_lies_on_the_arc(start: int) -> None:
    with pytest.raises(ValueError, match="the start lies on it"):
        plan([task("a", "fff")], start)


@pytest.mark.parametrize("seed", range(100))
def test_the_cover_is_the_least(seed: int) -> None:
    chance = random.Random(seed)
    columns = [chance.randrange(1, 64) for _ in range(chance.randint(1, 8))]
    universe = 0
    for column in columns:
        universe |= column
    least = next(n for n in range(1, 9) if any(_all(c) == universe for c in combinations(columns, n)))
    search = Search(columns, universe)
    assert search.least() == least
    assert not search.within(least - 1)


def _all(columns: tuple[int, ...]) -> int:
    whole = 0
    for column in columns:
        whole |= column
    return whole


def test_a_hole_is_never_covered() -> None:
    with pytest.raises(ValueError, match="not even all columns"):
        Search([0b011], 0b111).least()


def test_two_hundred_welds_take_less_than_two_seconds() -> None:
    chance = random.Random(1)
    tasks = []
    for number in range(200):
        lies = [NOT_HERE] * 541
        for _ in range(chance.randint(1, 2)):
            first = chance.randrange(541)
            lies[first : first + chance.randint(10, 160)] = [FLAT] * len(lies[first : first + chance.randint(10, 160)])
        tasks.append(Task(f"w{number}", tuple(lies[:541] + [NOT_HERE] * (541 - len(lies[:541])))))
    start = time.perf_counter()
    found = plan(tasks, 0)
    assert time.perf_counter() - start < 2
    check(tasks, 0, True, found)
