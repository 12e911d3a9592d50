"""PostgreSQL's TRUNCATE asks no trigger of rows: changes of weld data stay."""

from django.db import migrations

from register.triggers import RefuseTruncate


class Migration(migrations.Migration):
    dependencies = [("joints", "0009_plants")]

    operations = [
        RefuseTruncate("joints_welddatachange", "Changes of weld data are never deleted"),
    ]
