"""The state of one run while its samples come in: what the last one said, and since when a variable lies outside."""

from itertools import compress
from operator import ne, sub

from joints.imports.table import Refusal
from joints.weld_values.figures import ARC_OFF, UNREAD, Answer, Off
from joints.weld_values.findings import Excursion, RunLog

LONGEST_STEP = 2_000_000
"""Microseconds between two samples of a run; what lies further apart is a gap in the log."""
Answers = tuple[Answer, ...]


class OpenRun:
    """One run, whose samples come in blocks in the order of time."""

    def __init__(self, log: RunLog, names: tuple[str, ...]) -> None:
        self.log, self.names = log, names
        self.last: int | None = None
        self.step = 0
        self.now: Answers = ()
        self.open: dict[tuple[str, str], int] = {}

    def take(self, times: list[int], answers: list[Answers]) -> None:
        """A block of samples. Raises Refusal where the time runs back."""
        self.log.samples += len(times)
        self._count_unread(answers)
        if self.last is None:
            self._turn(times[0], answers[0])
        else:
            times, answers = [self.last, *times], [self.now, *answers]
        steps = list(map(sub, times[1:], times))
        if steps and min(steps) < 0:
            raise Refusal(f"the time runs back within run {self.log.run}")
        wide = max(steps, default=0) > LONGEST_STEP
        gaps = {at for at, step in enumerate(steps, 1) if step > LONGEST_STEP} if wide else set()
        turns = set(compress(range(1, len(times)), map(ne, answers[1:], answers)))
        since = 0
        for at in sorted(turns | gaps):
            if at in gaps:
                self._gap(times[since], times[at - 1], times[at])
            else:
                self._stood(times[at] - times[since])
            self._turn(times[at], answers[at])
            since = at
        self._stood(times[-1] - times[since])
        self.last, self.now = times[-1], answers[-1]
        if steps and steps[-1] <= LONGEST_STEP:
            self.step = steps[-1]

    def end(self) -> None:
        """The last sample stands as long as the one before it did."""
        if self.last is not None:
            self._stood(self.step)
            self._close_all(self.last + self.step)

    def _count_unread(self, answers: list[Answers]) -> None:
        for name, column in zip(self.names, zip(*answers, strict=True), strict=True):
            if UNREAD in column:
                off = sum(1 for one in answers if ARC_OFF in one and UNREAD in one)
                count = column.count(UNREAD) - off
                if count > 0:
                    self.log.unread[name] = self.log.unread.get(name, 0) + count

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

    def _turn(self, at: int, answers: Answers) -> None:
        """Something changed: open what left its window, close what came back, keep what lies furthest off."""
        self.now = answers
        off = ARC_OFF in answers
        held = self.open
        if off or not any(answers):
            if held:
                self._close_all(at)
            return
        outside = set()
        for name, answer in zip(self.names, answers, strict=True):
            if answer.__class__ is tuple:
                outside.add((name, answer[0]))  # type: ignore[index]
                self._out(name, answer, at)  # type: ignore[arg-type]
        for key in held.keys() - outside:
            self._close(key, at)

    def _out(self, name: str, answer: Off, at: int) -> None:
        side, limit, value, by = answer
        key = name, side
        one = self.log.excursions.get(key)
        if one is None:
            one = self.log.excursions[key] = Excursion(name, side, limit)
        if key not in self.open:
            self.open[key] = at
            one.times += 1
        if by > one.by:
            one.worst, one.by, one.worst_at = value, by, at

    def _close(self, key: tuple[str, str], at: int) -> None:
        one, lasted = self.log.excursions[key], at - self.open.pop(key)
        one.micros += lasted
        one.longest = max(one.longest, lasted)

    def _close_all(self, at: int) -> None:
        for key in list(self.open):
            self._close(key, at)
