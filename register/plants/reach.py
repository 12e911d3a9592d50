"""What the work at hand may see: all plants, some, or none. Set for each request, and read by every query.

A manager of `register.plants.rows` asks `current()` at the moment its query runs, so a queryset written anywhere, at
whatever time, gives what whoever asks may see and no more. Outside a request (commands, background work) all is seen.
"""

from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field
from functools import cached_property


class PlantNotChosen(Exception):
    """Something new belongs to one plant, and whoever makes it sees several: one must be chosen first."""


@dataclass(frozen=True)
class Reach:
    """`plants`: the keys of the plants in sight, None for all of them."""

    plants: frozenset[int] | None
    alone: bool = field(default=False, compare=False)
    """True where it is known that there is one plant only."""

    @cached_property
    def several(self) -> bool:
        """True where the firm has more than one plant."""
        return not self.alone and (self.plants is not None or len(_first_keys()) > 1)

    @property
    def one(self) -> int | None:
        """The plant where one alone is in sight, else None."""
        return next(iter(self.plants)) if self.plants is not None and len(self.plants) == 1 else None

    @property
    def key(self) -> tuple[int, ...] | None:
        """What a cache is kept by."""
        return None if self.plants is None else tuple(sorted(self.plants))

    def holds(self, plant: int | None) -> bool:
        """True where what belongs to a plant may be changed; what belongs to none, only by whoever sees all."""
        return self.plants is None or plant in self.plants

    @cached_property
    def home(self) -> int:
        """The plant of what is made now. Raises PlantNotChosen where several are in sight."""
        keys = self.plants if self.plants is not None else _first_keys()
        if len(keys) != 1:
            raise PlantNotChosen("Choose the plant that this is for: several are in sight.")
        return next(iter(keys))


NOTHING = Reach(frozenset())


def alone() -> Reach:
    """The reach where there is one plant. New each time, since a reach keeps the key of its plant once it was asked."""
    return Reach(None, True)


_current: ContextVar[Callable[[], Reach] | None] = ContextVar("reach", default=None)


def current() -> Reach:
    """What may be seen now."""
    ask = _current.get()
    return Reach(None) if ask is None else ask()


@contextmanager
def within(reach: Reach | Callable[[], Reach]) -> Iterator[None]:
    """Work with this reach; a function is asked when the first query wants to know."""
    ask = (lambda: reach) if isinstance(reach, Reach) else reach
    token = _current.set(ask)
    try:
        yield
    finally:
        _current.reset(token)


def whole() -> AbstractContextManager[None]:
    """Work with everything in sight: for what is the register's own affair, such as verifying the trail."""
    return within(Reach(None))


def of_plant(plant: int | None) -> Reach:
    """The reach of what belongs to one plant, or to the group (None)."""
    return Reach(None) if plant is None else Reach(frozenset({plant}))


def _first_keys() -> frozenset[int]:
    from register.plants.models import Plant

    return frozenset(Plant.objects.order_by("pk").values_list("pk", flat=True)[:2])
