"""Writing an import: new joints, changed fields, joints that left; each with its history and what was sent."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime
from typing import Any

from django.db.models import Max
from django.utils import timezone
from django.utils.translation import gettext

from joints.imports.compare import Change, Comparer, Matched
from joints.imports.differences import DIFFERS, Difference, difference
from joints.imports.fields import STATED_FIELDS, value_of
from joints.imports.many import MAX_KNOWN, Many
from joints.imports.on_file import OnFile
from joints.imports.rows import BOTH, Row
from joints.imports.table import Refusal
from joints.imports.versions import keep_versions
from joints.imports.witness import Tally
from joints.models import (
    Assembly,
    ImportBatch,
    ImportDifference,
    Joint,
    JointAsSent,
    WeldDataChange,
)
from joints.order import natural_key
from joints.stations import stations_for
from joints.weld_data.finding import PRACTICE
from register.plants.rows import refuse_outside
from register.trail.sealing import keep_rows

PLACED = ("assembly", "order_key", "source_row", "source", "created_at", "changed_at")
CORRECTED = "corrected_on_import"
"""The rule under which a cell that was corrected on the page is kept for the detailer."""


class _Values(dict[str, Any]):
    """Plain text of one field -> its value; one that came before is not made again."""

    def __init__(self, name: str, stations: Mapping[str, int]) -> None:
        self.name, self.stations = name, stations

    def __missing__(self, said: str) -> Any:
        if len(self) > MAX_KNOWN:
            self.clear()
        try:
            _, found = value_of(self.name, said, self.stations)
        except KeyError:
            raise Refusal(
                gettext("The workstation %(said)s is no longer on file. Send the list again; nothing was written.")
                % {"said": said}
            ) from None
        self[said] = found
        return found


class Writer:
    """Writes the matched rows of one batch, chunk by chunk, inside the transaction of the caller."""

    def __init__(self, batch: ImportBatch, comparer: Comparer, by: Any) -> None:
        """Raises PermissionDenied for a job of a plant out of reach; every row written belongs to the same plant."""
        refuse_outside([batch])
        self.batch, self.comparer, self.by = batch, comparer, by
        self.added = self.changed = 0
        stations = dict(stations_for(batch.job).values_list("name", "pk"))
        self._values = {name: _Values(name, stations) for name in STATED_FIELDS}
        self.assemblies = {assembly.mark: assembly.pk for assembly in batch.job.assemblies.all()}
        self._last = Joint.everything.aggregate(last=Max("pk"))["last"] or 0
        self._new_joints = Many(Joint, (*PLACED, *STATED_FIELDS))
        self._first_sent = Many(JointAsSent, ("joint", "batch", "values"))
        self._sent_again, self._sent_the_same = (Many(JointAsSent, f) for f in (("batch", "values"), ("batch",)))
        self._kept = Many(ImportDifference, DIFFERS)
        self.differences = Tally()
        self._changes: dict[tuple[str, ...], Many] = {}

    def chunk(self, matched: Sequence[Matched]) -> None:
        """Write some rows."""
        self._let_go(matched)
        self._add([one for one in matched if one.joint is None])
        self._update([one for one in matched if one.changes or one.is_back])
        self._sent(matched)
        self._corrections(matched)

    def finish(self, left: Sequence[OnFile]) -> None:
        """After all rows: the joints that are no longer in it, and a version of every joint added or changed."""
        now = timezone.now()
        self._many(("left_model_at",)).update((now, joint.pk) for joint in left)
        self._keep(self._difference(joint, ImportDifference.REMOVED) for joint in left)
        keep_versions(self.batch, f"{self.batch.kind} {self.batch.file_name}"[:100], self.by)

    def _keep(self, rows: Iterable[Difference]) -> None:
        """Keep what was changed."""
        self._kept.insert(self.differences.over(rows))

    def _many(self, names: tuple[str, ...]) -> Many:
        return self._changes.get(names) or self._changes.setdefault(names, Many(Joint, names))

    def _let_go(self, matched: Sequence[Matched]) -> None:
        """Joints may swap their numbers: whoever holds one that another takes lets go of it first."""
        held = {pk for one in matched if (pk := self.comparer.holder(one)) is not None}
        for pk, number in Joint.every.filter(pk__in=held).values_list("pk", "number"):
            self.comparer.let_go(pk, number.removeprefix("~"))
            if not number.startswith("~"):
                Joint.every.filter(pk=pk).update(number=f"~{number}"[:40])

    def _add(self, matched: Sequence[Matched]) -> None:
        """New joints; each learns the key that the database gave it."""
        if not matched:
            return
        now = timezone.now()
        self._new_joints.insert([self._new(one.row, now) for one in matched])
        given = Joint.everything.filter(source=self.batch, pk__gt=self._last).order_by("pk")
        keys = {row: pk for pk, row in given.values_list("pk", "source_row")}
        for one in matched:
            mark, number = one.row.key
            one.joint = OnFile(keys[one.row.number], mark, number)
        self._last = max(keys.values())
        self.added += len(matched)
        if self.comparer.comes_again:
            self._keep(self._difference(self._joint(one), ImportDifference.ADDED) for one in matched)

    def _new(self, row: Row, now: datetime) -> tuple[Any, ...]:
        said = row.values.get
        placed = (self._assembly(row.values), natural_key(row.values["number"]), row.number, self.batch.pk, now, now)
        return *placed, *(values[said(name, "")] for name, values in self._values.items())

    def _assembly(self, values: Mapping[str, str]) -> int:
        """The key of the assembly that a row names; a new one is made in the order of the list."""
        mark = values["assembly"]
        if mark not in self.assemblies:
            title, kind = values.get("assembly_title", ""), values.get("assembly_kind", "")
            self.assemblies[mark] = Assembly.objects.create(job=self.batch.job, mark=mark, title=title, kind=kind).pk
        return self.assemblies[mark]

    def _update(self, matched: Sequence[Matched]) -> None:
        """What changed, in as many statements as there are kinds of rows: all that change the same fields at once."""
        alike: dict[tuple[str, ...], list[tuple[Any, ...]]] = {}
        kept: list[Difference] = []
        now = timezone.now()
        for one in matched:
            joint = self._joint(one)
            fields: dict[str, Any] = {"changed_at": now}
            if one.is_back:
                kept.append(self._difference(joint, ImportDifference.BACK))
                fields["left_model_at"] = None
            kept += [self._difference(joint, ImportDifference.CHANGED, change) for change in one.changes]
            for change in one.changes:
                fields |= self._set(joint, change, one.row.values)
            alike.setdefault(tuple(fields), []).append((*fields.values(), joint.pk))
        for names, rows in alike.items():
            self._many(names).update(rows)
        self.changed += len(matched)
        self._keep(kept)

    def _set(self, joint: OnFile, change: Change, values: Mapping[str, str]) -> dict[str, Any]:
        if change.field == "assembly":
            joint.mark = change.after
            return {"assembly": self._assembly(values)}
        value = self._values[change.field][change.after]
        if change.field == "number":
            joint.number = change.after
            return {"number": value, "order_key": natural_key(change.after)}
        return {change.field: value}

    def _sent(self, matched: Sequence[Matched]) -> None:
        """Keep what was written of each joint; columns that the list does not have keep what came before."""
        first, again, the_same = [], [], []
        for one in matched:
            joint, named = self._joint(one), self.comparer.named
            if joint.sent is None:
                first.append((joint.pk, self.batch.pk, one.row.stated))
                continue
            said = {**{k: v for k, v in joint.sent.items() if k not in named}, **one.row.stated}
            if said == joint.sent:
                the_same.append((self.batch.pk, joint.pk))
            else:
                again.append((self.batch.pk, said, joint.pk))
        self._first_sent.insert(first)
        self._sent_again.update(again, by="joint")
        self._sent_the_same.update(the_same, by="joint")
        self._keep(
            self._difference(self._joint(one), ImportDifference.KEPT, change) for one in matched for change in one.kept
        )

    @staticmethod
    def _joint(one: Matched) -> OnFile:
        """The joint of a row, which by now has one."""
        if one.joint is None:
            raise LookupError(f"row {one.row.number} has no joint yet")
        return one.joint

    def _corrections(self, matched: Sequence[Matched]) -> None:
        """Cells that were corrected on the page, kept for the detailer."""
        if not self.batch.corrections:
            return
        fixed: dict[int, list[str]] = {}
        for key in self.batch.corrections:
            row, _, name = key.partition(":")
            fixed.setdefault(int(row), []).extend(BOTH.get(name, (name,)))
        rows = [
            self._correction(one, name)
            for one in matched
            for name in fixed.get(one.row.number, ())
            if name in STATED_FIELDS and one.row.stated.get(name, "") != one.row.values.get(name, "")
        ]
        keep_rows(WeldDataChange, rows)

    def _correction(self, one: Matched, name: str) -> WeldDataChange:
        joint = self._joint(one)
        return WeldDataChange(
            joint_id=joint.pk,
            job=self.batch.job,
            assembly_mark=joint.mark,
            joint_number=joint.number,
            rule=CORRECTED,
            field=name,
            before=one.row.stated.get(name, "")[:500],
            after=one.row.values.get(name, "")[:500],
            reason=f"corrected by hand when {self.batch.file_name} was taken in",
            clause=str(PRACTICE),
            mark=PRACTICE.mark.value,
            by_name=self.by.get_username(),
        )

    def _difference(self, joint: OnFile, kind: str, change: Change | None = None) -> Difference:
        return difference(self.batch.pk, kind, joint.pk, joint.mark, joint.number, change)
