"""A log file from a cell's controller in two steps: sent in and shown, then taken in on somebody's word."""

from typing import Any

from django import forms
from django.contrib import messages
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.http.response import HttpResponseBase
from django.urls import reverse
from django.utils import timezone
from django.utils.text import format_lazy
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _
from django.views.decorators.http import require_safe
from django.views.generic.edit import FormView

from codes.terms import both_names
from qualifications.models import WeldLogBatch
from qualifications.weld_log.columns import LABELS
from qualifications.weld_log.files import confirm, take_in, why_not_taken
from register.base import exports
from register.base.forms import prepared
from register.base.pages import Page
from register.base.views import Act, ConfirmPage, DetailPage
from register.lists.table import MAX_BYTES, Refusal
from register.roles import Capability, requires

SHOWN = 50
COLUMNS = ("moment", "person", "process", "mechanisation", "workstation", "wps", "joint", "current_a", "voltage_v",
           "travel_mm_min")  # fmt: skip


class LogFileForm(forms.Form):
    """The file."""

    file = forms.FileField(
        label=_("Log file (CSV)"),
        help_text=format_lazy(_("From the controller of the cell, at most {size} MB."), size=MAX_BYTES // 1024**2),
    )


class LogFileUpload(Page, FormView):
    """The form on which a log file is sent in."""

    required_capability = Capability.WRITE_WELD_LOG
    template_name = "qualifications/log_upload.html"
    form_class = LogFileForm
    page_title = _("Take in a log file")

    def get_form(self, form_class: Any = None) -> Any:
        return prepared(super().get_form(form_class))

    def form_valid(self, form: LogFileForm) -> HttpResponse:
        upload = form.cleaned_data["file"]
        try:
            # One byte more than is allowed shows that there is more.
            batch = take_in(upload.name, upload.read(MAX_BYTES + 1), self.request.user, timezone.now())
        except Refusal as refusal:
            form.add_error("file", str(refusal))
            return self.form_invalid(form)
        return HttpResponseRedirect(batch.get_absolute_url())

    def form_invalid(self, form: LogFileForm) -> HttpResponse:
        return self.render_to_response(self.get_context_data(form=form), status=422)

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        return super().get_context_data(cancel_url=reverse("qualifications:weld_log"), **kwargs)


class LogFilePreview(DetailPage):
    """What was read of a log file, and what is wrong with it. Nothing of it counts yet."""

    required_capability = Capability.VIEW
    template_name = "qualifications/log_preview.html"
    queryset = WeldLogBatch.objects.all()

    def get_facts(self) -> list[tuple[str, ...]]:
        batch = self.object
        at = timezone.localtime
        taken = (
            f"{batch.confirmed_by}, {at(batch.confirmed_at):%Y-%m-%d %H:%M}"
            if batch.confirmed_at
            else gettext("not yet")
        )
        return [
            (gettext("Sent in by"), f"{batch.uploaded_by}, {at(batch.uploaded_at):%Y-%m-%d %H:%M}"),
            (gettext("Taken in by"), taken),
            (gettext("Rows"), f"{len(batch.rows):,}"),
        ]

    def get_acts(self) -> list[Act]:
        batch = self.object
        if batch.status == WeldLogBatch.CONFIRMED:
            sign = reverse("qualifications:confirm_many") + f"?file={batch.pk}"
            may_sign = self.may(Capability.CONFIRM_OWN_PEOPLE)
            return [Act(gettext("Confirm what it speaks for"), sign, main=True)] if may_sign else []
        if not self.may(Capability.WRITE_WELD_LOG):
            return []
        if any(not p["is_note"] for p in batch.problems):
            return [Act(gettext("Send it again"), reverse("qualifications:weld_log_upload"), main=True)]
        return [Act(gettext("Take it in …"), reverse("qualifications:weld_log_take_in", args=[batch.pk]), main=True)]

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        batch = self.object
        problems = batch.problems
        heads = [gettext("Row"), *(gettext(LABELS[name]) for name in COLUMNS)]
        return super().get_context_data(
            errors=[p for p in problems if not p["is_note"]],
            notes=[p["message"] for p in problems if p["is_note"]],
            heads=heads,
            rows=[
                list(zip(heads, [row["row"], *_shown(row["values"], row.get("unread", {}))], strict=True))
                for row in batch.rows[:SHOWN]
            ],
            more=max(0, len(batch.rows) - SHOWN),
            taken=batch.entries.count() if batch.status == WeldLogBatch.CONFIRMED else None,
            **kwargs,
        )


def _shown(values: dict[str, str], unread: dict[str, str]) -> list[str]:
    moment = values.get("at", values.get("on", ""))[:16].replace("T", " ")
    terms = {name: both_names(name, values[name]) for name in ("process", "mechanisation") if name in values}
    said = values | {"moment": moment, "person": values.get("name", "")} | terms
    return [said.get(name) or _not_read(unread.get(name, "")) for name in COLUMNS]


def _not_read(cell: str) -> str:
    return gettext("“%(cell)s”, not read") % {"cell": cell} if cell else ""


class LogFileConfirm(ConfirmPage):
    """The file is written whole, or not at all."""

    required_capability = Capability.WRITE_WELD_LOG
    queryset = WeldLogBatch.objects.all()
    act_label = _("Take it in")

    def get_page_title(self) -> str:
        return gettext("Take in %(file_name)s") % {"file_name": self.object.file_name}

    def get_sentence(self) -> str:
        return gettext(
            "%(rows)s welds go into the log, all that are not on file yet or none. They are evidence; no "
            "confirmation is signed by it."
        ) % {"rows": f"{len(self.object.rows):,}"}

    def why_not(self) -> str:
        return why_not_taken(self.object)

    def act(self) -> str:
        number = confirm(self.object.pk, self.request.user)
        messages.success(self.request, gettext("%(number)s welds are in the log.") % {"number": f"{number:,}"})
        return self.object.get_absolute_url()


@requires(Capability.VIEW)
@require_safe
def template(request: HttpRequest) -> HttpResponseBase:
    """An empty file to set a controller's export up by."""
    example = ("2026-11-24 14:03:22", "W07", "135", "automatic", "Cell R1", "WPS 001", "B12/3", "210", "26.5", "400")
    return exports.csv_response(([LABELS[name] for name in COLUMNS], example), "weld-log")
