"""SQLite: no new row takes the place of a kept change of weld data."""

from django.db import migrations

from register.triggers import RefuseReplace


class Migration(migrations.Migration):
    dependencies = [("joints", "0003_weld_run_finding")]

    operations = [RefuseReplace("joints_welddatachange", "Changes of weld data are kept and never replaced")]
