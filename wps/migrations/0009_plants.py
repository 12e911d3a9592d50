"""What belongs to which plant of the firm; what is on file so far, to the first."""

import django.db.models.deletion
from django.db import migrations, models

import register.plants.rows


class Migration(migrations.Migration):
    dependencies = [
        ("register", "0012_plants"),
        ("wps", "0008_never_replaced"),
    ]

    operations = [
        migrations.RemoveConstraint(
            model_name="materialcertificate",
            name="material_certificate_once",
        ),
        migrations.AddField(
            model_name="historicalmaterialcertificate",
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
            model_name="historicalprocedure",
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
            model_name="historicaltestrecord",
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
            model_name="materialcertificate",
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
            model_name="procedure",
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
            model_name="testrecord",
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
            model_name="historicalprocedure",
            name="number",
            field=models.CharField(help_text="as on the sheet, for example WPS 014", max_length=40),
        ),
        migrations.AlterField(
            model_name="historicaltestrecord",
            name="number",
            field=models.CharField(max_length=60),
        ),
        migrations.AlterField(
            model_name="procedure",
            name="number",
            field=models.CharField(help_text="as on the sheet, for example WPS 014", max_length=40),
        ),
        migrations.AlterField(
            model_name="testrecord",
            name="number",
            field=models.CharField(max_length=60),
        ),
        migrations.AddIndex(
            model_name="procedure",
            index=models.Index(fields=["number", "id"], name="procedure_number"),
        ),
        migrations.AddIndex(
            model_name="testrecord",
            index=models.Index(fields=["number", "id"], name="record_number"),
        ),
        migrations.AddConstraint(
            model_name="materialcertificate",
            constraint=models.UniqueConstraint(
                fields=("plant", "heat_number", "document_reference", "grade"),
                name="material_certificate_once",
                violation_error_message="This heat is on file already with this certificate and grade.",
            ),
        ),
        migrations.AddConstraint(
            model_name="procedure",
            constraint=models.UniqueConstraint(fields=("plant", "number"), name="procedure_number_once"),
        ),
        migrations.AddConstraint(
            model_name="testrecord",
            constraint=models.UniqueConstraint(fields=("plant", "number"), name="record_number_once"),
        ),
    ]
