"""What belongs to which plant of the firm; what is on file so far, to the first."""

import django.db.models.deletion
from django.db import migrations, models

import register.plants.rows


class Migration(migrations.Migration):
    dependencies = [
        ("joints", "0008_sheet_language"),
        ("register", "0012_plants"),
    ]

    operations = [
        migrations.AlterModelOptions(
            name="job",
            options={"ordering": ("number", "pk")},
        ),
        migrations.AlterModelOptions(
            name="workstation",
            options={"ordering": ("name", "pk")},
        ),
        migrations.AddField(
            model_name="historicaljob",
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
            model_name="historicalworkstation",
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
            model_name="job",
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
            model_name="workstation",
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
            model_name="job",
            name="number",
            field=models.CharField(db_index=True, max_length=40, verbose_name="job number"),
        ),
        migrations.AlterField(
            model_name="workstation",
            name="name",
            field=models.CharField(db_index=True, max_length=80),
        ),
        migrations.AddConstraint(
            model_name="job",
            constraint=models.UniqueConstraint(fields=("plant", "number"), name="job_number_once"),
        ),
        migrations.AddConstraint(
            model_name="workstation",
            constraint=models.UniqueConstraint(fields=("plant", "name"), name="workstation_name_once"),
        ),
        migrations.AlterModelOptions(
            name="listsender",
            options={"ordering": ("name", "pk")},
        ),
        migrations.AddField(
            model_name="historicallistsender",
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
            model_name="listsender",
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
            model_name="historicallistsender",
            name="name",
            field=models.CharField(max_length=120, verbose_name="firm"),
        ),
        migrations.AlterField(
            model_name="listsender",
            name="name",
            field=models.CharField(max_length=120, verbose_name="firm"),
        ),
        migrations.AddConstraint(
            model_name="listsender",
            constraint=models.UniqueConstraint(fields=("plant", "name"), name="list_sender_once"),
        ),
    ]
