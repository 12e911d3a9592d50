"""The steel grades that a firm adds: written once."""

import django.utils.timezone
from django.db import migrations, models

from register.triggers import RefuseChange, RefuseReplace, RefuseTruncate


class Migration(migrations.Migration):
    dependencies = [
        ("register", "0014_never_emptied"),
    ]

    operations = [
        migrations.CreateModel(
            name="FirmGrade",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("at", models.DateTimeField(db_index=True, default=django.utils.timezone.now, editable=False)),
                ("by_name", models.CharField(max_length=150)),
                ("name", models.CharField(max_length=40, verbose_name="steel grade")),
                (
                    "standard",
                    models.CharField(blank=True, max_length=80, verbose_name="product standard or data sheet"),
                ),
                ("grouping", models.CharField(default="ISO/TR 15608:2017", max_length=40)),
                ("group", models.CharField(max_length=10)),
                ("bands", models.CharField(max_length=250, verbose_name="yield strength by thickness")),
                ("source", models.CharField(max_length=250)),
                ("note", models.CharField(blank=True, max_length=250)),
                ("why", models.TextField()),
                ("withdrawn", models.BooleanField(default=False)),
            ],
            options={
                "verbose_name": "steel grade of the firm",
                "ordering": ("at", "pk"),
                "abstract": False,
            },
        ),
        RefuseChange("register_firmgrade", "UPDATE", "A steel grade of the firm is written once and never changed"),
        RefuseChange("register_firmgrade", "DELETE", "A steel grade of the firm is never deleted; withdraw it"),
        RefuseReplace("register_firmgrade", "A steel grade of the firm is written once and never replaced"),
        RefuseTruncate("register_firmgrade", "A steel grade of the firm is never deleted; withdraw it"),
    ]
