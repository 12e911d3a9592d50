"""Every version that is on file, and every change of weld data, gets its seal as it stands now.

A row that has no version, or is not as its last version has it, was changed by an earlier migration or past the
register; which of the two cannot be told any more. It gets a version that says so.
"""

from typing import Any

from django.db import migrations
from django.db.models import OuterRef, Subquery
from django.utils import timezone

from register.trail.sealing import write_seals
from register.trail.versions import unlike_rows, versioned

REASON = "as found when versions were first sealed"
AT_ONCE = 500


def seal_all(apps: Any, schema_editor: Any) -> None:
    """Make up for missing versions, then seal them all."""
    seals, heads = apps.get_model("register", "VersionSeal"), apps.get_model("register", "AuditHead")

    def held(database: str) -> Any:
        return heads.objects.select_for_update().get_or_create(pk=1)[0]

    pairs = list(versioned(apps.get_models()))
    for rows, versions in pairs:
        _name_plants(rows, versions)
        _make_up(rows, versions)
    once = [apps.get_model("joints", name) for name in ("WeldDataChange", "WeldRunFinding")]
    for table in [*(versions for _, versions in pairs), *once]:
        keys = list(table._base_manager.order_by("pk").values_list("pk", flat=True))
        if keys:
            write_seals(table, keys, seals, held)


def _name_plants(rows: Any, versions: Any) -> None:
    """Versions from before there were plants name none; they are of the plant that their row was given then."""
    if "plant_id" in {field.attname for field in versions._meta.concrete_fields}:
        plant = Subquery(rows._base_manager.filter(pk=OuterRef("id")).values("plant_id"))
        versions._base_manager.filter(plant__isnull=True).update(plant_id=plant)


def _make_up(rows: Any, versions: Any) -> None:
    names = [field.attname for field in rows._meta.concrete_fields]
    made = [
        versions(
            **{name: getattr(row, name) for name in names},
            history_date=timezone.now(), history_type="~", history_change_reason=REASON, history_user_name="",
        )
        for row in rows._base_manager.filter(pk__in=unlike_rows(rows, versions)).order_by("pk")
    ]  # fmt: skip
    versions._base_manager.bulk_create(made, batch_size=AT_ONCE)


class Migration(migrations.Migration):
    dependencies = [
        ("joints", "0011_shown_differences"),
        ("qualifications", "0007_never_emptied"),
        ("register", "0017_seals_of_versions"),
        ("wps", "0011_never_emptied"),
    ]

    operations = [migrations.RunPython(seal_all, migrations.RunPython.noop)]
