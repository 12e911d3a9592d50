"""What belongs to which plant of the firm; what is on file so far, to the first."""

import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models

import register.plants.rows


class Migration(migrations.Migration):
    dependencies = [
        ("qualifications", "0004_events_never_replaced"),
        ("register", "0012_plants"),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.RemoveConstraint(
            model_name="weldlogbatch",
            name="same_log_file_once",
        ),
        migrations.AddField(
            model_name="historicalperson",
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
        migrations.AddField(
            model_name="historicalweldlogentry",
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
        migrations.AddField(
            model_name="person",
            name="plant",
            field=register.plants.rows.PlantField(
                blank=True,
                default=1,
                editable=False,
                on_delete=django.db.models.deletion.PROTECT,
                related_name="+",
                to="register.plant",
            ),
            preserve_default=False,
        ),
        migrations.AddField(
            model_name="weldlogbatch",
            name="plant",
            field=register.plants.rows.PlantField(
                blank=True,
                default=1,
                editable=False,
                on_delete=django.db.models.deletion.PROTECT,
                related_name="+",
                to="register.plant",
            ),
            preserve_default=False,
        ),
        migrations.AddField(
            model_name="weldlogentry",
            name="plant",
            field=register.plants.rows.PlantField(
                blank=True,
                default=1,
                editable=False,
                on_delete=django.db.models.deletion.PROTECT,
                related_name="+",
                to="register.plant",
            ),
            preserve_default=False,
        ),
        migrations.AlterField(
            model_name="historicalperson",
            name="identification",
            field=models.CharField(max_length=40, verbose_name="stamp or payroll number"),
        ),
        migrations.AlterField(
            model_name="person",
            name="identification",
            field=models.CharField(max_length=40, verbose_name="stamp or payroll number"),
        ),
        migrations.AddConstraint(
            model_name="person",
            constraint=models.UniqueConstraint(fields=("plant", "identification"), name="person_identification_once"),
        ),
        migrations.AddConstraint(
            model_name="weldlogbatch",
            constraint=models.UniqueConstraint(
                condition=models.Q(("status", "confirmed")), fields=("plant", "sha256"), name="same_log_file_once"
            ),
        ),
    ]
