"""Everything of the demonstration in one transaction: it stands whole or not at all."""

from datetime import date

from django.contrib.auth.models import User
from django.db import transaction

from joints.demo.export_job import load_export_job
from joints.demo.firm import Calendar
from joints.demo.geometry import load_geometry
from joints.demo.hands import written_by
from joints.demo.heats import load_heats
from joints.demo.jobs import load_jobs
from joints.demo.people import load_people
from joints.demo.procedures import load_procedures
from joints.demo.records import load_records
from joints.demo.weld_log import load_weld_log
from joints.demo.weld_values import load_weld_values
from joints.models import Job, Workstation
from qualifications.models import Person
from register.audit import record_act
from register.demo import SIGN_INS, make_sign_ins
from register.models import AuditEntry
from register.trail.sealing import gathered
from wps.models import Procedure, TestRecord

ACT = "loaded the demonstration"
OWN = (TestRecord, Procedure, Person, Workstation, Job)


class DataOnFile(ValueError):
    """The database holds data of its own; the message says which, and what to do."""


def load(today: date) -> bool:
    """Load it, days counted from today. False where it was loaded before. Raises DataOnFile."""
    if AuditEntry.objects.filter(act=ACT).exists():
        return False
    refuse_own_data()
    with transaction.atomic(), gathered():
        write(Calendar(today), make_sign_ins())
        record_act(None, ACT, note=f"days counted from {today}")
    return True


def refuse_own_data() -> None:
    """Raises DataOnFile where anything is on file, or an account that is none of the demonstration's."""
    found = [str(model._meta.verbose_name_plural) for model in OWN if model._default_manager.exists()]
    if User.objects.exclude(username__in=[one.username for one in SIGN_INS]).exists():
        found.append("accounts")
    if found:
        raise DataOnFile(
            f"The database holds {', '.join(found)} of its own, so the invented data is not mixed in. "
            "Name an empty one with DATABASE_URL, or delete the file of the demonstration."
        )


def write(days: Calendar, users: dict[str, User]) -> None:
    """All tables, in the order in which they rest on one another."""
    with written_by(users["henrik"]):
        records = load_records(days)
    load_procedures(days, records, users)
    with written_by(users["petra"]):
        people = load_people(days, users)
        load_heats(days)
    with written_by(users["marta"]):
        load_jobs(days, users["marta"])
        load_geometry()
    load_weld_log(days, people, users["tomas"])
    load_weld_values(users["tomas"])
    load_export_job(days, users)
