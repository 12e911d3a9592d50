"""PostgreSQL's TRUNCATE asks no trigger of rows: what is never deleted is never emptied either."""

from django.db import migrations

from register.triggers import RefuseTruncate


class Migration(migrations.Migration):
    dependencies = [("register", "0013_second_factor")]

    operations = [
        RefuseTruncate("register_auditentry", "An audit entry is never deleted"),
        RefuseTruncate("register_audithead", "The end of the audit trail is never deleted"),
        RefuseTruncate("register_firmreading", "A reading of the firm is never deleted"),
        RefuseTruncate("register_clausecheck", "A check of a clause is never deleted"),
        RefuseTruncate("register_evidencefile", "Evidence is never deleted; withdraw it with a reason"),
        RefuseTruncate("register_printedpaper", "A printed paper is never deleted"),
    ]
