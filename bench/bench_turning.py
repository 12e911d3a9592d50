"""Turning plans of 200 welds: from directions and qualified positions to the stops, proof included."""

import os
import random
import time
from collections.abc import Iterator
from decimal import Decimal
from typing import Any

from codes.calc.vectors import cross, dot

NAME = "Turning plan of 200 welds on an arc of 270 degrees, in half degrees (s)"
WELDS, ROUNDS, LIMIT = 200, 5, 2.0
SHOP = ("beam", "any")


def main() -> list[dict[str, Any]]:
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "register.settings")
    import django

    django.setup()
    return list(rows())


def rows() -> Iterator[dict[str, Any]]:
    for kind in SHOP:
        for prefer in (True, False):
            taken, stops, searched = zip(*(_planned(kind, seed, prefer) for seed in range(ROUNDS)), strict=True)
            what = f"{'welds along and across a beam' if kind == 'beam' else 'welds in any direction'}, "
            what += "flat and horizontal preferred" if prefer else "any qualified position"
            yield {
                "what": what,
                "welds": WELDS,
                "most stops": max(stops),
                "branches": max(searched),
                "slowest": max(taken),
                "limit_slowest": LIMIT,
            }


def _planned(kind: str, seed: int, prefer: bool) -> tuple[float, int, int]:
    """Seconds, stops and branches of one plan; directions are new to the sweep each time."""
    from joints.turning.plan import NOT_HERE, OTHER, Task, plan
    from joints.turning.sweep import sweep
    from joints.turning.tasks import LIES

    sweep.cache_clear()
    chance = random.Random(seed)
    welds = [_weld(kind, chance) for _ in range(WELDS)]
    start = time.perf_counter()
    tasks = []
    for number, (axis, face, may) in enumerate(welds):
        places = sweep("iso", "fillet", axis, face, BEAM, 0, 540)
        lies = tuple(LIES.get(place, OTHER) if place in may else NOT_HERE for place in places)
        if any(lie != NOT_HERE for lie in lies):
            tasks.append(Task(str(number), lies))
    found = plan(tasks, 0, prefer)
    return time.perf_counter() - start, len(found.stops), found.proof.searched


BEAM = (Decimal(1), Decimal(0), Decimal(0))
QUALIFIED = (("PA",), ("PA", "PB"), ("PA", "PB", "PC"), ("PB", "PC", "vertical"), ("PA", "vertical", "PD"))


def _weld(kind: str, chance: random.Random) -> tuple[Any, Any, tuple[str, ...]]:
    """Axis, face and the positions it is qualified for; every direction a little different."""
    while True:
        axis, face = (tuple(_part(kind, chance) for _ in range(3)) for _ in range(2))
        across = cross(axis, face)
        if dot(across, across) * 10 > dot(axis, axis) * dot(face, face):
            return axis, face, chance.choice(QUALIFIED)


def _part(kind: str, chance: random.Random) -> Decimal:
    whole = chance.randrange(-100, 101) if kind == "any" else chance.choice((-1, 0, 1))
    return Decimal(whole) + Decimal(chance.randrange(-9, 10)) / 100
