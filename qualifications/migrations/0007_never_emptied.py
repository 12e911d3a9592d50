"""PostgreSQL's TRUNCATE asks no trigger of rows: signed events stay."""

from django.db import migrations

from register.triggers import RefuseTruncate


class Migration(migrations.Migration):
    dependencies = [("qualifications", "0006_loans")]

    operations = [
        RefuseTruncate("qualifications_certificateevent", "An event is never deleted; enter a correction"),
    ]
