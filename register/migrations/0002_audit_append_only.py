"""The database itself refuses to change or delete an audit entry."""

from django.db import migrations

from register.triggers import RefuseChange

TABLE = "register_auditentry"


class Migration(migrations.Migration):
    dependencies = [("register", "0001_initial")]

    operations = [
        RefuseChange(TABLE, "UPDATE", "An audit entry is written once and never changed"),
        RefuseChange(TABLE, "DELETE", "An audit entry is never deleted"),
    ]
