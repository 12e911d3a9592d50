"""The usual sheet of a revision, printed in the background as soon as it is approved: nobody waits for it later."""

import logging
from typing import Any

from django.db import DatabaseError
from django.utils.translation import gettext

from codes.units import System
from register.background.kinds import Refused, background
from register.background.progress import Progress
from register.papers.kept import Altered
from register.roles import Capability
from wps import issued
from wps.models import ProcedureRevision, Status
from wps.sheets import CELL, Choice, SheetError

log = logging.getLogger(__name__)


def usual(system: System) -> Choice:
    """What the page of a procedure offers first to a reader in these units: the sheet for the cell, US on Letter."""
    return Choice(CELL, "letter", "us") if system is System.US else Choice(CELL, "a4", "si")


def print_ahead(revision: ProcedureRevision, by: Any, address: str, system: System) -> None:
    """Have the usual sheet printed. Call it when the approval is on file: whatever happens here, it stands.

    `address`: where a code on the sheet leads, as `status_address` gives it; `system`: the units of whoever approves,
    which are those of most readers. Without a worker the first reader has
    the sheet printed, as before.
    """
    try:
        usual_sheet.start(by, str(revision), revision_id=revision.pk, address=address, units=system.value)
    except DatabaseError:
        log.exception("The sheet of %s is not printed ahead; the first reader has it printed.", revision)


@background("Print the sheet of an approved procedure", Capability.PRINT_SHEET, refusals=(SheetError, Altered))
def usual_sheet(progress: Progress, revision_id: int, address: str, units: str) -> None:
    """Issue it, unless it is there already or the revision is no longer in force."""
    revision = ProcedureRevision.objects.select_related("procedure").get(pk=revision_id)
    if revision.status != Status.APPROVED:
        raise Refused(gettext("%(revision)s is no longer in force; its sheet is not printed.") % {"revision": revision})
    issued.issue(revision, usual(System(units)), progress.by, address)
    progress.outcome(f"The sheet of {revision} is ready.", str(revision.get_absolute_url()), "See the procedure")
