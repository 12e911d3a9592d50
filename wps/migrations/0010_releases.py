"""Procedures released from one plant to another."""

import django.db.models.deletion
import django.utils.timezone
import simple_history.models
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("register", "0012_plants"),
        ("wps", "0009_plants"),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name="HistoricalProcedureRelease",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("history_user_name", models.CharField(blank=True, max_length=150)),
                ("created_at", models.DateTimeField(blank=True, editable=False)),
                ("changed_at", models.DateTimeField(blank=True, editable=False)),
                ("from_on", models.DateField(verbose_name="from")),
                ("until", models.DateField(blank=True, null=True, verbose_name="last day")),
                ("ground", models.CharField(max_length=300, verbose_name="why it holds there")),
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
                    "plant",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="register.plant",
                        verbose_name="released to",
                    ),
                ),
                (
                    "procedure",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="wps.procedure",
                    ),
                ),
            ],
            options={
                "verbose_name": "historical procedure release",
                "verbose_name_plural": "historical procedure releases",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="ProcedureRelease",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("created_at", models.DateTimeField(auto_now_add=True)),
                ("changed_at", models.DateTimeField(auto_now=True)),
                ("from_on", models.DateField(verbose_name="from")),
                ("until", models.DateField(blank=True, null=True, verbose_name="last day")),
                ("ground", models.CharField(max_length=300, verbose_name="why it holds there")),
                ("by_name", models.CharField(editable=False, max_length=150)),
                ("at", models.DateTimeField(default=django.utils.timezone.now, editable=False)),
                (
                    "plant",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="register.plant",
                        verbose_name="released to",
                    ),
                ),
                (
                    "procedure",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="releases", to="wps.procedure"
                    ),
                ),
            ],
            options={
                "ordering": ("plant__name", "-from_on", "-pk"),
                "indexes": [models.Index(fields=["plant", "from_on"], name="release_to_plant")],
                "constraints": [
                    models.UniqueConstraint(
                        condition=models.Q(("until__isnull", True)),
                        fields=("procedure", "plant"),
                        name="release_once",
                        violation_error_message="It is released to this plant already.",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("ground", ""), _negated=True), name="release_states_ground"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("until__isnull", True), ("until__gte", models.F("from_on")), _connector="OR"
                        ),
                        name="release_ends_after_start",
                        violation_error_message="The last day lies before the first.",
                    ),
                ],
            },
        ),
    ]
