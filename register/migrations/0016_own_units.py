"""The units that an account reads in."""

import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("register", "0015_firm_grades"),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name="OwnUnits",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "units",
                    models.CharField(
                        choices=[("si", "SI units"), ("us", "US customary units")],
                        default="si",
                        max_length=4,
                        verbose_name="units",
                    ),
                ),
                (
                    "user",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="own_units",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
        ),
    ]
