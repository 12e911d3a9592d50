"""A number for each value of a demand, the same for values that no limit tells apart."""

from collections.abc import Iterable, Iterator, Mapping
from itertools import count

from codes.limits import Limit
from codes.slots import Slots
from codes.values import Value
from joints.merge import DRIVERS

Demand = Mapping[str, Value]
ALWAYS_READ = frozenset({"process", "mechanisation", "phase", "weld_detail", "position", "weld_type", "steels"})
"""What decides who is asked and what is filled in, beside what limits read."""
DECIDES = frozenset(driver.variable for driver in DRIVERS.values())


class Coder:
    """A number for each value, the same for values that no limit tells apart. No number is used twice."""

    def __init__(
        self, slots: Slots, numbers: Iterator[int] | None = None, always: frozenset[str] = ALWAYS_READ | DECIDES
    ) -> None:
        """`always`: variables that somebody reads beside the limits."""
        self._slots, self._fresh, self._always = slots, numbers or count(), always
        self._known: dict[str, dict[Value, int]] = {}
        self._numbers: dict[object, int] = {}

    def minding(self, limits: Iterable[Limit]) -> "Coder":
        """One that minds more limits; itself where these tell nothing more apart."""
        finer = self._slots.joined(limits)
        return self if finer is self._slots else Coder(finer, self._fresh, self._always)

    def codes(self, demand: Demand) -> dict[str, int]:
        """What stands for the values of a demand that somebody reads."""
        found = {}
        for name, value in demand.items():
            known = self._known.get(name)
            if known is None:
                read = name in self._slots.read or name in self._always
                known = self._known[name] = {} if read else _UNREAD
            if known is not _UNREAD:
                try:
                    found[name] = known[value]
                except KeyError:
                    found[name] = self._new(name, value, known)
        return found

    def _new(self, name: str, value: Value, known: dict[Value, int]) -> int:
        key = name, self._slots.of(name, value)
        if key not in self._numbers:
            self._numbers[key] = next(self._fresh)
        known[value] = self._numbers[key]
        return known[value]


_UNREAD: dict[Value, int] = {}
