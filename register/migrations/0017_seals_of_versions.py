"""Versions are sealed from here on, and every act notes the last seal. What is on file already: joints 0012."""

from django.db import migrations, models

from register.triggers import RefuseChange, RefuseReplace, RefuseTruncate, same

TABLE = "register_versionseal"
ONCE = "A seal of versions is written once and never changed"
STAYS = "A seal of versions is never deleted"


class Migration(migrations.Migration):
    dependencies = [("register", "0016_own_units")]

    operations = [
        migrations.CreateModel(
            name="VersionSeal",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("number", models.PositiveBigIntegerField(editable=False, unique=True)),
                ("at", models.DateTimeField(editable=False)),
                ("kind", models.CharField(editable=False, max_length=100)),
                ("fields", models.TextField(editable=False)),
                ("rows", models.TextField(editable=False)),
                ("previous_hash", models.CharField(editable=False, max_length=64)),
                ("hash", models.CharField(editable=False, max_length=64)),
            ],
            options={"ordering": ("number",)},
        ),
        migrations.AddField("auditentry", "versions", models.CharField(editable=False, max_length=90, null=True)),
        migrations.AddField("audithead", "versions", models.CharField(max_length=90, null=True)),
        RefuseChange(TABLE, "UPDATE", ONCE),
        RefuseChange(TABLE, "DELETE", STAYS),
        RefuseReplace(TABLE, ONCE, [same("number")]),
        RefuseTruncate(TABLE, STAYS),
    ]
