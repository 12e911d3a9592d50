"""What a list changes, one by one: kept as shown until it is taken in, kept for good with the import."""

from collections.abc import Iterable, Iterator, Sequence

from joints.imports.compare import Change, Matched
from joints.imports.many import Many
from joints.imports.on_file import OnFile
from joints.models import ImportBatch, ImportDifference, ShownDifference
from register.plants.rows import refuse_outside

DIFFERS = ("batch", "kind", "joint", "assembly_mark", "joint_number", "field", "before", "after")
Difference = tuple[int, str, int | None, str, str, str, str, str]
AT_MOST = 300_000
"""Differences that are kept to be shown; the counts are of all."""


def difference(
    batch: int, kind: str, joint: int | None, mark: str, number: str, change: Change | None = None
) -> Difference:
    """A row of DIFFERS."""
    said = (change.field, change.before[:500], change.after[:500]) if change else ("", "", "")
    return batch, kind, joint, mark, number, *said


class ShownDifferences:
    """Gathers what a comparison finds, chunk by chunk, and keeps it in place of what was shown before."""

    def __init__(self, batch: ImportBatch, names_new: bool) -> None:
        """`names_new`: a joint that is new is a difference."""
        self.batch, self.names_new = batch, names_new
        self.rows: list[Difference] = []

    def add(self, chunk: Sequence[Matched]) -> None:
        """Some rows of the list."""
        for one in chunk:
            if len(self.rows) < AT_MOST:
                self.rows += self._of(one)

    def left(self, joints: Iterable[OnFile]) -> None:
        """The joints that are no longer in it."""
        removed = (self._row(ImportDifference.REMOVED, joint) for joint in joints)
        self.rows += removed if len(self.rows) < AT_MOST else ()

    def keep(self) -> None:
        """Write them. Call it in a transaction."""
        refuse_outside([self.batch])
        forget(self.batch)
        Many(ShownDifference, DIFFERS).insert(self.rows[:AT_MOST])

    def _of(self, one: Matched) -> Iterator[Difference]:
        joint = one.joint
        if joint is None:
            if self.names_new and "" not in one.row.key:
                yield difference(self.batch.pk, ImportDifference.ADDED, None, *one.row.key)
            return
        if one.is_back:
            yield self._row(ImportDifference.BACK, joint)
        kinds = (
            (ImportDifference.CHANGED, one.changes),
            (ImportDifference.KEPT, one.kept),
            (ShownDifference.CONTESTED, one.contested),
        )
        for kind, changes in kinds:
            for change in changes:
                yield self._row(kind, joint, change)

    def _row(self, kind: str, joint: OnFile, change: Change | None = None) -> Difference:
        return difference(self.batch.pk, kind, joint.pk, joint.mark, joint.number, change)


def forget(batch: ImportBatch) -> None:
    """What was shown of a batch is of no use any more."""
    shown = ShownDifference.everything.filter(batch=batch)
    shown._raw_delete(shown.db)
