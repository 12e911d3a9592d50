"""Samples against windows, in one pass. A sample stands until the next one of its run; a gap stands for nothing.

Figures are never floats: each spelling of a figure is read once as a decimal and then looked up, times are whole
microseconds. A sample at 0 A is one with the arc off: it is not judged and its time does not count as welding.
Rows are taken in blocks of one run, so that what stays as it was costs next to nothing.
"""

import csv
from collections.abc import Callable, Container, Iterable, Iterator
from itertools import chain, compress, islice, pairwise
from operator import ne

from django.utils.translation import gettext

from joints.imports.table import Refusal
from joints.weld_values.columns import VALUES, in_inches, places, separator
from joints.weld_values.figures import ARC_OFF, INCH, ONE, UNREAD, Answer, Looked, micros, micros_of
from joints.weld_values.findings import RunLog, Window
from joints.weld_values.run import OpenRun
from register.base.unseen import UNSEEN

MOST_RUNS = 20_000
BLOCK = 4_000
Windows = Callable[[str, str], Window | None]
"""Joint and run to the window, None where the procedure has no such run."""
Rows = list[list[str]]


def judged(lines: Iterable[str], windows: Windows) -> list[RunLog]:
    """Every run of a log, in its order. Raises Refusal naming the row (the head is row 1)."""
    stream = iter(lines)
    head = next(stream, "")
    rows = csv.reader(chain([head], stream), delimiter=separator(head))
    try:
        heads = next(rows, [])
        found = places(heads)
        return list(_Pass(found, windows, in_inches(heads, found)).runs(rows))
    except csv.Error as error:
        raise Refusal(gettext("Line %(line_num)s: %(error)s.") % {"line_num": rows.line_num, "error": error}) from None


class _Pass:
    """One pass over the samples. Runs may alternate; each has a state of its own."""

    def __init__(self, found: dict[str, int], windows: Windows, inches: Container[str] = ()) -> None:
        self.found, self.windows, self.inches = found, windows, inches
        self.cells = tuple((name, found[name]) for name in VALUES if name in found)
        self.width = max(found.values()) + 1
        self.held: dict[tuple[str, str], tuple[OpenRun, tuple[Looked, ...]]] = {}
        self.row = 1

    def runs(self, rows: Iterator[list[str]]) -> Iterator[RunLog]:
        """All runs, once every row is read."""
        filled = filter(None, rows)
        while block := list(islice(filled, BLOCK)):
            self._whole(block)
            for part in self._parts(block):
                self._judge(part)
                self.row += len(part)
        for one, _ in self.held.values():
            one.end()
            yield one.log

    def _whole(self, block: Rows) -> None:
        """Every row has every cell that is read."""
        if min(map(len, block)) < self.width:
            at, short = next((at, row) for at, row in enumerate(block, self.row + 1) if len(row) < self.width)
            raise Refusal(
                gettext("Row %(at)s has %(short)s cells, fewer than the head. Nothing was kept.")
                % {"at": at, "short": len(short)}
            )

    def _parts(self, block: Rows) -> Iterator[Rows]:
        """Neighbouring rows of one joint and run."""
        places_ = {self.found.get("joint", self.found["run"]), self.found["run"]}
        keys = list(zip(*([row[at] for row in block] for at in places_), strict=True))
        turns = compress(range(1, len(keys)), map(ne, keys[1:], keys))
        for start, end in pairwise([0, *turns, len(block)]):
            yield block[start:end]

    def _judge(self, block: Rows) -> None:
        try:
            one, looks = self._state(block[0])
            columns = list(zip(*block, strict=False))
            times = micros_of(columns[self.found["time"]])
            each = [list(map(look.__getitem__, columns[at])) for (_, at), look in zip(self.cells, looks, strict=True)]
            one.take(times, each)
        except Refusal as refusal:
            raise Refusal(
                gettext("Row %(culprit)s: %(refusal)s. Nothing was kept.")
                % {"culprit": self._culprit(block), "refusal": refusal}
            ) from None

    def _culprit(self, block: Rows) -> int:
        """The row of a block that cannot be read, or that goes back in time."""
        before: int | None = None
        for at, row in enumerate(block, start=self.row + 1):
            try:
                now = micros(row[self.found["time"]])
                for _, place in self.cells:
                    Looked(None)[row[place]]
            except Refusal:
                return at
            if before is not None and now < before:
                return at
            before = now
        return self.row + 1

    def _state(self, row: list[str]) -> tuple[OpenRun, tuple[Looked, ...]]:
        joint_at = self.found.get("joint")
        key = (_word(row[joint_at]) if joint_at is not None else ""), _word(row[self.found["run"]])
        known = self.held.get(key)
        if known is None:
            if len(self.held) >= MOST_RUNS:
                raise Refusal(gettext("the log holds more than %(most_runs)s runs") % {"most_runs": f"{MOST_RUNS:,}"})
            known = self.held[key] = self._opened(*key, row[self.found["time"]])
        return known

    def _opened(self, joint: str, run: str, time: str) -> tuple[OpenRun, tuple[Looked, ...]]:
        window = self.windows(joint, run)
        names = tuple(name for name, _ in self.cells)
        log = RunLog(joint, run, window, micros(time))
        missing = [name for name in (window or {}) if name not in names]
        log.unlogged = tuple(missing)
        looks = tuple(
            Looked(
                (window or {}).get(name), ARC_OFF if name == "current" else None, INCH if name in self.inches else ONE
            )
            for name in names
        )
        return OpenRun(log, names), looks


def _word(cell: str) -> str:
    """What a log calls a joint or a run, without signs that nobody sees."""
    return UNSEEN.sub("", cell).strip()


__all__ = ["ARC_OFF", "UNREAD", "Answer", "Windows", "judged"]
