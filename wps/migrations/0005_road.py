"""What a revision rests on: records, or the code's own limits.

SQLite remakes the table of revisions, so the refusals of migration 0002 are lifted before and stand again after,
those of its runs and links too, which look into it.
"""

from django.db import migrations, models

from register.triggers import LiftRefusal, RefuseChange
from wps.triggers import FROZEN_SQL, REVISION, LiftRefusalOfPart, RefuseChangeOfPart, changed

RUNS, LINKS = "wps_procedurerun", "wps_procedurerevision_records"
KEPT_BEFORE = (
    "id", "created_at", "procedure_id", "letter", "code", "serves_tack", "serves_final", "window",
    "process_windows", "preparation", "workstation_note", "cautions", "notes", "editors", "author_id", "author_name",
    "checked_by_id", "checked_name", "checked_on", "approved_by_id", "approved_name", "approved_on",
)  # fmt: skip
KEPT = (*KEPT_BEFORE, "road")
STAYS = "An approved revision stays as it is; start a new revision to change it"
ENDS = "An approved revision is superseded or withdrawn, and then it has ended"
UNCHECKED = "Only a checked revision is approved"
ENDED = f"OLD.status IN {FROZEN_SQL} AND NOT (OLD.status = 'approved' AND NEW.status IN {FROZEN_SQL})"
TOO_EARLY = "NEW.status = 'approved' AND OLD.status NOT IN ('checked', 'approved')"
EVENTS = ("INSERT", "UPDATE", "DELETE")


def content(columns: tuple[str, ...]) -> str:
    """SQL: a frozen revision changes in one of the columns."""
    # "window" is a word of PostgreSQL's own.
    columns_changed = changed(*(f'"{column}"' for column in columns))
    return f"OLD.status IN {FROZEN_SQL} AND ({columns_changed})"


def steps(refuse: type[RefuseChange], refuse_part: type[RefuseChangeOfPart], columns: tuple[str, ...]) -> list[object]:
    """All refusals of migration 0002, lifted or made."""
    runs, links = (
        "The runs of an approved revision stay as they are",
        "The records of an approved revision stay as they are",
    )
    return [
        refuse(REVISION, "UPDATE", STAYS, content(columns), "content"),
        refuse(REVISION, "UPDATE", ENDS, ENDED, "status"),
        refuse(REVISION, "UPDATE", UNCHECKED, TOO_EARLY, "unchecked"),
        refuse(REVISION, "DELETE", STAYS, f"OLD.status IN {FROZEN_SQL}"),
        *(refuse_part(RUNS, event, runs, "revision_id") for event in EVENTS),
        *(refuse_part(LINKS, event, links) for event in EVENTS),
    ]


def road() -> models.CharField:
    """The new column."""
    choices = [("tested", "qualified by test records"), ("prequalified", "prequalified by the code, without a test")]
    return models.CharField(choices=choices, default="tested", max_length=12, verbose_name="rests on")


class Migration(migrations.Migration):
    dependencies = [("wps", "0004_issued_stays")]

    operations = [
        *steps(LiftRefusal, LiftRefusalOfPart, KEPT_BEFORE),
        migrations.AddField("historicalprocedurerevision", "road", road()),
        migrations.AddField("procedurerevision", "road", road()),
        migrations.AddConstraint(
            "procedurerevision",
            models.CheckConstraint(name="revision_road_known", condition=models.Q(road__in=["tested", "prequalified"])),
        ),
        *steps(RefuseChange, RefuseChangeOfPart, KEPT),
    ]
