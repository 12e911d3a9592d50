"""The procedures of the invented shop, from procedures.csv and runs.csv, through the same acts as people use."""

from decimal import Decimal
from typing import Any

from django.contrib.auth.models import User

from joints.demo.firm import Calendar
from joints.demo.hands import written_by
from joints.demo.materials import AS_USUAL, CONSUMABLES, MECHANISATION, Plain
from joints.demo.preparations import CAUTIONS, FILLER_MAKE, PREPARATIONS, TECHNIQUE
from joints.demo.tables import Row, pairs, rows
from joints.demo.windows import SIZES, TRAITS
from wps import workflow
from wps.models import ProcedureRevision, ProcedureRun, TestRecord

CODE = "ISO 15614-1:2017"
AUTHORS = ("marta", "henrik")


def load_procedures(
    days: Calendar,
    records: dict[str, TestRecord],
    users: dict[str, User],
    table: str = "procedures",
    authors: tuple[str, str] = AUTHORS,
) -> None:
    """All procedures of a table with their revisions."""
    runs = rows("runs")
    for at, row in enumerate(rows(table)):
        # What waits for approval was written by the second of them, so that the first one has something to do.
        turn = 1 if row["life"] in ("draft", "checked") else at % 2
        author, other = users[authors[turn]], users[authors[1 - turn]]
        with written_by(author):
            _Story(row, runs, days, records, author, other).tell()


class _Story:
    """One procedure from its first draft to where it stands today."""

    def __init__(
        self,
        row: Row,
        runs: list[Row],
        days: Calendar,
        records: dict[str, TestRecord],
        author: User,
        other: User,
    ) -> None:
        self.row, self.days, self.author, self.other = row, days, author, other
        self.runs = [run for run in runs if run["key"] == row["runs"]]
        self.records = [records[number.strip()] for number in row["records"].split(",") if number.strip()]

    def tell(self) -> None:
        """Revision by revision: every one but the last with what the column `before` changes."""
        steps = self.row["life"].split()
        approvals = [pairs(step) for step in steps if step[0].isupper()]
        draft: ProcedureRevision | None = None
        for at, approval in enumerate(approvals):
            (day,) = (int(text) for text in approval.values())
            draft = self._draft(draft, last=at == len(approvals) - 1)
            self._approve(draft, day)
        if not approvals:
            draft = self._draft(None, last=True)
        for step in steps:
            self._finish(draft, step)

    def _draft(self, before: ProcedureRevision | None, last: bool) -> ProcedureRevision:
        row = self.row
        if before is None:
            draft = workflow.start_procedure(row["number"], row["title"], CODE, self.author)
        else:
            draft = workflow.start_revision(before.procedure, self.author)
        draft.serves_tack, draft.serves_final = row["serves"] == "tack", row["serves"] == "final"
        draft.window = window(row, {} if last else _before(row))
        draft.preparation = TECHNIQUE[row["process"]] | PREPARATIONS[row["preparation"]] | _tacking(row)
        draft.workstation_note, draft.notes, draft.cautions = row["station"], row["notes"], CAUTIONS[row["station"]]
        draft.save()
        if before is None:
            draft.records.set(self.records)
            ProcedureRun.objects.bulk_create([_run(draft, at, run) for at, run in enumerate(self.runs, start=1)])
        return draft

    def _approve(self, draft: ProcedureRevision, day: int) -> None:
        workflow.check_revision(draft, self.other, self.days.day(day - 3))
        workflow.approve(draft, self.other, self.days.day(day))

    def _finish(self, draft: ProcedureRevision | None, step: str) -> None:
        assert draft is not None
        if step == "checked":
            workflow.check_revision(draft, self.other, self.days.day(-2))
        if step.startswith("withdrawn="):
            reason = "Its record is no longer used." if self.records else "Not needed: the heavy plates go to the rig."
            workflow.withdraw(draft, self.other, self.days.day(int(step.partition("=")[2])), reason)


def window(row: Row, changed: Plain | None = None) -> Plain:
    """The ranges and terms of a revision, in the plain form of `codes.parse`; `changed`: what differs in it."""
    found: Plain = CONSUMABLES[row["process"]] | {"mechanisation": MECHANISATION[row["process"]]} | AS_USUAL
    if row["process"] in FILLER_MAKE:
        found = {"filler_make": FILLER_MAKE[row["process"]]} | found
    for word in row["traits"].split():
        found = found | TRAITS[word]
    found = found | {"position": row["position"].split()}
    stated = {name: row[name] for name in ("parent_t", "throat_a") if row[name]} | pairs(row["more"])
    found = found | {name: _range(text) for name, text in stated.items()} | (changed or {})
    if found["weld_type"] != "fillet":
        # One process makes the whole weld, so it deposits what the plates are thick; a tack is a thin run in it.
        found["deposit_t"] = {"min": "2", "max": "5" if row["serves"] == "tack" else found["parent_t"]["max"]}
    return found


def _before(row: Row) -> Plain:
    """What an older revision said differently."""
    return {name: _range(text) if name in SIZES else text.split(",") for name, text in pairs(row["before"]).items()}


def _range(text: str) -> Any:
    low, dash, high = text.partition("-")
    return {"min": low, "max": high} if dash else text


def _tacking(row: Row) -> Plain:
    if row["serves"] == "tack":
        return {"tacking": "tacks 50 mm long, 300 mm apart"}
    return {"tacking": "by the gripping arm" if row["station"] == "Cell R1" else "clamped and tacked, 300 mm apart"}


def _run(draft: ProcedureRevision, order: int, row: Row) -> ProcedureRun:
    """One run; figures that the table leaves out stay open."""
    ends: dict[str, Decimal | None] = {}
    fields = {
        "current": ("current_min_a", "current_max_a"),
        "voltage": ("voltage_min_v", "voltage_max_v"),
        "speed": ("speed_min_mm_min", "speed_max_mm_min"),
        "wire": ("wire_feed_min_m_min", "wire_feed_max_m_min"),
        "gas": ("gas_flow_min_l_min", "gas_flow_max_l_min"),
    }
    for name, (low, high) in fields.items():
        parts = row[name].split("-") if row[name] else (None, None)
        ends[low], ends[high] = (Decimal(part) if part else None for part in parts)
    return ProcedureRun(
        revision=draft,
        order=order,
        layer=row["layer"],
        process=row["process"],
        filler_designation=draft.window["filler_designation"],
        diameter_mm=Decimal(row["diameter"]),
        current_type=row["polarity"],
        **ends,
    )
