"""How accounts stand is kept from here on; those that there are get their state as it is found."""

from typing import Any

import django.utils.timezone
from django.db import migrations, models

from register.trail.sealing import write_seals
from register.triggers import RefuseChange, RefuseReplace, RefuseTruncate
from register.users.stand import stands

TABLE = "register_accountstate"
ONCE = "The state of an account is written once and never changed"
STAYS = "The state of an account is never deleted"


def keep_all(apps: Any, schema_editor: Any) -> None:
    """A state of each account, sealed."""
    states = apps.get_model("register", "AccountState")
    seals, heads = apps.get_model("register", "VersionSeal"), apps.get_model("register", "AuditHead")

    def held(database: str) -> Any:
        return heads.objects.select_for_update().get_or_create(pk=1)[0]

    found = sorted(stands(apps.get_model).items())
    for pk, stand in found:
        states(account=pk, stand=stand).save()
    if found:
        write_seals(states, list(states.objects.values_list("pk", flat=True)), seals, held)


class Migration(migrations.Migration):
    dependencies = [("register", "0017_seals_of_versions"), ("auth", "0012_alter_user_first_name_max_length")]

    operations = [
        migrations.CreateModel(
            name="AccountState",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("account", models.PositiveBigIntegerField(db_index=True, editable=False)),
                ("at", models.DateTimeField(default=django.utils.timezone.now, editable=False)),
                ("stand", models.JSONField(default=dict, editable=False)),
            ],
            options={
                "verbose_name": "state of an account",
                "verbose_name_plural": "states of accounts",
                "ordering": ("pk",),
            },
        ),
        RefuseChange(TABLE, "UPDATE", ONCE),
        RefuseChange(TABLE, "DELETE", STAYS),
        RefuseReplace(TABLE, ONCE),
        RefuseTruncate(TABLE, STAYS),
        migrations.RunPython(keep_all, migrations.RunPython.noop),
    ]
