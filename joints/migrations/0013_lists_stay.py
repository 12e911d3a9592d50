"""A list that was taken in stays as it was."""

from django.db import migrations

from register.triggers import RefuseChange, RefuseReplace, RefuseTruncate

TABLE = "joints_importbatch"
STAYS = "A list that was taken in stays as it was"
TAKEN = "OLD.status = 'confirmed'"


class Migration(migrations.Migration):
    dependencies = [("joints", "0012_seal_what_is_on_file")]

    operations = [
        RefuseChange(TABLE, "UPDATE", STAYS, TAKEN),
        RefuseChange(TABLE, "DELETE", STAYS, TAKEN),
        RefuseReplace(TABLE, STAYS, when="held.status = 'confirmed'"),
        RefuseTruncate(TABLE, STAYS),
    ]
