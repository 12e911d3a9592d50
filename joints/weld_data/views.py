"""The page of a job's weld data: taken over singly, by kind or not at all, and the file for the detailer."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from django.contrib import messages
from django.core.exceptions import BadRequest
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.http.response import HttpResponseBase
from django.utils.translation import gettext

from joints.models import Job
from joints.weld_data.accept import NotTaken, accept, accept_rule, first_of_each
from joints.weld_data.check import Found, by_rule, check_job
from joints.weld_data.paper import changes_pdf
from joints.weld_data.registry import Rule
from joints.weld_data.report import report_rows
from qualifications.views.papers import pdf_response
from register.base import exports
from register.base.views import DetailPage
from register.judged_words import told_within
from register.roles import Capability

SHOWN = 50
"""Lines that the page shows of one kind."""


@dataclass(frozen=True, slots=True)
class Group:
    """What one rule found, as the page shows it; `proposals`: how many can be taken over together."""

    rule: Rule
    shown: Sequence[Found]
    count: int
    proposals: int
    questions: int

    @property
    def more(self) -> int:
        """How many are not shown."""
        return self.count - len(self.shown)


class WeldData(DetailPage):
    """What is missing, contradictory or against a rule in the welds of a job."""

    required_capability = Capability.VIEW
    post_capability = Capability.EDIT_JOBS
    template_name = "joints/weld_data.html"
    queryset: QuerySet[Job] = Job.objects.all()

    def get_page_title(self) -> str:
        return gettext("Weld data of %(object)s") % {"object": told_within(str(self.object))}

    def get_lead(self) -> str:
        return self.object.title

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        wanted = request.GET.get("export", "")
        if not wanted:
            return super().get(request, *args, **kwargs)
        if wanted not in ("csv", "xlsx", "pdf"):
            raise BadRequest(
                gettext("A list can be taken away as csv, xlsx or pdf, not as “%(wanted)s”.") % {"wanted": wanted[:20]}
            )
        job = self.get_object()
        if wanted == "pdf":
            return pdf_response(changes_pdf(job), f"changes-for-the-detailer-{job.pk}")
        make = exports.csv_response if wanted == "csv" else exports.xlsx_response
        try:
            return make(report_rows(job), f"changes-for-the-detailer-{job.pk}-{self.on.isoformat()}")
        except ValueError as refusal:
            raise BadRequest(gettext("This list is too long: %(refusal)s.") % {"refusal": refusal}) from refusal

    def post(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        """Take over what is ticked, or all of one kind."""
        self.object = self.get_object()
        rule = request.POST.get("rule", "")
        try:
            if rule:
                fields = accept_rule(self.object, rule, request.user)
            else:
                fields = accept(self.object, request.POST.getlist("key"), request.user)
        except NotTaken as refusal:
            messages.error(request, str(refusal))
            return self.render_to_response(self.get_context_data(), status=409)
        said = "field was" if fields == 1 else "fields were"
        messages.success(
            request,
            gettext("%(fields)s %(said)s changed, each kept with its reason.") % {"fields": fields, "said": said},
        )
        return HttpResponseRedirect(request.path)

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        groups = [_group(rule, found) for rule, found in by_rule(check_job(self.object))]
        proposals = sum(group.proposals for group in groups)
        questions = sum(group.questions for group in groups)
        return super().get_context_data(
            groups=groups,
            proposals=proposals,
            sentence=_sentence(proposals, questions),
            taken=self.object.weld_data_changes.count(),
            may_accept=self.may(Capability.EDIT_JOBS),
            export_urls=[("CSV", "?export=csv"), ("XLSX", "?export=xlsx"), ("PDF", "?export=pdf")],
            **kwargs,
        )


def _group(rule: Rule, found: Sequence[Found]) -> Group:
    questions = sum(one.finding.asks for one in found)
    return Group(rule, found[:SHOWN], len(found), len(first_of_each(found)), questions)


def _sentence(proposals: int, questions: int) -> str:
    if not proposals and not questions:
        return "Nothing is missing, contradictory or against a rule in these welds."
    parts = []
    if proposals:
        parts.append(f"{proposals} correction{'' if proposals == 1 else 's'} proposed")
    if questions:
        parts.append(f"{questions} question{'' if questions == 1 else 's'} for the detailer")
    return f"{' and '.join(parts)}."
