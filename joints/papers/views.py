"""The papers of jobs and assemblies as PDF, on the date asked about (?paper=a4|letter, units=si|us)."""

from collections.abc import Callable
from datetime import date
from typing import Any

from django.core.exceptions import BadRequest
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import get_object_or_404
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _
from django.views.decorators.http import require_safe
from django.views.generic.edit import FormView

from codes.units import System
from joints.models import Assembly, Job, Joint
from joints.papers import coverage, weld_map
from joints.papers.forms import PackForm
from joints.papers.pack import audit_pack
from register.base.asof import asked_date
from register.base.forms import prepared
from register.base.pages import Page
from register.papers.codes import status_address
from register.papers.printing import Draft, PaperChoice, PaperError, respond
from register.roles import Capability, requires


def _of_assembly(make: Callable[[Assembly, date, System], Draft]) -> Any:
    """The view of a paper of an assembly."""

    @requires(Capability.VIEW)
    @require_safe
    def view(request: HttpRequest, pk: int) -> HttpResponse:
        assembly = get_object_or_404(Assembly.objects.select_related("job", "geometry"), pk=pk)
        try:
            return respond(request, make(assembly, asked_date(request), PaperChoice.of(request).system))
        except PaperError as refusal:
            raise BadRequest(str(refusal)) from None

    return view


coverage_report = _of_assembly(coverage.draft)
map_of_welds = _of_assembly(weld_map.draft)


SAID = (
    "From the joint to its evidence: the coverage report of every assembly, tack and final; the procedures that cover "
    "its joints; the records they rest on; the certificates of those who may weld; the scans of records, "
    "certificates and signatures."
)


class AuditPack(Page, FormView):
    """Have the audit pack of a job made, as of the date asked about."""

    required_capability = Capability.START_WORK
    template_name = "papers/start.html"
    form_class = PackForm
    page_title = _("Audit pack")

    def get_job(self) -> Job:
        """The job of the address."""
        return get_object_or_404(Job, pk=self.kwargs["pk"])

    def get_lead(self) -> str:
        return gettext("%(job)s, as of %(on)s") % {"job": self.get_job(), "on": self.on.isoformat()}

    def get_form(self, form_class: Any = None) -> Any:
        return prepared(super().get_form(form_class))

    def form_valid(self, form: PackForm) -> HttpResponse:
        job, asked = self.get_job(), form.cleaned_data
        title = f"{job}, as of {self.on.isoformat()}"
        asked |= {"on": self.on.isoformat(), "address": status_address(self.request)}
        work = audit_pack.start(self.request.user, title, job_id=job.pk, **asked)
        return HttpResponseRedirect(work.get_absolute_url())

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        job = self.get_job()
        url = job.get_absolute_url()
        nothing_yet = None if Joint.objects.filter(assembly__job=job).exists() else job
        return super().get_context_data(
            nothing_yet=nothing_yet, said=SAID, button="Make the pack", cancel_url=url, **kwargs
        )
