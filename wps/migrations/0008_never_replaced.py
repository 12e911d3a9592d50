"""Approved revisions, their runs and links, and issued sheets: never replaced, never entered ready-made, ended by an act.

A revision begins as a draft, whatever writes it; and one that stays approved keeps the fields of its end empty.
"""

from django.db import migrations

from register.triggers import RefuseChange, RefuseReplace, same
from wps.triggers import FROZEN_SQL, REVISION, changed

RUNS, LINKS, SHEETS = "wps_procedurerun", "wps_procedurerevision_records", "wps_issuedsheet"
STAYS = "An approved revision stays as it is; start a new revision to change it"
IN_FORCE = "(held.procedure_id = NEW.procedure_id AND held.status = 'approved' AND NEW.status = 'approved')"
END = changed("ended_on", "ended_name", "ended_reason", "ended_by_id")


def part_of_frozen(link: str) -> str:
    """SQL: the row that is held belongs to a frozen revision."""
    return f"EXISTS (SELECT 1 FROM {REVISION} AS r WHERE r.id = held.{link} AND r.status IN {FROZEN_SQL})"


class Migration(migrations.Migration):
    dependencies = [("wps", "0007_material_certificate")]

    operations = [
        RefuseReplace(REVISION, STAYS, [same("procedure_id", "letter"), IN_FORCE], f"held.status IN {FROZEN_SQL}"),
        RefuseReplace(
            RUNS,
            "The runs of an approved revision stay as they are",
            [same("revision_id", '"order"')],
            part_of_frozen("revision_id"),
        ),
        RefuseReplace(
            LINKS,
            "The records of an approved revision stay as they are",
            [same("procedurerevision_id", "testrecord_id")],
            part_of_frozen("procedurerevision_id"),
        ),
        RefuseReplace(
            SHEETS,
            "An issued sheet is written once and never replaced",
            [same("revision_id", "state", "kind", "paper", "units")],
        ),
        RefuseChange(
            REVISION, "INSERT", "A revision begins as a draft; it is approved by an act", "NEW.status <> 'draft'"
        ),
        RefuseChange(
            REVISION,
            "UPDATE",
            "An approved revision ends when it is superseded or withdrawn",
            f"OLD.status = 'approved' AND NEW.status = 'approved' AND ({END})",
            "end",
        ),
    ]
