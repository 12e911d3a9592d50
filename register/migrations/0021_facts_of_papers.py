"""The digest of what a printed paper states as facts; what was printed before has none.

SQLite remakes the table of papers, so the refusals of migration 0011 are lifted before and stand again after.
"""

from django.db import migrations, models

from register.triggers import LiftRefusal, LiftReplace, RefuseChange, RefuseReplace, same

TABLE = "register_printedpaper"
UPDATE = (TABLE, "UPDATE", "A printed paper stays as it was printed")
DELETE = (TABLE, "DELETE", "A printed paper is never deleted")
REPLACE = (TABLE, "A printed paper is never replaced", [same("kind", "check_code", "paper", "units")])


class Migration(migrations.Migration):
    dependencies = [("register", "0020_last_days_of_tokens_stay")]

    operations = [
        LiftRefusal(*UPDATE),
        LiftRefusal(*DELETE),
        LiftReplace(*REPLACE),
        migrations.AddField("printedpaper", "facts_sha256", models.CharField(blank=True, default="", max_length=64)),
        RefuseChange(*UPDATE),
        RefuseChange(*DELETE),
        RefuseReplace(*REPLACE),
    ]
