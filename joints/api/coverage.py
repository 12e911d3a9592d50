"""Which procedure covers a joint on a day and who may weld it, or exactly why not."""

from collections import Counter
from enum import StrEnum
from typing import Any

from django.http import HttpRequest
from django.shortcuts import get_object_or_404
from ninja import Path, Query, Router
from pydantic import Field

from joints.api.answer import answer_out
from joints.api.jobs import whole
from joints.api.schemas import AnswerOut, JobAnswers
from joints.forms import AskForm
from joints.models import Job, Joint
from joints.ready import day_of
from joints.stations import stations_for
from register.api.entries import Key, OnDay, Sent, Text
from register.api.paging import Paged, next_url
from register.api.problems import Problem
from register.api.service import answers
from register.api.tokens import Needs
from register.systems.scopes import Scope

router = Router(auth=Needs(Scope.READ_COVERAGE), tags=["Coverage"])
STATIONS = ("final_workstation", "tack_workstation")


class Findings(StrEnum):
    """How much of each verdict is wanted."""

    ALL = "all"
    MISSED = "missed"


class JointQuestion(OnDay):
    """On which day, and in how much detail."""

    findings: Findings = Field(Findings.ALL, description="missed leaves only those that keep it from being covered")


class PageOfDay(Paged, OnDay):
    """Which part of a job's joints, and on which day."""


class DescribedJoint(Sent):
    """A joint that is not on file. What is left out is not stated, and then it is never covered.

    Sizes in mm as text or figure; words as in the lists of welds (ISO or AWS terms for process and position).
    """

    weld_type: Text = ""
    joint_type: Text = ""
    product: Text = ""
    position: Text = ""
    weld_detail: Text = ""
    gouging: Text = ""
    rotated: Text = ""
    grade_1: Text = ""
    grade_2: Text = ""
    t1_mm: Text | float | None = None
    t2_mm: Text | float | None = None
    diameter_mm: Text | float | None = None
    branch_angle_deg: Text | float | None = None
    throat_mm: Text | float | None = None
    leg_mm: Text | float | None = None
    penetration_mm: Text | float | None = None
    final_process: Text = ""
    final_workstation: Text = Field("", description="name of a workstation on file")
    tack_process: Text = ""
    tack_workstation: Text = Field("", description="name of a workstation on file")
    tack_length_mm: Text | float | None = None
    tack_throat_mm: Text | float | None = None


class Described(Sent, JointQuestion):
    """The joint, the day, and the job whose requirements count (its number; none: ISO 15614-1:2017 alone)."""

    job: Text = ""
    joint: DescribedJoint


@router.get(
    "/joints/{key}/coverage",
    response=answers(AnswerOut, 200, 404),
    summary="Is this joint covered?",
    url_name="joint_coverage",
)
def joint_coverage(request: HttpRequest, key: Path[Key], asked: Query[JointQuestion]) -> dict[str, Any]:
    """A joint on file, on any day, with every finding of both phases."""
    joint = get_object_or_404(whole(), pk=key)
    return answer_out(day_of(asked.day).explain(joint, joint.assembly.job), joint.named, less(asked))


@router.get(
    "/jobs/{key}/coverage",
    response=answers(JobAnswers, 200, 404),
    summary="Are the joints of a job covered?",
    url_name="job_coverage",
)
def job_coverage(request: HttpRequest, key: Path[Key], asked: Query[PageOfDay]) -> dict[str, Any]:
    """The joints of a job in pages, each answered in a sentence."""
    job = get_object_or_404(Job, pk=key)
    rows = Joint.objects.filter(assembly__job=job, pk__gt=asked.after).order_by("pk")
    keys = list(rows.values_list("pk", flat=True)[: asked.limit + 1])
    more, keys = len(keys) > asked.limit, keys[: asked.limit]
    found = day_of(asked.day).answers(Joint.objects.filter(pk__in=keys).order_by("pk"))
    return {
        "on": asked.day,
        "counts": Counter(one.result.outcome.value for one in found),
        "items": [_line(one) for one in found],
        "next": next_url(request, keys[-1]) if more else None,
    }


@router.post(
    "/coverage", response=answers(AnswerOut, 200, 413), summary="Would this joint be covered?", url_name="coverage"
)
def coverage(request: HttpRequest, data: Described) -> dict[str, Any]:
    """A joint described here, answered as one on file would be. Nothing is saved."""
    job = _job(data.job)
    form = AskForm(_entries(data.joint, job))
    if not form.is_valid():
        errors = [{"field": f"joint.{name}", "message": text[0]} for name, text in form.errors.items()]
        raise Problem(422, "The joint cannot be read. Correct the entries named.", errors)
    stated = {name: value for name, value in form.cleaned_data.items() if name != "job"}
    return answer_out(day_of(data.day).explain(Joint(**stated), job), "The joint asked about", less(data))


def less(asked: JointQuestion) -> bool:
    """True where only what is missed is wanted."""
    return asked.findings is Findings.MISSED


def _job(number: str) -> Job:
    """Raises Problem where the number is not on file; without one, a job that asks for nothing of its own."""
    if not number:
        return Job()
    found = Job.objects.filter(number=number).first()
    if found is None:
        raise Problem(422, "No job of this number is on file.", [{"field": "job", "message": "is not on file"}])
    return found


def _entries(joint: DescribedJoint, job: Job) -> dict[str, Any]:
    """The entries as the page's own form takes them. Raises Problem for a workstation that its works do not have."""
    entries: dict[str, Any] = {name: value for name, value in joint.model_dump().items() if value not in (None, "")}
    for name in STATIONS:
        if said := entries.get(name):
            station = stations_for(job).filter(name=said).first()
            if station is None:
                wrong = [{"field": f"joint.{name}", "message": "is no workstation on file; see /workstations"}]
                raise Problem(422, f"{said} is no workstation on file.", wrong)
            entries[name] = station.pk
    return entries


def _line(one: Any) -> dict[str, Any]:
    result = one.result
    return {
        "id": one.pk,
        "assembly": one.mark,
        "number": one.number,
        "outcome": result.outcome.value,
        "sentence": result.sentence,
        "reasons": list(result.reasons),
        "procedures_final": list(result.final.labels),
        "procedures_tack": list(result.tack.labels),
    }
