"""Weld values of a job: send a log in, and read what left its window."""

from typing import Any

from django import forms
from django.db.models import Count, Max, Q
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseRedirect
from django.http.response import HttpResponseBase
from django.shortcuts import get_object_or_404
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _
from django.views.generic.edit import FormView

from codes.units import System
from codes.variables import unit_of
from joints.imports.table import Refusal
from joints.models import Job
from joints.weld_values.findings import sentence
from joints.weld_values.models import WeldRunFinding
from joints.weld_values.take_in import take_in
from register.base.forms import prepared
from register.base.pages import Page, PlainPage
from register.judged_words import told_within
from register.own_units.reader import units_of
from register.roles import Capability
from wps.models import ProcedureRevision, Status


class LogForm(forms.Form):
    """Which procedure, which file."""

    revision = forms.ModelChoiceField(
        label=_("Procedure"), queryset=ProcedureRevision.objects.none(), empty_label=_("choose one")
    )
    file = forms.FileField(
        label=_("Log"),
        help_text=_(
            "CSV in UTF-8, or packed as .csv.gz. First line: time [s], joint, run, current [A], voltage "
            "[V], speed [mm/min] or [in/min]."
        ),
        widget=forms.ClearableFileInput(attrs={"accept": ".csv,.txt,.gz"}),
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        known = ProcedureRevision.objects.filter(status__in=(Status.APPROVED, Status.SUPERSEDED))
        self.fields["revision"].queryset = known.select_related("procedure")  # type: ignore[attr-defined]


class WeldValues(Page, FormView):
    """The logs of a job that were judged, and the form for one more."""

    required_capability = Capability.VIEW
    post_capability = Capability.WRITE_WELD_LOG
    template_name = "joints/weld_values/job.html"
    form_class = LogForm

    def get_job(self) -> Job:
        """The job of the address."""
        return get_object_or_404(Job, pk=self.kwargs["pk"])

    def get_page_title(self) -> str:
        return gettext("Weld values of %(job)s") % {"job": told_within(str(self.get_job()))}

    def get_form(self, form_class: Any = None) -> Any:
        return prepared(super().get_form(form_class))

    def form_valid(self, form: LogForm) -> HttpResponse:
        upload = form.cleaned_data["file"]
        try:
            found = take_in(
                self.get_job(), form.cleaned_data["revision"], upload.name, upload.chunks(), self.request.user
            )
        except Refusal as refusal:
            form.add_error("file", str(refusal))
            return self.form_invalid(form)
        return HttpResponseRedirect(found[0].get_absolute_url())

    def form_invalid(self, form: LogForm) -> HttpResponse:
        return self.render_to_response(self.get_context_data(form=form), status=422)

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        job = self.get_job()
        files = (
            WeldRunFinding.objects.filter(job=job)
            .values("sha256", "file_name", "revision_id", "revision__letter", "revision__procedure__number")
            .annotate(
                runs=Count("pk"),
                outside=Count("pk", filter=Q(outcome="outside")),
                open=Count("pk", filter=Q(outcome="not stated")),
                at=Max("uploaded_at"),
                by=Max("uploaded_by"),
            )
            .order_by("-at")
        )
        return super().get_context_data(job=job, files=files, may_send=self.may(Capability.WRITE_WELD_LOG), **kwargs)


class WeldValuesFile(PlainPage):
    """The findings of one log."""

    required_capability = Capability.VIEW
    template_name = "joints/weld_values/file.html"

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        keys = {"job_id": kwargs["pk"], "revision_id": kwargs["revision"], "sha256": kwargs["sha"]}
        rows = WeldRunFinding.objects.filter(**keys).select_related("job", "joint__assembly", "revision__procedure")
        self.findings = list(rows.order_by("order"))
        if not self.findings:
            raise Http404(gettext("No finding of this log is on file."))
        return super().get(request, *args, **kwargs)

    def get_page_title(self) -> str:
        return gettext("Weld values: %(file_name)s") % {"file_name": self.findings[0].file_name}

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        system = units_of(self.request)
        outside = sum(one.outcome == "outside" for one in self.findings)
        open_ = sum(one.outcome == "not stated" for one in self.findings)
        return super().get_context_data(
            first=self.findings[0],
            lines=[(one, lines_of(one, system)) for one in self.findings],
            system=system,
            outside=outside,
            open=open_,
            whole="outside" if outside else "not stated" if open_ else "covered",
            **kwargs,
        )


def lines_of(finding: WeldRunFinding, system: System = System.SI) -> list[str]:
    """What there is to say of a run, what left the window longest first."""
    details = finding.details
    said = [sentence(one, unit_of(one["variable"]), system) for one in details["excursions"]]
    if not details["window"]:
        said.append("The procedure states no ranges for a run of this name, so nothing is judged.")
    said += [f"The log has no column for {name.replace('_', ' ')}." for name in details["unlogged"]]
    said += [f"{count} samples without {name.replace('_', ' ')}." for name, count in details["unread"].items()]
    if details["gaps"]:
        said.append(f"{details['gaps']} gaps without samples, {details['gap_seconds']} s together: not judged.")
    return said
