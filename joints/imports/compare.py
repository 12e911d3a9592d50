"""A list that comes again, against what is on file: added, changed, kept, contested, removed.

Three sides are asked of each field: what the sender wrote last time, what he writes now, and what stands on file. What
was corrected here stays where the sender repeats himself; where both sides changed it, somebody has to say which.
"""

from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from hashlib import sha256
from itertools import islice

from joints.imports.columns import TITLES
from joints.imports.fields import STATED_FIELDS
from joints.imports.on_file import JointsOnFile, OnFile
from joints.imports.rows import BOTH, Problem, Row
from joints.models import ImportBatch, Job, Joint

Key = tuple[str, str]
"""Mark of the assembly and number of the joint."""
CHUNK = 1000
OURS, THEIRS = "ours", "theirs"
EVERY = "*"
"""The choice for all contested fields that have none of their own."""
COMPARED = tuple(name for name in TITLES if name in ("assembly", *STATED_FIELDS))


@dataclass(frozen=True, slots=True)
class Change:
    """One field: what stands on file and what the list says, as plain text; "" is not stated."""

    field: str
    before: str
    after: str


@dataclass(slots=True)
class Matched:
    """One row with the joint that it speaks of: on file before (`is_known`), or new and None until it is written."""

    row: Row
    joint: OnFile | None = None
    is_known: bool = False
    changes: list[Change] = field(default_factory=list)
    kept: list[Change] = field(default_factory=list)
    contested: list[Change] = field(default_factory=list)
    problems: tuple[Problem, ...] = ()

    @property
    def is_back(self) -> bool:
        """True for a joint that had left the model and is in it again."""
        return self.joint is not None and self.joint.has_left


