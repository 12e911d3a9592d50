"""All sheets in force at once: issued where they are not yet, by both cores, and put into one ZIP."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from django.urls import reverse

from register.background.kinds import background
from register.background.progress import Progress
from register.base.pdf_many import Rendered, ToRender, render_many
from register.held.firm import firm_settings
from register.papers import made
from register.papers.bundle import Bundle
from register.papers.codes import status_address
from register.papers.kept import Altered, bytes_of
from register.roles import Capability, check
from wps import issued
from wps.models import IssuedSheet, ProcedureRevision, Status
from wps.sheet_render import PAPERS, STYLESHEET
from wps.sheets import Choice, Sheet, SheetError, before_rendering, file_stem


@dataclass(frozen=True, slots=True)
class Wanted:
    """A sheet that is to be issued."""

    revision: ProcedureRevision
    choice: Choice
    code: str


def issue_many(
    revisions: Iterable[ProcedureRevision], choices: Sequence[Choice], by: Any, address: str, processes: int = 0
) -> Iterator[IssuedSheet]:
    """The issued sheets as they are there, rendered where they are not. Raises PermissionDenied, SheetError."""
    check(by, Capability.PRINT_SHEET)
    settings = firm_settings()
    found: list[IssuedSheet] = []

    def missing() -> Iterator[ToRender]:
        for revision in revisions:
            for choice in choices:
                kept = issued.find(revision, choice)
                if kept is not None:
                    found.append(kept)
                    continue
                ready = before_rendering(revision, choice, issued.day_of_approval(revision), address, settings)
                key = Wanted(revision, choice, ready.code)
                size = PAPERS[choice.paper][1]
                yield ToRender(key, ready.html, STYLESHEET, size, ready.day, (ready.attached,), ready.sizes)

    for one in render_many(missing(), processes):
        yield from _handed_over(found)
        yield _kept(one, by, address)
    yield from _handed_over(found)


def _handed_over(found: list[IssuedSheet]) -> Iterator[IssuedSheet]:
    while found:
        yield found.pop()


def _kept(one: Rendered, by: Any, address: str) -> IssuedSheet:
    """The sheet on file; of a revision that ended while it was rendered, the one that says so, made anew."""
    wanted: Wanted = one.key
    try:
        return issued.keep(wanted.revision, Sheet(wanted.choice, one.pdf, wanted.code, one.sides), by)
    except issued.Overtaken:
        wanted.revision.refresh_from_db()
        return issued.issue(wanted.revision, wanted.choice, by, address)


@background("Print all sheets in force", Capability.PRINT_SHEET, refusals=(SheetError, Altered))
def all_sheets(progress: Progress, kind: str, paper: str, units: str, address: str = "") -> None:
    """Issue the sheets of every revision in force and put them into a ZIP with their hashes.

    `address`: where the codes on them lead, as `status_address` gives it.
    """
    revisions = list(ProcedureRevision.objects.filter(status=Status.APPROVED).select_related("procedure"))
    choice = Choice(kind, paper, units)
    name = f"sheets-{kind}-{paper}-{units}.zip"
    with TemporaryDirectory(prefix="sheets-") as folder:
        bundle = Bundle(Path(folder) / "parts")
        address = address or status_address()
        for number, sheet in enumerate(issue_many(revisions, (choice,), progress.by, address), start=1):
            stem = file_stem(sheet.revision, choice)
            bundle.add(f"{stem}.pdf", str(sheet.revision), (), bytes_of(sheet))
            progress(number, len(revisions), str(sheet.revision))
        ended = _leave_out_ended(bundle, revisions)
        bundle.parts.sort(key=lambda part: part.name)
        unfinished = Path(folder) / name
        bundle.write_zip(unfinished, (), kind=kind, paper=paper, units=units)
        digest = sha256(unfinished.read_bytes()).hexdigest()
        made.room_for(progress.work.pk, name).write_bytes(unfinished.read_bytes())
    url = reverse("joints:made_file", args=[progress.work.pk, name])
    count = len(bundle.parts)
    said = f"{count} {'sheet is' if count == 1 else 'sheets are'} ready."
    if ended:
        said += f" Left out, no longer in force since the work began: {', '.join(ended)}. Print all again."
    progress.outcome(said, url, "Take them away", result={"sha256": digest})


def _leave_out_ended(bundle: Bundle, revisions: Sequence[ProcedureRevision]) -> list[str]:
    """Take out of the bundle what is no longer in force, and name it."""
    keys = [revision.pk for revision in revisions]
    in_force = set(ProcedureRevision.objects.filter(pk__in=keys, status=Status.APPROVED).values_list("pk", flat=True))
    ended = [str(revision) for revision in revisions if revision.pk not in in_force]
    bundle.parts = [part for part in bundle.parts if part.title not in ended]
    return ended
