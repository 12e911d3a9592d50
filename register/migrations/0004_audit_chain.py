"""Chain the audit trail by hash; entries that are there already are chained in the order of writing."""

from typing import Any

from django.db import migrations, models

from register.trail.chain import START, entry_hash, fields_of
from register.triggers import LiftRefusal, RefuseChange

TABLE = "register_auditentry"
UPDATE = (TABLE, "UPDATE", "An audit entry is written once and never changed")
DELETE = (TABLE, "DELETE", "An audit entry is never deleted")


def chain(apps: Any, schema_editor: Any) -> None:
    """Number and hash every entry, and note the end."""
    database = schema_editor.connection.alias
    rows = apps.get_model("register", "AuditEntry").objects.using(database)
    number, previous = 0, START
    for entry in rows.order_by("pk").iterator(chunk_size=2000):
        number += 1
        digest = entry_hash(fields_of(entry), number, previous)
        rows.filter(pk=entry.pk).update(number=number, previous_hash=previous, hash=digest)
        previous = digest
    apps.get_model("register", "AuditHead").objects.using(database).create(pk=1, number=number, hash=previous)


class Migration(migrations.Migration):
    dependencies = [("register", "0003_firm_readings")]

    operations = [
        LiftRefusal(*UPDATE),
        LiftRefusal(*DELETE),
        migrations.CreateModel(
            name="AuditHead",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("number", models.PositiveBigIntegerField(default=0)),
                ("hash", models.CharField(default=START, max_length=64)),
            ],
        ),
        migrations.AddField("auditentry", "number", models.PositiveBigIntegerField(editable=False, null=True)),
        migrations.AddField(
            "auditentry",
            "previous_hash",
            models.CharField(default="", editable=False, max_length=64),
            preserve_default=False,
        ),
        migrations.AddField(
            "auditentry", "hash", models.CharField(default="", editable=False, max_length=64), preserve_default=False
        ),
        migrations.RunPython(chain, migrations.RunPython.noop),
        migrations.AlterField("auditentry", "number", models.PositiveBigIntegerField(editable=False, unique=True)),
        RefuseChange(*UPDATE),
        RefuseChange(*DELETE),
        RefuseChange("register_audithead", "DELETE", "The end of the audit trail is never deleted"),
    ]
