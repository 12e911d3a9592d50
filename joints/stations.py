"""Which workstations a weld can be made at, and which of those on file counts: one of the works of its job."""

from django.db.models import QuerySet

from joints.models import Job, Joint, Workstation
from register.plants.reach import current


def stations_for(job: Job | None) -> QuerySet[Workstation]:
    """The workstations of the job's own plant; without a job on file all that are in sight."""
    rows = Workstation.objects.all()
    return rows if job is None or job.pk is None else rows.filter(plant=job.plant_id)


def at_its_works(station: Workstation | None, job: Job) -> Workstation | None:
    """The workstation as it counts: one of other works than the job's, which no form takes, is not stated."""
    return station if station is None or job.pk is None or station.plant_id == job.plant_id else None


def station_of(joint: Joint, phase: str) -> Workstation | None:
    """Where a phase ("final", "tack") of a joint on file is welded, as it counts."""
    station = getattr(joint, f"{phase}_workstation")
    return station and at_its_works(station, joint.assembly.job)


def station_label(station: Workstation) -> str:
    """The name, with that of its plant where several are in sight: two works may each have a "Bay 1"."""
    return f"{station}, {station.plant}" if current().several else str(station)