class Comparer:
    """Rows of one list against the joints of a job, some thousand at a time."""

    def __init__(self, job: Job, batch: ImportBatch, named: Iterable[str], ids: Collection[str] = ()) -> None:
        """`named`: the fields that the list has columns for; `ids`: the identities of a model that it names."""
        self.job, self.batch, self.ids = job, batch, frozenset(ids)
        self.named = {one for name in named for one in BOTH.get(name, (name,))}
        if "element_pitch" in self.named:
            self.named |= {"element_gap_mm"}
        self.seen: set[int] = set()
        self._marks: set[str] = set()
        self._on_file = JointsOnFile()
        self._asked = tuple(name for name in COMPARED if name in self.named or name in (batch.defaults or {}))
        self._mark = sha256()
        known = Joint.every.filter(assembly__job=job).values_list("pk", "model_id", "assembly__mark", "number")
        self._by_model: dict[str, int] = {}
        self._by_key: dict[Key, int] = {}
        self._model_of: dict[int, str] = {}
        self._let_go: dict[int, str] = {}
        for pk, model_id, mark, number in known.iterator(chunk_size=5000):
            self._by_key[mark, number] = pk
            if model_id:
                self._by_model[model_id], self._model_of[pk] = pk, model_id

    def matched(self, rows: Iterable[Row]) -> Iterator[list[Matched]]:
        """The rows in chunks, each with its joint and what it changes."""
        rest = iter(rows)
        while chunk := list(islice(rest, CHUNK)):
            pks = [self._pk(row) for row in chunk]
            wanted = [pk for pk in pks if pk is not None]
            joints = self._on_file.by_key(wanted)
            for pk in joints.keys() & self._let_go.keys():
                joint, number = joints[pk], self._let_go[pk]
                joint.number, joint.values = number, {**joint.values, "number": number}
            yield [
                self._one(row, joints.get(pk) if pk is not None else None) for row, pk in zip(chunk, pks, strict=True)
            ]

    def removed(self) -> list[OnFile]:
        """After all rows: the joints that came with a list and are no longer in it, as far as the list claims them."""
        if self.batch.scope == ImportBatch.PART:
            return []
        rows = Joint.objects.filter(assembly__job=self.job, source__isnull=False).exclude(source=self.batch)
        rows = rows.order_by("assembly__order_key", "order_key", "pk").values_list("pk", "assembly__mark", "number")
        left = [
            OnFile(pk, mark, number)
            for pk, mark, number in rows.iterator(chunk_size=5000)
            if pk not in self.seen and (self.batch.scope == ImportBatch.WHOLE or mark in self._marks)
        ]
        for joint in left:
            self._mark.update(f"-{joint.pk}\n".encode())
        return left

    @property
    def comes_again(self) -> bool:
        """True where joints of the job were on file before: then what is new is worth naming."""
        return bool(self._by_key)

    @property
    def mark(self) -> str:
        """What the whole comparison is known by; another one means that somebody changed the job in between."""
        return self._mark.hexdigest()

    def holder(self, one: Matched) -> int | None:
        """The other joint on file that holds the number which this row takes, if any; it gets another one itself."""
        pk = self._by_key.get(one.row.key)
        return None if pk is None or (one.joint is not None and one.joint.pk == pk) else pk

    def let_go(self, pk: int, number: str) -> None:
        """Note that a joint gave its number away for the time being; it is compared by the one it had."""
        self._let_go[pk] = number

    def _pk(self, row: Row) -> int | None:
        """The joint that a row speaks of: by its identity in the model, else by mark and number.

        A joint whose own identity stands elsewhere in the list is that one, whatever number it had.
        """
        model_id = row.values.get("model_id", "")
        found = self._by_model.get(model_id) if model_id else None
        if found is not None:
            return found
        found = self._by_key.get(row.key)
        return None if found is not None and self._model_of.get(found, "") in self.ids else found

    def _one(self, row: Row, joint: OnFile | None) -> Matched:
        self._marks.add(row.key[0])
        found = Matched(row, joint, joint is not None, problems=row.problems)
        if joint is None:
            self._mark.update(f"+{row.key}\n".encode())
            self._refuse_taken(found)
            return found
        if joint.pk in self.seen:
            message = f"{joint.named} is spoken of in another row already; delete one of the two."
            if not any(problem.field == "number" for problem in row.problems):  # said of the two rows already
                number = Problem(row.number, TITLES["number"], message, False, "number", row.key[1])
                found.problems = (*row.problems, number)
            return found
        self.seen.add(joint.pk)
        for name in self._news_of(row, joint):
            self._field(found, joint, name)
        self._refuse_taken(found)
        told = ";".join(f"{c.field}:{c.before}>{c.after}" for c in (*found.changes, *found.contested))
        self._mark.update(f"{joint.pk}{'^' if found.is_back else ''}:{told}\n".encode())
        return found

    def _refuse_taken(self, found: Matched) -> None:
        """Say so where the number belongs to another joint on file that keeps it."""
        other = self.holder(found)
        if other is None or other in self.seen or self._model_of.get(other, "") in self.ids:
            return
        row = found.row
        message = f"joint {row.key[1]} of assembly {row.key[0]} is another one on file; give one another number."
        found.problems = (*found.problems, Problem(row.number, "", message, False, "number", row.key[1]))

    def _news_of(self, row: Row, joint: OnFile) -> Sequence[str]:
        """The fields to look at: not those of which the sender says what he said before and what stands on file."""
        if joint.sent is None or row.problems or self.batch.corrections:
            return self._asked
        stated, values, sent, ours = row.stated.get, row.values.get, joint.sent.get, joint.values
        return [n for n in self._asked if stated(n, "") != sent(n, "") or values(n, "") != ours[n]]

    def _field(self, found: Matched, joint: OnFile, name: str) -> None:
        row, base, ours = found.row, joint.sent, joint.values[name]
        default = row.values.get(name, "") if name not in row.stated else ""
        if name not in self.named:
            if default and not ours and name != "assembly":
                found.changes.append(Change(name, ours, default))
            return
        said, theirs = row.stated.get(name, ""), row.values.get(name, "") if name in row.stated else ""
        if self._is_corrected(row, name):
            theirs = row.values.get(name, "")
            if theirs != ours:
                found.changes.append(Change(name, ours, theirs))
        elif base is not None and said == base.get(name, ""):
            self._repeated(found, name, ours, theirs, default)
        elif theirs != ours and not self._is_unread(row, name):
            self._news(found, joint, Change(name, ours, theirs), default)

    def _repeated(self, found: Matched, name: str, ours: str, theirs: str, default: str) -> None:
        """The sender says what he said before; whatever stands on file stays, and what he wrote badly is forgiven."""
        found.problems = tuple(p for p in found.problems if p.is_note or name not in BOTH.get(p.field, (p.field,)))
        if default and not ours:
            found.changes.append(Change(name, ours, default))
        elif ours != theirs and ours != default:
            found.kept.append(Change(name, ours, theirs or found.row.stated.get(name, "")))

    def _news(self, found: Matched, joint: OnFile, change: Change, default: str) -> None:
        """The sender says something new."""
        before = None if joint.sent is None else joint.sent.get(change.field, "")
        if not change.after and before is None:
            if default and not change.before:
                found.changes.append(Change(change.field, change.before, default))
            return
        if before is None or change.before in (before, "") or change.field in ("assembly", "number", "model_id"):
            found.changes.append(change)
            return
        choices = self.batch.choices
        choice = choices.get(f"{joint.pk}:{change.field}") or choices.get(EVERY, "")
        {OURS: found.kept, THEIRS: found.changes}.get(choice, found.contested).append(change)

    def _is_corrected(self, row: Row, name: str) -> bool:
        fixes = self.batch.corrections
        if not fixes:
            return False
        wide = next((wide for wide, narrow in BOTH.items() if name in narrow), "")
        return f"{row.number}:{name}" in fixes or f"{row.number}:{wide}" in fixes

    def _is_unread(self, row: Row, name: str) -> bool:
        """True where the cell could not be taken; its message says so."""
        return any(not p.is_note and name in BOTH.get(p.field, (p.field,)) for p in row.problems)


def in_order(problems: Sequence[Problem]) -> list[Problem]:
    """What keeps the list out first, then by row."""
    return sorted(problems, key=lambda problem: (problem.is_note, problem.row))
