"""The list of jobs, one job with its coverage by assembly, why joints are not covered, and the form."""

from collections.abc import Iterable, Iterator, Sequence
from typing import Any, ClassVar

from django.core.exceptions import BadRequest
from django.db.models import Count, QuerySet
from django.http import HttpRequest
from django.http.response import HttpResponseBase
from django.urls import reverse
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from codes.terms import term
from codes.units import System, at_most
from joints.day import Answered, Day
from joints.filters import WELDED, JobFilter
from joints.forms import JOB_PLAN, JobForm
from joints.kept.coverage import AT_ONCE, answer_jobs, joints_of, named
from joints.kept.matrix import from_plain
from joints.kept.pages import KeptPage, OfJobs, others_of
from joints.kept.standing import Standing
from joints.matrix import Matrix, matrix, plain_reason, reason_words
from joints.models import Assembly, Job
from joints.ready import day_of
from joints.tables import JobTable
from joints.trail import trail
from register.base import exports
from register.base.views import Act, DetailPage, FormPage, ListPage
from register.judged_words import told, told_within
from register.own_units.reader import units_of
from register.roles import Capability

HEADS = ("Assembly", "Joint", "Answer", "In words", "Why not", "Procedures", "Tack procedures", "People", "Tack people")


class JobList(ListPage):
    """All jobs."""

    required_capability = Capability.VIEW
    page_title = _("Jobs")
    table_class = JobTable
    filterset_class = JobFilter
    create_label = _("Start a job")
    empty: ClassVar[dict[str, str]] = {
        "title": _("No job is on file yet."),
        "teach": _(
            "A job says to which code its welds are made and when. Start one, then take in the list of "
            "its welds: each is answered by procedure and by person."
        ),
    }

    def get_queryset(self) -> QuerySet[Job]:
        return Job.objects.annotate(joint_count=Count("assemblies__joints", filter=WELDED))

    def get_create_url(self) -> str:
        return reverse("joints:job_new") if self.may(Capability.EDIT_JOBS) else ""


def answers_of(job: Job, offers: Day) -> list[Answered]:
    """The answers to all joints of a job, in the order of its assemblies."""
    return offers.answers(joints_of([job.pk]))


class JobPage(KeptPage):
    """One job on the date asked about: how many of its joints are covered, assembly by assembly."""

    template_name = "joints/job.html"
    kind, at_once, starts_itself = answer_jobs, AT_ONCE, True

    def chosen(self) -> list[Job]:
        return []

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        self.object = self.get_object()
        self.standing = self.standing_of(())
        return self.only_how_far(self.standing) or self.render_to_response(self.get_context_data())

    def get_page_title(self) -> str:
        return f"{told(str(self.object))}: {self.object.title}"

    def get_lead(self) -> str:
        return self.object.client

    def get_facts(self) -> list[tuple[str, ...]]:
        job = self.object
        asked = [
            word
            for word, wanted in (
                (_toughness(job, units_of(self.request)), job.impact_required),
                (gettext("hardness limit"), job.hardness_required),
                (gettext("heat treatment after welding"), job.pwht_required),
            )
            if wanted
        ]
        level = gettext(", level %(level)s") % {"level": job.level} if job.level else ""
        return [
            (gettext("Application standard"), job.application_standard or gettext("none agreed")),
            (gettext("Execution class"), job.execution_class),
            (gettext("Procedures qualified to"), f"{job.procedure_code}{level}" if job.procedure_code else ""),
            (gettext("Required of the welds"), ", ".join(asked) or gettext("nothing further")),
            (gettext("Responsible coordinator"), _level(job)),
            (gettext("Welded"), _span(job)),
        ]

    def get_acts(self) -> list[Act]:
        job = self.object
        acts = [
            Act(gettext("Why not covered"), reverse("joints:job_coverage", args=[job.pk])),
            Act(gettext("Weld data"), reverse("joints:weld_data", args=[job.pk])),
            *(
                [Act(gettext("Audit pack"), reverse("joints:audit_pack", args=[job.pk]))]
                if self.may(Capability.START_WORK)
                else []
            ),
        ]
        if self.may(Capability.IMPORT_JOINTS):
            acts.insert(0, Act(gettext("Take in a list"), reverse("joints:import_upload", args=[job.pk]), main=True))
        if self.may(Capability.EDIT_JOBS):
            acts.append(Act(gettext("Add an assembly"), reverse("joints:assembly_new", args=[job.pk])))
            acts.append(Act(gettext("Change"), reverse("joints:job_edit", args=[job.pk])))
        return acts

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        standing = self.standing
        found = matrix(answers_of(self.object, day_of(self.on))) if standing is None else kept_matrix(standing)
        return super().get_context_data(
            matrix=found,
            system=units_of(self.request),
            bare=bare_of(self.object, found),
            rooms=standing is not None,
            rooms_url=reverse("joints:job_matrix", args=[self.object.pk]) if standing is None else "",
            **({} if standing is None else self.kept_context(standing)),
            imports=self.object.imports.defer("rows", "problems", "comparison")[:10],
            may_import=self.may(Capability.IMPORT_JOINTS),
            history=trail(self.object),
            **kwargs,
        )


def kept_matrix(standing: Standing) -> Matrix | None:
    """The coverage on file, or None."""
    return from_plain(standing.found) if standing.kept is not None else None


