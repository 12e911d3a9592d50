"""The page of a job's weld data: taken over singly, by kind or not at all, and the file for the detailer."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from typing import Any

from django.contrib import messages
from django.core.exceptions import BadRequest
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.http.response import HttpResponseBase
from django.utils.translation import gettext, ngettext

from joints.models import Job, Joint
from joints.weld_data.accept import (
    Field,
    NotTaken,
    accept,
    accept_rule,
    disputed_fields,
    disputed_joints,
    is_disputed,
    undisputed,
)
from joints.weld_data.check import Found, by_rule, check_job
from joints.weld_data.paper import changes_pdf
from joints.weld_data.registry import Rule
from joints.weld_data.report import report_rows
from qualifications.views.papers import pdf_response
from register.base import exports
from register.base.forms import PUT_BACK
from register.base.views import DetailPage
from register.judged_words import told_within
from register.roles import Capability

SHOWN = 50
"""Lines that the page shows of one kind."""
NAMED = 12
"""Joints that a message names."""


@dataclass(frozen=True, slots=True)
class Group:
    """What one rule found, as the page shows it, each line with whether it needs a choice between two proposals.

    `proposals`: how many can be taken over together; `disputed`: how many joints are left then; `offers`: whether a
    line can be ticked at all.
    """

    rule: Rule
    shown: Sequence[tuple[Found, bool]]
    count: int
    proposals: int
    disputed: int
    offers: bool
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
        if PUT_BACK in request.POST:
            ticked = frozenset(request.POST.getlist("key"))
            return self.render_to_response(self.get_context_data(ticked=ticked, put_back=True), status=422)
        rule = request.POST.get("rule", "")
        left: Sequence[Joint] = ()
        try:
            if rule:
                fields, left = accept_rule(self.object, rule, request.user)
            else:
                fields = accept(self.object, request.POST.getlist("key"), request.user)
        except NotTaken as refusal:
            messages.error(request, str(refusal))
            return self.render_to_response(self.get_context_data(), status=409)
        said = ngettext(
            "%(fields)s field was changed and kept with its reason.",
            "%(fields)s fields were changed, each kept with its reason.",
            fields,
        )
        messages.success(request, said % {"fields": fields})
        if left:
            messages.warning(request, _left_words(left))
        return HttpResponseRedirect(request.path)

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        every = list(check_job(self.object))
        disputed = disputed_fields(every)
        groups = [_group(rule, found, disputed) for rule, found in by_rule(every)]
        proposals = sum(group.proposals + group.disputed for group in groups)
        questions = sum(group.questions for group in groups)
        return super().get_context_data(
            groups=groups,
            sentence=_sentence(proposals, questions),
            has_joints=Joint.objects.filter(assembly__job=self.object).exists(),
            taken=self.object.weld_data_changes.count(),
            may_accept=self.may(Capability.EDIT_JOBS),
            export_urls=[("CSV", "?export=csv"), ("XLSX", "?export=xlsx"), ("PDF", "?export=pdf")],
            **kwargs,
        )


def _group(rule: Rule, found: Sequence[Found], disputed: Collection[Field]) -> Group:
    questions = sum(one.finding.asks for one in found)
    return Group(
        rule=rule,
        shown=[(one, is_disputed(one, disputed)) for one in found[:SHOWN]],
        count=len(found),
        proposals=len(undisputed(found, disputed)),
        disputed=len(disputed_joints(found, disputed)),
        offers=questions < len(found),
        questions=questions,
    )


def _left_words(left: Sequence[Joint]) -> str:
    """Which joints were left, by name as far as a line holds them."""
    joints = ", ".join(f"{joint.assembly.mark}/{joint.number}" for joint in left[:NAMED])
    if len(left) > NAMED:
        joints = gettext("%(joints)s and %(more)s more") % {"joints": joints, "more": len(left) - NAMED}
    return gettext("Left as they are, since two proposals differ for them: %(joints)s. Tick one of each.") % {
        "joints": joints
    }


def _sentence(proposals: int, questions: int) -> str:
    if not proposals and not questions:
        return "Nothing is missing, contradictory or against a rule in these welds."
    parts = []
    if proposals:
        parts.append(f"{proposals} correction{'' if proposals == 1 else 's'} proposed")
    if questions:
        parts.append(f"{questions} question{'' if questions == 1 else 's'} for the detailer")
    return f"{' and '.join(parts)}."
