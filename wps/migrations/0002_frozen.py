"""The database itself keeps approved revisions as they are, their runs and the records that they rest on.

A later migration that lets SQLite rebuild one of these tables drops its triggers: repeat these steps after it. The
tests of frozen rows fail if that is forgotten.
"""

from django.db import migrations

from register.triggers import RefuseChange
from wps.triggers import FROZEN_SQL, REVISION, RefuseChangeOfPart, changed

RUNS, LINKS = "wps_procedurerun", "wps_procedurerevision_records"
KEPT = (
    "id", "created_at", "procedure_id", "letter", "code", "serves_tack", "serves_final", "window",
    "process_windows", "preparation", "workstation_note", "cautions", "notes", "editors", "author_id", "author_name",
    "checked_by_id", "checked_name", "checked_on", "approved_by_id", "approved_name", "approved_on",
)  # fmt: skip
# "window" is a word of PostgreSQL's own.
KEPT_SQL = changed(*(f'"{column}"' for column in KEPT))
STAYS = "An approved revision stays as it is; start a new revision to change it"


class Migration(migrations.Migration):
    dependencies = [("wps", "0001_initial")]

    operations = [
        RefuseChange(REVISION, "UPDATE", STAYS, f"OLD.status IN {FROZEN_SQL} AND ({KEPT_SQL})", "content"),
        RefuseChange(
            REVISION,
            "UPDATE",
            "An approved revision is superseded or withdrawn, and then it has ended",
            f"OLD.status IN {FROZEN_SQL} AND NOT (OLD.status = 'approved' AND NEW.status IN {FROZEN_SQL})",
            "status",
        ),
        RefuseChange(
            REVISION,
            "UPDATE",
            "Only a checked revision is approved",
            "NEW.status = 'approved' AND OLD.status NOT IN ('checked', 'approved')",
            "unchecked",
        ),
        RefuseChange(REVISION, "DELETE", STAYS, f"OLD.status IN {FROZEN_SQL}"),
        *(
            RefuseChangeOfPart(RUNS, event, "The runs of an approved revision stay as they are", "revision_id")
            for event in ("INSERT", "UPDATE", "DELETE")
        ),
        *(
            RefuseChangeOfPart(LINKS, event, "The records of an approved revision stay as they are")
            for event in ("INSERT", "UPDATE", "DELETE")
        ),
    ]
