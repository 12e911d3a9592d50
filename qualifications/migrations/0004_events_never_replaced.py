"""SQLite: no new row takes the place of a signed event."""

from django.db import migrations

from register.triggers import RefuseReplace, same


class Migration(migrations.Migration):
    dependencies = [("qualifications", "0003_us_people_and_log_files")]

    operations = [
        RefuseReplace(
            "qualifications_certificateevent",
            "An event is written once and never replaced; enter a correction",
            [same("voids_id")],
        ),
    ]
