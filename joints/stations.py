"""Which workstations a weld can be made at: those of the works that its job is welded at."""

from django.db.models import QuerySet

from joints.models import Job, Workstation
from register.plants.reach import current


def stations_for(job: Job | None) -> QuerySet[Workstation]:
    """The workstations of the job's own plant; without a job on file all that are in sight."""
    rows = Workstation.objects.all()
    return rows if job is None or job.pk is None else rows.filter(plant=job.plant_id)


def station_label(station: Workstation) -> str:
    """The name, with that of its plant where several are in sight: two works may each have a "Bay 1"."""
    return f"{station}, {station.plant}" if current().several else str(station)
