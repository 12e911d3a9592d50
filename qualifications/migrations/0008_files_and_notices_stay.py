"""A log file that was taken in, and a notice that was sent, stay; notices are sealed from here on."""

from typing import Any

from django.db import migrations

from register.trail.sealing import write_seals
from register.triggers import RefuseChange, RefuseReplace, RefuseTruncate, same

FILE, NOTICE = "qualifications_weldlogbatch", "qualifications_duenotice"
FILE_STAYS = "A log file that was taken in stays as it was"
NOTICE_STAYS = "A notice that was sent is kept as it was"
TAKEN = "OLD.status = 'confirmed'"


def seal_notices(apps: Any, schema_editor: Any) -> None:
    """Those that there are, as they are found."""
    notices = apps.get_model("qualifications", "DueNotice")
    seals, heads = apps.get_model("register", "VersionSeal"), apps.get_model("register", "AuditHead")

    def held(database: str) -> Any:
        return heads.objects.select_for_update().get_or_create(pk=1)[0]

    if keys := list(notices._base_manager.order_by("pk").values_list("pk", flat=True)):
        write_seals(notices, keys, seals, held)


class Migration(migrations.Migration):
    dependencies = [
        ("qualifications", "0007_never_emptied"),
        ("joints", "0012_seal_what_is_on_file"),
        ("register", "0018_states_of_accounts"),
    ]

    operations = [
        migrations.RunPython(seal_notices, migrations.RunPython.noop),
        RefuseChange(FILE, "UPDATE", FILE_STAYS, TAKEN),
        RefuseChange(FILE, "DELETE", FILE_STAYS, TAKEN),
        RefuseReplace(FILE, FILE_STAYS, when="held.status = 'confirmed'"),
        RefuseTruncate(FILE, FILE_STAYS),
        RefuseChange(NOTICE, "UPDATE", NOTICE_STAYS),
        RefuseChange(NOTICE, "DELETE", NOTICE_STAYS),
        RefuseReplace(NOTICE, NOTICE_STAYS, [same("certificate_id", "act", "by", "horizon")]),
        RefuseTruncate(NOTICE, NOTICE_STAYS),
    ]
