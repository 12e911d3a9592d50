"""What belongs to which plant of the firm; what is on file so far, to the first."""

import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models

import register.plants.rows
from register.apps import FIRST_PLANT


def first_plant(apps, schema_editor):
    """The plant that everything on file so far belongs to."""
    apps.get_model("register", "Plant").objects.using(schema_editor.connection.alias).create(pk=None, name=FIRST_PLANT)


class Migration(migrations.Migration):
    dependencies = [
        ("register", "0011_printed_paper"),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name="Plant",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("name", models.CharField(max_length=80, unique=True)),
                ("place", models.CharField(blank=True, max_length=120, verbose_name="town or address")),
                ("trail_from", models.PositiveBigIntegerField(default=0, editable=False)),
            ],
            options={
                "ordering": ("name", "pk"),
                "constraints": [
                    models.CheckConstraint(condition=models.Q(("name", ""), _negated=True), name="plant_has_name")
                ],
            },
        ),
        migrations.AddField(
            model_name="auditentry",
            name="plant",
            field=register.plants.rows.PlantField(
                blank=True,
                db_constraint=False,
                editable=False,
                null=True,
                on_delete=django.db.models.deletion.DO_NOTHING,
                related_name="+",
                to="register.plant",
            ),
        ),
        migrations.CreateModel(
            name="PlantRole",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "plant",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="register.plant"
                    ),
                ),
                ("role", models.CharField(help_text="by name (register.roles.Role)", max_length=40)),
                (
                    "user",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="plant_roles",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "constraints": [models.UniqueConstraint(fields=("user", "plant", "role"), name="plant_role_once")],
            },
        ),
        migrations.AddField(
            model_name="systemtoken",
            name="plant",
            field=register.plants.rows.PlantField(
                blank=True,
                editable=False,
                null=True,
                on_delete=django.db.models.deletion.PROTECT,
                related_name="+",
                to="register.plant",
                verbose_name="for the plant",
            ),
        ),
        migrations.AddField(
            model_name="work",
            name="plant",
            field=register.plants.rows.PlantField(
                blank=True,
                editable=False,
                null=True,
                on_delete=django.db.models.deletion.PROTECT,
                related_name="+",
                to="register.plant",
            ),
        ),
        migrations.RunPython(first_plant, migrations.RunPython.noop),
    ]
