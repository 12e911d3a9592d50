"""The second factor and its recovery codes."""

import django.db.models.deletion
import django.utils.timezone
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("register", "0012_plants"),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name="SecondFactor",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("secret", models.CharField(editable=False, max_length=40)),
                ("last_step", models.BigIntegerField(default=0, editable=False)),
                ("made_at", models.DateTimeField(default=django.utils.timezone.now, editable=False)),
                (
                    "user",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="second_factor",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
        ),
        migrations.CreateModel(
            name="RecoveryCode",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("sha256", models.CharField(editable=False, max_length=64)),
                ("used_at", models.DateTimeField(editable=False, null=True)),
                (
                    "factor",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="recovery_codes",
                        to="register.secondfactor",
                    ),
                ),
            ],
            options={
                "constraints": [models.UniqueConstraint(fields=("factor", "sha256"), name="recovery_code_once")],
            },
        ),
    ]
