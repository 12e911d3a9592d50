"""PostgreSQL's TRUNCATE asks no trigger of rows: approved revisions, their parts and issued sheets stay."""

from django.db import migrations

from register.triggers import RefuseTruncate


class Migration(migrations.Migration):
    dependencies = [("wps", "0010_releases")]

    operations = [
        RefuseTruncate(
            "wps_procedurerevision", "An approved revision stays as it is; start a new revision to change it"
        ),
        RefuseTruncate("wps_procedurerun", "The runs of an approved revision stay as they are"),
        RefuseTruncate("wps_procedurerevision_records", "The records of an approved revision stay as they are"),
        RefuseTruncate("wps_issuedsheet", "An issued sheet is never deleted"),
    ]
