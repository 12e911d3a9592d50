"""The database itself keeps issued sheets as they were written."""

from django.db import migrations

from register.triggers import RefuseChange

TABLE = "wps_issuedsheet"


class Migration(migrations.Migration):
    dependencies = [("wps", "0003_issued_sheet")]

    operations = [
        RefuseChange(TABLE, "UPDATE", "An issued sheet is written once and never changed"),
        RefuseChange(TABLE, "DELETE", "An issued sheet is never deleted"),
    ]
