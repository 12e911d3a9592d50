"""More decimals in runs: figures that were stated in inches, such as 5/32 in = 3.96875 mm.

SQLite remakes the table of runs, so the refusals on it are lifted before and stand again after.
"""

from django.db import migrations, models

from wps.triggers import LiftRefusalOfPart, RefuseChangeOfPart

RUNS = "wps_procedurerun"
STAYS = "The runs of an approved revision stay as they are"
EVENTS = ("INSERT", "UPDATE", "DELETE")
FIGURES = {
    "diameter_mm": (8, 5),
    "speed_min_mm_min": (9, 3),
    "speed_max_mm_min": (9, 3),
    "wire_feed_min_m_min": (7, 4),
    "wire_feed_max_m_min": (7, 4),
    "gas_flow_min_l_min": (7, 3),
    "gas_flow_max_l_min": (7, 3),
}
"""Column -> digits and decimals."""


class Migration(migrations.Migration):
    dependencies = [("wps", "0005_road")]

    operations = [
        *(LiftRefusalOfPart(RUNS, event, STAYS, "revision_id") for event in EVENTS),
        *(
            migrations.AlterField(
                "procedurerun",
                name,
                models.DecimalField(max_digits=digits, decimal_places=places, null=True, blank=True),
            )
            for name, (digits, places) in FIGURES.items()
        ),
        *(RefuseChangeOfPart(RUNS, event, STAYS, "revision_id") for event in EVENTS),
    ]
