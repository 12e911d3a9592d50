"""What is kept of a batch to be shown: counts, the first rows, and the first of each kind of difference."""

from collections.abc import Iterable, Sequence
from typing import Any

from joints.imports.compare import Change, Matched
from joints.imports.on_file import OnFile
from joints.imports.rows import MAX_PROBLEMS, Problem

SAMPLE = 50
LINES = 200
"""Lines of each kind that are kept; the counts are of all."""


class Shown:
    """Adds up chunk by chunk."""

    def __init__(self, problems: Sequence[Problem] = ()) -> None:
        self.rows, self.told = 0, len(problems)
        self.sample: list[dict[str, Any]] = []
        self.problems: list[Problem] = list(problems)
        self.counts = dict.fromkeys(("added", "same", "changed", "fields", "back", "kept", "contested", "removed"), 0)
        self.lines: dict[str, list[dict[str, Any]]] = {name: [] for name in ("changed", "kept", "contested", "removed")}

    def add(self, chunk: Sequence[Matched]) -> None:
        """Count some rows."""
        for one in chunk:
            self.rows += 1
            if len(self.sample) < SAMPLE:
                self.sample.append({"row": one.row.number, "values": one.row.values})
            self.told += len(one.problems)
            # Errors beyond the limit are not kept, but an error never gives way to a note.
            kept = one.problems if len(self.problems) < MAX_PROBLEMS else [p for p in one.problems if not p.is_note]
            self.problems += kept if len(self.problems) < 2 * MAX_PROBLEMS else ()
            self._count(one)

    def left(self, joints: Iterable[OnFile]) -> None:
        """Count the joints that are no longer in it."""
        for joint in joints:
            self.counts["removed"] += 1
            self._line("removed", joint, None)

    def plain(self) -> dict[str, Any]:
        """The JSON form."""
        return {**self.counts, "lines": self.lines}

    def _count(self, one: Matched) -> None:
        if one.joint is None:
            self.counts["added"] += 1
            return
        state = "changed" if one.changes or one.is_back else "same"
        self.counts[state] += 1
        self.counts["back"] += one.is_back
        self.counts["fields"] += len(one.changes)
        for name, changes in (("changed", one.changes), ("kept", one.kept), ("contested", one.contested)):
            self.counts[name] += len(changes) if name != "changed" else 0
            for change in changes:
                self._line(name, one.joint, change)
        if one.is_back:
            self._line("changed", one.joint, Change("", "no longer in it", "in it again"))

    def _line(self, name: str, joint: OnFile, change: Change | None) -> None:
        if len(self.lines[name]) < LINES:
            said = {"pk": joint.pk, "assembly": joint.mark, "number": joint.number}
            if change is not None:
                said |= {"field": change.field, "before": change.before, "after": change.after}
            self.lines[name].append(said)
