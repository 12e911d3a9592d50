"""The database itself refuses to change or delete an event of a certificate."""

from django.db import migrations

from register.triggers import RefuseChange

TABLE = "qualifications_certificateevent"


class Migration(migrations.Migration):
    dependencies = [("qualifications", "0001_initial")]

    operations = [
        RefuseChange(TABLE, "UPDATE", "An event is written once and never changed; enter a correction"),
        RefuseChange(TABLE, "DELETE", "An event is never deleted; enter a correction"),
    ]