def bare_of(job: Job, found: Matrix | None) -> Iterable[Assembly]:
    """The assemblies of a job that have no joints."""
    counted = {one.pk for one in found.assemblies} if found is not None else set()
    return job.assemblies.exclude(pk__in=counted) if found is not None and len(counted) < 500 else ()


class JobMatrix(OfJobs, DetailPage):
    """The assemblies of a job by answer, with the least margin of each; the pages of the job fetch it."""

    required_capability = Capability.VIEW
    template_name = "joints/_matrix.html"
    queryset = Job.objects.all()

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        chosen = self.chosen()
        keys = [self.object.pk, *(job.pk for job in chosen)]
        found = matrix(named(day_of(self.on).answers(joints_of(keys)), keys), rooms=True)
        bare = () if chosen else bare_of(self.object, found)
        return super().get_context_data(matrix=found, bare=bare, rooms=True, system=units_of(self.request), **kwargs)


class JobCoverage(KeptPage):
    """Why joints of a job, or of several, are not covered, the commonest reason first; every answer as a file."""

    template_name = "joints/job_coverage.html"
    kind, at_once, starts_itself = answer_jobs, AT_ONCE, True

    def get_page_title(self) -> str:
        return gettext("Coverage of %(object)s") % {"object": told_within(str(self.object))}

    def get_lead(self) -> str:
        return self.object.title

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        self.object = self.get_object()
        wanted = request.GET.get("export", "")
        if wanted not in ("", "csv", "xlsx"):
            raise BadRequest(
                gettext("A list can be taken away as csv or xlsx, not as “%(wanted)s”.") % {"wanted": wanted[:20]}
            )
        chosen = self.chosen()
        keys = [self.object.pk, *(job.pk for job in chosen)]
        if wanted:
            make = exports.csv_response if wanted == "csv" else exports.xlsx_response
            try:
                return make(answer_rows(self.answers(keys)), f"coverage-{self.object.pk}-{self.on.isoformat()}")
            except ValueError as refusal:
                raise BadRequest(gettext("This list is too long: %(refusal)s.") % {"refusal": refusal}) from refusal
        standing = self.standing_of(chosen)
        if part := self.only_how_far(standing):
            return part
        found = matrix(self.answers(keys)) if standing is None else kept_matrix(standing)
        kept = {} if standing is None else self.kept_context(standing)
        return self.render_to_response(self.get_context_data(matrix=found, chosen=chosen, **kept))

    def answers(self, keys: Sequence[int]) -> Sequence[Answered]:
        """The answers to all joints of the jobs asked about, now."""
        return named(day_of(self.on).answers(joints_of(keys)), keys)

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        query = self.address(on=self.on.isoformat())
        return super().get_context_data(
            system=units_of(self.request),
            rooms="standing" in kwargs,
            rooms_url="" if "standing" in kwargs else f"{reverse('joints:job_matrix', args=[self.object.pk])}{query}",
            others=others_of(self.object, kwargs["chosen"], self.on),
            export_urls=[(name.upper(), self.address(export=name)) for name in ("csv", "xlsx")],
            **kwargs,
        )


def answer_rows(answers: Sequence[Answered]) -> Iterator[tuple[Any, ...]]:
    """The heads, then a row for each joint, as plain data."""
    yield HEADS
    for one in answers:
        result = one.result
        why = "; ".join(dict.fromkeys(map(_reason, result.reasons)))
        yield (
            one.mark,
            one.number,
            result.outcome.value,
            result.sentence,
            why,
            ", ".join(result.final.labels),
            ", ".join(result.tack.labels),
            len(result.final.person_ids),
            len(result.tack.person_ids),
        )


class JobNew(FormPage):
    """The form for a new job."""

    required_capability = Capability.EDIT_JOBS
    model = Job
    form_class = JobForm
    plan = JOB_PLAN
    page_title = _("A new job")
    saved_message = _("{0} is on file.")

    def get_cancel_url(self) -> str:
        return self.object.get_absolute_url() if self.object else reverse("joints:job_list")


class JobEdit(JobNew):
    """The form for a job on file."""

    saved_message = _("Saved: {0}.")

    def get_page_title(self) -> str:
        return gettext("Change %(object)s") % {"object": told_within(str(self.object))}


def _reason(key: str) -> str:
    whom, _, what = plain_reason(key).partition(":")
    return f"{whom}: {reason_words(what)}"


def _level(job: Job) -> str:
    return (
        f"{term('coordinator_level', job.coordinator_level).words} (level {job.coordinator_level})"
        if job.coordinator_level
        else ""
    )


def _toughness(job: Job, system: System) -> str:
    if job.impact_temperature_c is None:
        return gettext("impact toughness")
    # Rounded downwards, so that nobody is told a warmer test than the job asks for.
    return gettext("impact toughness at %(cold)s") % {"cold": at_most(job.impact_temperature_c, "°C", system)}


def _span(job: Job) -> str:
    start, end = (on.isoformat() if on else "" for on in (job.starts_on, job.ends_on))
    if start and end:
        return gettext("from %(start)s to %(end)s") % {"start": start, "end": end}
    if start:
        return gettext("from %(start)s") % {"start": start}
    return gettext("to %(end)s") % {"end": end} if end else ""
