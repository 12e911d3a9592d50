"""The database itself keeps evidence: nothing is removed, and nothing changes but a first withdrawal."""

from django.db import migrations

from register.triggers import RefuseChange

TABLE = "register_evidencefile"
KEPT = ("subject_type", "subject_id", "file_name", "kind", "sha256", "size", "note", "added_by", "added_at")
CHANGED = " OR ".join(f"OLD.{column} IS DISTINCT FROM NEW.{column}" for column in KEPT)


class Migration(migrations.Migration):
    dependencies = [("register", "0006_evidence")]

    operations = [
        RefuseChange(TABLE, "DELETE", "Evidence is never deleted; withdraw it with a reason"),
        RefuseChange(
            TABLE,
            "UPDATE",
            "Evidence stays as attached, and withdrawn once",
            f"OLD.withdrawn_at IS NOT NULL OR {CHANGED}",
        ),
    ]
