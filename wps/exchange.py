"""How revisions come in again: as drafts with their runs and records, then along the states that they went through.

The database refuses a revision that is entered ready-made, and runs of one that is approved; this goes by its rules.
"""

from collections import defaultdict
from collections.abc import Callable, Mapping
from typing import Any

from django.db.models import Model

from wps.models import ProcedureRevision, ProcedureRun, Status

REVISIONS = ProcedureRevision._meta.label_lower
RUNS = ProcedureRun._meta.label_lower
LINK: type[Model] = ProcedureRevision.records.through
LINKS = LINK._meta.label_lower
KINDS = (REVISIONS, RUNS, LINKS)


def load(
    rows: Mapping[str, Callable[[], Any]],
    made: Callable[[str, int, Any], Any],
    insert: Callable[[type[Model], list[Any]], None],
) -> None:
    """One revision after the other, in the order in which they were begun."""
    runs = _by_revision(RUNS, rows, made, "revision_id")
    links = _by_revision(LINKS, rows, made, "procedurerevision_id")
    for number, row in rows[REVISIONS]():
        revision: ProcedureRevision = made(REVISIONS, number, row)
        status, revision.status = revision.status, Status.DRAFT
        insert(ProcedureRevision, [revision])
        insert(ProcedureRun, runs.pop(revision.pk, []))
        insert(LINK, links.pop(revision.pk, []))
        for step in road_to(status, approved=revision.approved_on is not None):
            ProcedureRevision.objects.filter(pk=revision.pk).update(status=step)
    # Parts of revisions that are not there go in too, so that the database names what is wrong.
    for model, left in ((ProcedureRun, runs), (LINK, links)):
        insert(model, [part for parts in left.values() for part in parts])


def road_to(status: str, approved: bool) -> tuple[str, ...]:
    """The states from draft on. Example: a superseded one was checked and approved before."""
    if status == Status.DRAFT:
        return ()
    if status in (Status.APPROVED, Status.CHECKED) or not approved:
        return (Status.CHECKED, Status.APPROVED) if status == Status.APPROVED else (status,)
    return (Status.CHECKED, Status.APPROVED, status)


def _by_revision(kind: str, rows: Mapping[str, Any], made: Any, key: str) -> dict[int, list[Any]]:
    found: dict[int, list[Any]] = defaultdict(list)
    for number, row in rows[kind]():
        one = made(kind, number, row)
        found[getattr(one, key)].append(one)
    return found
