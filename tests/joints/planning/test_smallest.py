"""The smallest cover: by hand, against trying everything, and what is said where it is not proven."""

import random
from itertools import combinations

import pytest

from joints.planning import smallest
from joints.planning.relaxed import highs
from joints.planning.smallest import Smallest, smallest_cover


def union(columns: list[int], chosen: tuple[int, ...]) -> int:
    found = 0
    for index in chosen:
        found |= columns[index]
    return found


def brute(columns: list[int], rows: int) -> int:
    sizes = range(len(columns) + 1)
    return next(k for k in sizes if any(rows & ~union(columns, c) == 0 for c in combinations(range(len(columns)), k)))


def instance(seed: int) -> tuple[list[int], int]:
    rng = random.Random(seed)
    bits = rng.randint(1, 9)
    columns = [rng.getrandbits(bits) & rng.getrandbits(bits) for _ in range(rng.randint(1, 11))]
    return columns, union(columns, tuple(range(len(columns))))


def test_greedy_is_wrong_where_the_search_is_right() -> None:
    """Rows 1 to 6: the largest column {2,3,4,5} misleads to three pieces; {1,2,3} and {4,5,6} do it in two."""
    columns = [0b011110, 0b000111, 0b111000]
    assert len(smallest.greedy(dict(enumerate(columns)), 0b111111)) == 3
    assert smallest_cover(columns, 0b111111) == Smallest((1, 2), 2, "own search")


def test_an_odd_ring_needs_more_than_half() -> None:
    """Five rows in a ring, each column two neighbours: three, though 5 / 2 columns would do as fractions."""
    ring = [1 << i | 1 << (i + 1) % 5 for i in range(5)]
    found = smallest_cover(ring, 0b11111)
    assert len(found.chosen) == 3
    assert found.proven


@pytest.mark.parametrize("seed", range(300))
def test_as_small_as_trying_everything(seed: int) -> None:
    columns, rows = instance(seed)
    found = smallest_cover(columns, rows)
    assert rows & ~union(columns, found.chosen) == 0
    assert found.proven
    assert len(found.chosen) == brute(columns, rows)


@pytest.mark.parametrize("seed", range(300))
def test_the_bound_never_exceeds_the_truth(seed: int) -> None:
    columns, rows = instance(seed)
    assert smallest.lower_bound(dict(enumerate(columns)), rows) <= brute(columns, rows) if rows else True


def test_cut_off_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(smallest, "highs", lambda columns, rows: None)
    ring = [1 << i | 1 << (i + 1) % 9 | 1 << (i + 3) % 9 for i in range(9)]
    found = smallest_cover(ring, 2**9 - 1, budget=0)
    assert 2**9 - 1 & ~union(ring, found.chosen) == 0
    if not found.proven:
        assert "Not proven" in found.sentence
        assert "greedy" in found.sentence
    assert found.bound <= len(smallest_cover(ring, 2**9 - 1).chosen)


def test_a_row_in_no_column_is_refused() -> None:
    with pytest.raises(ValueError, match="no column"):
        smallest_cover([0b01], 0b11)


def test_nothing_to_cover() -> None:
    assert smallest_cover([0b1], 0).chosen == ()


@pytest.mark.parametrize("seed", range(20))
def test_highs_agrees(seed: int) -> None:
    pytest.importorskip("highspy")
    columns, rows = instance(seed)
    if rows:
        solved = highs(columns, rows)
        assert solved is not None
        assert len(solved.chosen) == solved.bound == brute(columns, rows)
