"""SQLite: no new row takes the place of one that stays."""

from django.db import migrations

from register.triggers import RefuseReplace, same


class Migration(migrations.Migration):
    dependencies = [("register", "0007_evidence_stays")]

    operations = [
        RefuseReplace("register_auditentry", "An audit entry is written once and never replaced", [same("number")]),
        RefuseReplace("register_firmreading", "A reading of the firm is written once and never replaced"),
        RefuseReplace("register_clausecheck", "A check of a clause is written once and never replaced"),
        RefuseReplace(
            "register_evidencefile",
            "Evidence stays as attached and is never replaced",
            [
                f"{same('subject_type', 'subject_id', 'sha256')} AND held.withdrawn_at IS NULL "
                "AND NEW.withdrawn_at IS NULL"
            ],
        ),
    ]
