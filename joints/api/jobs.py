"""Jobs, their joints as they are on file, and workstations."""

from typing import Any

from django.db.models import QuerySet
from django.http import HttpRequest
from django.shortcuts import get_object_or_404
from ninja import Path, Query, Router

from joints.api.schemas import JobOut, Jobs, JointOut, Joints, Stations
from joints.models import Job, Joint, Workstation
from joints.stations import station_of
from register.api.entries import Key, Text
from register.api.paging import Changing, page_of
from register.api.service import answers
from register.api.tokens import Needs
from register.systems.scopes import Scope

router = Router(auth=Needs(Scope.READ_JOBS), tags=["Jobs and joints"])
NAMED = {"job_id", "assembly", "final_workstation", "tack_workstation"}


class JobQuestion(Changing):
    """Which jobs."""

    q: Text = ""


class JointQuestion(Changing):
    """Which joints."""

    assembly: Text = ""
    number: Text = ""


@router.get("/jobs", response=answers(Jobs), summary="List jobs", url_name="jobs")
def jobs(request: HttpRequest, asked: Query[JobQuestion]) -> dict[str, Any]:
    """Jobs whose number, title or client holds `q`."""
    rows = asked.narrowed(Job.objects.all())
    if asked.q:
        rows = (
            rows.filter(number__icontains=asked.q)
            | rows.filter(title__icontains=asked.q)
            | rows.filter(client__icontains=asked.q)
        )
    return page_of(request, asked, rows)


@router.get("/jobs/{key}", response=answers(JobOut, 200, 404), summary="One job", url_name="job")
def job(request: HttpRequest, key: Path[Key]) -> Job:
    """What the job asks of its joints."""
    found: Job = get_object_or_404(Job, pk=key)
    return found


@router.get("/jobs/{key}/joints", response=answers(Joints, 200, 404), summary="List joints", url_name="joints")
def joints(request: HttpRequest, key: Path[Key], asked: Query[JointQuestion]) -> dict[str, Any]:
    """The joints of a job, or of one assembly of it by its mark."""
    rows = asked.narrowed(whole().filter(assembly__job=get_object_or_404(Job, pk=key)))
    if asked.assembly:
        rows = rows.filter(assembly__mark=asked.assembly)
    if asked.number:
        rows = rows.filter(number=asked.number)
    return page_of(request, asked, rows, plain)


@router.get("/joints/{key}", response=answers(JointOut, 200, 404), summary="One joint", url_name="joint")
def joint(request: HttpRequest, key: Path[Key]) -> dict[str, Any]:
    """What the joint states."""
    return plain(get_object_or_404(whole(), pk=key))


@router.get("/workstations", response=answers(Stations), summary="List workstations", url_name="stations")
def stations(request: HttpRequest, asked: Query[Changing]) -> dict[str, Any]:
    """Where welding is done, with the processes each can run."""
    return page_of(request, asked, asked.narrowed(Workstation.objects.all()))


def whole() -> QuerySet[Joint]:
    """Joints with what an answer needs to know of them."""
    return Joint.objects.select_related("assembly__job", "final_workstation", "tack_workstation")


def plain(row: Joint) -> dict[str, Any]:
    """A joint as plain data."""
    said = {name: getattr(row, name) for name in JointOut.model_fields.keys() - NAMED}
    named = {f"{phase}_workstation": str(station_of(row, phase) or "") for phase in ("final", "tack")}
    return said | named | {"job_id": row.assembly.job_id, "assembly": row.assembly.mark}
