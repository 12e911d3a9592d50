"""People lent from one plant to another."""

import django.db.models.deletion
import django.utils.timezone
import simple_history.models
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("qualifications", "0005_plants"),
        ("register", "0012_plants"),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name="HistoricalLoan",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("history_user_name", models.CharField(blank=True, max_length=150)),
                ("created_at", models.DateTimeField(blank=True, editable=False)),
                ("changed_at", models.DateTimeField(blank=True, editable=False)),
                ("from_on", models.DateField(verbose_name="first day there")),
                ("until", models.DateField(blank=True, null=True, verbose_name="last day there")),
                ("reason", models.CharField(blank=True, max_length=250, verbose_name="what for")),
                ("by_name", models.CharField(editable=False, max_length=150)),
                ("at", models.DateTimeField(default=django.utils.timezone.now, editable=False)),
                ("history_id", models.AutoField(primary_key=True, serialize=False)),
                ("history_date", models.DateTimeField(db_index=True)),
                ("history_change_reason", models.TextField(null=True)),
                (
                    "history_type",
                    models.CharField(choices=[("+", "Created"), ("~", "Changed"), ("-", "Deleted")], max_length=1),
                ),
                (
                    "history_user",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "person",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="qualifications.person",
                    ),
                ),
                (
                    "plant",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="register.plant",
                        verbose_name="lent to",
                    ),
                ),
            ],
            options={
                "verbose_name": "historical loan",
                "verbose_name_plural": "historical loans",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="Loan",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("created_at", models.DateTimeField(auto_now_add=True)),
                ("changed_at", models.DateTimeField(auto_now=True)),
                ("from_on", models.DateField(verbose_name="first day there")),
                ("until", models.DateField(blank=True, null=True, verbose_name="last day there")),
                ("reason", models.CharField(blank=True, max_length=250, verbose_name="what for")),
                ("by_name", models.CharField(editable=False, max_length=150)),
                ("at", models.DateTimeField(default=django.utils.timezone.now, editable=False)),
                (
                    "person",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="loans", to="qualifications.person"
                    ),
                ),
                (
                    "plant",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="register.plant",
                        verbose_name="lent to",
                    ),
                ),
            ],
            options={
                "ordering": ("-from_on", "-pk"),
                "indexes": [models.Index(fields=["plant", "from_on"], name="loan_to_plant")],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(
                            ("until__isnull", True), ("until__gte", models.F("from_on")), _connector="OR"
                        ),
                        name="loan_ends_after_start",
                        violation_error_message="The last day lies before the first.",
                    )
                ],
            },
        ),
    ]
