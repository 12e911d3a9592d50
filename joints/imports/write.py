"""Writing an import: new joints, changed fields, joints that left; each with its history and what was sent."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from django.utils import timezone
from simple_history.utils import bulk_update_with_history

from joints.imports.compare import Change, Comparer, Matched
from joints.imports.fields import STATED_FIELDS, value_of
from joints.imports.rows import BOTH
from joints.imports.table import Refusal
from joints.imports.versions import keep_first_versions
from joints.models import (
    Assembly,
    ImportBatch,
    ImportDifference,
    Joint,
    JointAsSent,
    WeldDataChange,
    Workstation,
)
from joints.order import natural_key
from joints.weld_data.finding import PRACTICE

SIZE = 500
CORRECTED = "corrected_on_import"
"""The rule under which a cell that was corrected on the page is kept for the detailer."""


class Writer:
    """Writes the matched rows of one batch, chunk by chunk, inside the transaction of the caller."""

    def __init__(self, batch: ImportBatch, comparer: Comparer, by: Any) -> None:
        self.batch, self.comparer, self.by = batch, comparer, by
        self.added = self.changed = 0
        self.stations = dict(Workstation.objects.values_list("name", "pk"))
        self.assemblies = {assembly.mark: assembly for assembly in batch.job.assemblies.all()}

    def chunk(self, matched: Sequence[Matched]) -> None:
        """Write some rows."""
        self._let_go(matched)
        new = [(one, self._new(one)) for one in matched if one.joint is None]
        if new:
            Joint.every.bulk_create([joint for _, joint in new], batch_size=SIZE)
            for one, joint in new:
                one.joint = joint
            self.added += len(new)
        self._update([one for one in matched if one.changes or one.is_back])
        self._sent(matched)
        self._corrections(matched)

    def finish(self, left: Sequence[Joint]) -> None:
        """After all rows: the first versions of what is new, and the joints that are no longer in it."""
        if self.added:
            keep_first_versions(self.batch, self._reason, self.by)
        self._removed(left)

    def _removed(self, joints: Sequence[Joint]) -> None:
        """Mark joints as no longer in the model; they stay on file with all that is known of them."""
        now = timezone.now()
        for joint in joints:
            joint.left_model_at = now
        self._save(joints, ("left_model_at",))
        self._differences(self._difference(joint, ImportDifference.REMOVED) for joint in joints)

    def _let_go(self, matched: Sequence[Matched]) -> None:
        """Joints may swap their numbers: whoever holds one that another takes lets go of it first."""
        held = {pk for one in matched if (pk := self.comparer.holder(one)) is not None}
        for pk, number in Joint.every.filter(pk__in=held).values_list("pk", "number"):
            self.comparer.let_go(pk, number.removeprefix("~"))
            if not number.startswith("~"):
                Joint.every.filter(pk=pk).update(number=f"~{number}"[:40])

    def _new(self, one: Matched) -> Joint:
        values = one.row.values
        fields = dict(self._value(name, values.get(name, "")) for name in STATED_FIELDS)
        return Joint(
            assembly=self._assembly(values),
            order_key=natural_key(values["number"]),
            source_row=one.row.number,
            source=self.batch,
            **fields,
        )

    def _value(self, name: str, said: str) -> tuple[str, Any]:
        try:
            return value_of(name, said, self.stations)
        except KeyError:
            raise Refusal(
                f"The workstation {said} is no longer on file. Send the list again; nothing was written."
            ) from None

    def _assembly(self, values: Mapping[str, str]) -> Assembly:
        """The assembly that a row names; a new one is made in the order of the list."""
        mark = values["assembly"]
        if mark not in self.assemblies:
            title, kind = values.get("assembly_title", ""), values.get("assembly_kind", "")
            self.assemblies[mark] = Assembly.objects.create(job=self.batch.job, mark=mark, title=title, kind=kind)
        return self.assemblies[mark]

    def _save(self, joints: Sequence[Joint], fields: Iterable[str]) -> None:
        if joints:
            names = [name.removesuffix("_id") if name.endswith("workstation_id") else name for name in fields]
            bulk_update_with_history(joints, Joint, names, batch_size=SIZE, manager=Joint.every, **self._history())

    @property
    def _reason(self) -> str:
        return f"{self.batch.kind} {self.batch.file_name}"[:100]

    def _history(self) -> dict[str, Any]:
        return {
            "default_user": self.by,
            "default_change_reason": self._reason,
            "custom_historical_attrs": {"history_user_name": self.by.get_username()},
        }

    def _update(self, matched: Sequence[Matched]) -> None:
        if not matched:
            return
        fields = {"changed_at"}
        kept: list[ImportDifference] = []
        for one in matched:
            joint, now = one.joint, timezone.now()
            mark, number = joint.assembly.mark, joint.number
            if one.is_back:
                kept.append(self._difference(joint, ImportDifference.BACK))
                joint.left_model_at = None
                fields.add("left_model_at")
            for change in one.changes:
                fields |= self._set(joint, change, one.row.values)
                kept.append(self._difference(joint, ImportDifference.CHANGED, change, mark, number))
            joint.changed_at = now
        self._save([one.joint for one in matched], sorted(fields))
        self.changed += len(matched)
        self._differences(kept)

    def _set(self, joint: Joint, change: Change, values: Mapping[str, str]) -> set[str]:
        if change.field == "assembly":
            joint.assembly = self._assembly(values)
            return {"assembly"}
        name, value = self._value(change.field, change.after)
        setattr(joint, name, value)
        if change.field == "number":
            joint.order_key = natural_key(change.after)
            return {"number", "order_key"}
        return {name}

    def _sent(self, matched: Sequence[Matched]) -> None:
        """Keep what was written of each joint; columns that the list does not have keep what came before."""
        rows = []
        for one in matched:
            before = getattr(one.joint, "as_sent", None) if one.is_known else None
            old = {} if before is None else {k: v for k, v in before.values.items() if k not in self.comparer.named}
            rows.append(JointAsSent(joint=one.joint, batch=self.batch, values={**old, **one.row.stated}))
            self._differences([self._difference(one.joint, ImportDifference.KEPT, change) for change in one.kept])
        JointAsSent.objects.bulk_create(
            rows, SIZE, update_conflicts=True, unique_fields=["joint"], update_fields=["batch", "values"]
        )

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
        WeldDataChange.objects.bulk_create(rows, batch_size=SIZE)

    def _correction(self, one: Matched, name: str) -> WeldDataChange:
        return WeldDataChange(
            joint=one.joint,
            job=self.batch.job,
            assembly_mark=one.joint.assembly.mark,
            joint_number=one.joint.number,
            rule=CORRECTED,
            field=name,
            before=one.row.stated.get(name, "")[:500],
            after=one.row.values.get(name, "")[:500],
            reason=f"corrected by hand when {self.batch.file_name} was taken in",
            clause=str(PRACTICE),
            mark=PRACTICE.mark.value,
            by_name=self.by.get_username(),
        )

    def _difference(
        self, joint: Joint, kind: str, change: Change | None = None, mark: str = "", number: str = ""
    ) -> ImportDifference:
        return ImportDifference(
            batch=self.batch,
            kind=kind,
            joint=joint,
            assembly_mark=mark or joint.assembly.mark,
            joint_number=number or joint.number,
            field=change.field if change else "",
            before=change.before[:500] if change else "",
            after=change.after[:500] if change else "",
        )

    def _differences(self, rows: Iterable[ImportDifference]) -> None:
        rows = list(rows)
        if rows:
            ImportDifference.objects.bulk_create(rows, batch_size=SIZE)
