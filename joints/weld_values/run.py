"""The state of one run while its samples come in: what the last one said, and since when a variable lies outside."""

from itertools import compress
from operator import itemgetter, ne, sub

from django.utils.translation import gettext

from joints.imports.table import Refusal
from joints.weld_values.figures import ARC_OFF, UNREAD, Answer, Off
from joints.weld_values.findings import HIGH, LOW, Excursion, RunLog

LONGEST_STEP = 2_000_000
"""Microseconds between two samples of a run; what lies further apart is a gap in the log."""
Side = str | None
Sides = tuple[Side, ...]
"""What each variable says: None inside, below, above, unread, or arc off."""
Column = list[Answer]


class OpenRun:
    """One run, whose samples come in blocks in the order of time."""

    def __init__(self, log: RunLog, names: tuple[str, ...]) -> None:
        self.log, self.names = log, names
        self.last: int | None = None
        self.step = 0
        self.now: Sides = ()
        self.open: dict[tuple[str, str], int] = {}
        self._outside: dict[Sides, frozenset[tuple[str, str]]] = {}

    def take(self, times: list[int], columns: list[Column]) -> None:
        """A block of samples, a column for each variable. Raises Refusal where the time runs back."""
        self.log.samples += len(times)
        columns = _without_arc_off(columns)
        for name, column in zip(self.names, columns, strict=True):
            if any(column):
                self._count_unread(name, column)
                self._keep_worst(name, column, times)
        sides: list[Sides] = list(zip(*map(_sides, columns), strict=True))
        if self.last is None:
            self._turn(times[0], sides[0])
        else:
            times, sides = [self.last, *times], [self.now, *sides]
        self._pass(times, sides)
        self.last, self.now = times[-1], sides[-1]

    def end(self) -> None:
        """The last sample stands as long as the one before it did."""
        if self.last is not None:
            self._stood(self.step)
            self._close_all(self.last + self.step)

    def _pass(self, times: list[int], sides: list[Sides]) -> None:
        """Only where something changes, or the log has a gap, is there anything to do."""
        steps = list(map(sub, times[1:], times))
        if steps and min(steps) < 0:
            raise Refusal(gettext("the time runs back within run %(run)s") % {"run": self.log.run})
        wide = max(steps, default=0) > LONGEST_STEP
        gaps = {at for at, step in enumerate(steps, 1) if step > LONGEST_STEP} if wide else set()
        turns = list(compress(range(1, len(times)), map(ne, sides[1:], sides)))
        since = 0
        for at in sorted(gaps.union(turns)) if gaps else turns:
            if at in gaps:
                self._gap(times[since], times[at - 1], times[at])
            else:
                self._stood(times[at] - times[since])
            self._turn(times[at], sides[at])
            since = at
        self._stood(times[-1] - times[since])
        if steps and steps[-1] <= LONGEST_STEP:
            self.step = steps[-1]

    def _count_unread(self, name: str, column: Column) -> None:
        count = column.count(UNREAD)
        if count:
            self.log.unread[name] = self.log.unread.get(name, 0) + count

    def _keep_worst(self, name: str, column: Column, times: list[int]) -> None:
        """What lies furthest off on each side, and when it first did."""
        off = {one for one in column if one.__class__ is tuple}
        for side in (LOW, HIGH):
            there = [one for one in off if one[0] == side]  # type: ignore[index]
            if not there:
                continue
            worst: Off = max(there, key=itemgetter(3))  # type: ignore[assignment, arg-type]
            _, limit, value, by = worst
            one = self.log.excursions.setdefault((name, side), Excursion(name, side, limit))
            if by > one.by:
                one.worst, one.by, one.worst_at = value, by, times[column.index(worst)]

    def _stood(self, lasted: int) -> None:
        if ARC_OFF in self.now:
            self.log.idle_micros += lasted
        else:
            self.log.arc_micros += lasted

    def _gap(self, since: int, last: int, until: int) -> None:
        self._stood(last - since)
        self.log.gaps += 1
        self.log.gap_micros += until - last
        self._close_all(last)

    def _turn(self, at: int, sides: Sides) -> None:
        """Open what left its window, close what came back."""
        self.now = sides
        outside = self._outside.get(sides)
        if outside is None:
            outside = frozenset((n, s) for n, s in zip(self.names, sides, strict=True) if s in (LOW, HIGH))
            self._outside[sides] = outside
        for key in self.open.keys() - outside:
            self._close(key, at)
        for key in outside - self.open.keys():
            self.open[key] = at
            self.log.excursions[key].times += 1

    def _close(self, key: tuple[str, str], at: int) -> None:
        one, lasted = self.log.excursions[key], at - self.open.pop(key)
        one.micros += lasted
        one.longest = max(one.longest, lasted)

    def _close_all(self, at: int) -> None:
        for key in list(self.open):
            self._close(key, at)


def _without_arc_off(columns: list[Column]) -> list[Column]:
    """Where the arc is off, no other variable is judged."""
    off = next((column for column in columns if ARC_OFF in column), None)
    if off is None:
        return columns
    return [
        column if column is off else [None if o is ARC_OFF else a for o, a in zip(off, column, strict=True)]
        for column in columns
    ]


def _sides(column: Column) -> list[Side]:
    """The side of each answer."""
    if not any(column):
        return column  # type: ignore[return-value]
    return [one[0] if one.__class__ is tuple else one for one in column]  # type: ignore[index, misc]
