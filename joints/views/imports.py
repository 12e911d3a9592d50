"""A list of welds in two steps: sent in and shown, then taken in on somebody's word."""

from typing import Any

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import get_object_or_404
from django.urls import reverse
from django.views.generic.edit import FormView

from joints.forms import UPLOAD_PLAN, UploadForm
from joints.imports.batch import take_in
from joints.imports.files import check_size
from joints.imports.table import Refusal
from joints.imports.template import template_csv
from joints.imports.work import AT_ONCE, take_in_list
from joints.matrix import lower_first
from joints.models import ImportBatch, Job
from register.background.pages import address_after
from register.base.forms import prepared, sections
from register.base.pages import Page
from register.base.views import Act, ConfirmPage, DetailPage
from register.roles import Capability, requires

SHOWN = 50
"""Rows of a list that the preview shows."""
COLUMNS = (
    ("assembly", "Assembly"),
    ("number", "Joint"),
    ("weld_type", "Weld type"),
    ("grade_1", "Steel 1"),
    ("t1_mm", "t1"),
    ("grade_2", "Steel 2"),
    ("t2_mm", "t2"),
    ("throat_mm", "a"),
    ("leg_mm", "z"),
    ("position", "Position"),
    ("final_process", "Process"),
    ("final_workstation", "Workstation"),
    ("tack_process", "Tack process"),
)


class ImportUpload(Page, FormView):
    """The form on which a list is sent in."""

    required_capability = Capability.IMPORT_JOINTS
    template_name = "joints/import_upload.html"
    form_class = UploadForm
    page_title = "Take in a list of welds"

    def dispatch(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        self.job: Job | None = None
        return super().dispatch(request, *args, **kwargs)

    def get_job(self) -> Job:
        """The job the list is for."""
        if self.job is None:
            self.job = get_object_or_404(Job, pk=self.kwargs["pk"])
        return self.job

    def get_lead(self) -> str:
        return f"For {lower_first(str(self.get_job()))}: {self.get_job().title}"

    def get_form(self, form_class: Any = None) -> Any:
        return prepared(super().get_form(form_class))

    def form_valid(self, form: UploadForm) -> HttpResponse:
        upload = form.cleaned_data["file"]
        try:
            check_size(upload.size)
            batch = take_in(self.get_job(), upload.name, upload.read(), form.defaults(), self.request.user)
        except Refusal as refusal:
            form.add_error("file", str(refusal))
            return self.form_invalid(form)
        return HttpResponseRedirect(batch.get_absolute_url())

    def form_invalid(self, form: UploadForm) -> HttpResponse:
        return self.render_to_response(self.get_context_data(form=form), status=422)

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        context = super().get_context_data(**kwargs)
        context.update(
            sections=sections(context["form"], UPLOAD_PLAN),
            cancel_url=self.get_job().get_absolute_url(),
            template_url=reverse("joints:import_template"),
        )
        return context


class ImportPreview(DetailPage):
    """What was read of a list, and what is wrong with it. Nothing of it counts yet."""

    required_capability = Capability.VIEW
    template_name = "joints/import_preview.html"
    queryset = ImportBatch.objects.select_related("job")

    def get_lead(self) -> str:
        return f"For {lower_first(str(self.object.job))}: {self.object.job.title}"

    def get_facts(self) -> list[tuple[str, ...]]:
        batch = self.object
        taken = f"{batch.confirmed_by}, {batch.confirmed_at:%Y-%m-%d %H:%M}" if batch.confirmed_at else "not yet"
        return [
            ("Job", str(batch.job), batch.job.get_absolute_url()),
            ("Sent in by", f"{batch.uploaded_by}, {batch.uploaded_at:%Y-%m-%d %H:%M}"),
            ("Taken in by", taken),
            ("Rows", f"{len(batch.rows):,}"),
        ]

    def get_acts(self) -> list[Act]:
        batch = self.object
        errors = [p for p in batch.problems if not p["is_note"]]
        if batch.status == ImportBatch.CONFIRMED or not self.may(Capability.IMPORT_JOINTS):
            return []
        if errors:
            return [Act("Send it again", reverse("joints:import_upload", args=[batch.job_id]), main=True)]
        return [Act("Take it in …", reverse("joints:import_confirm", args=[batch.pk]), main=True)]

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        batch = self.object
        problems = [p for p in batch.problems if p["row"]]
        rows = [[row["row"], *(row["values"].get(name, "") for name, _ in COLUMNS)] for row in batch.rows[:SHOWN]]
        return super().get_context_data(
            errors=[p for p in problems if not p["is_note"]],
            notes=[p for p in problems if p["is_note"]],
            about=[p["message"] for p in batch.problems if not p["row"]],
            heads=["Row", *(label for _, label in COLUMNS)],
            rows=rows,
            more=max(0, len(batch.rows) - SHOWN),
            taken=batch.status == ImportBatch.CONFIRMED,
            may_take=self.may(Capability.IMPORT_JOINTS),
            **kwargs,
        )


class ImportConfirm(ConfirmPage):
    """The list is written whole, or not at all."""

    required_capability = Capability.IMPORT_JOINTS
    queryset = ImportBatch.objects.select_related("job")
    act_label = "Take it in"

    def get_page_title(self) -> str:
        return f"Take in {self.object.file_name}"

    def get_sentence(self) -> str:
        return (
            f"{len(self.object.rows):,} joints go on file in {lower_first(str(self.object.job))}, all of them or none."
        )

    def act(self) -> str:
        batch = self.object
        small = len(batch.rows) <= AT_ONCE
        work = take_in_list.start(self.request.user, batch.file_name, small=small, batch_id=batch.pk)
        return address_after(work, self.request)


@requires(Capability.VIEW)
def import_template(request: HttpRequest) -> HttpResponse:
    """An empty list to fill in."""
    response = HttpResponse(template_csv(), content_type="text/csv; charset=utf-8")
    response["Content-Disposition"] = 'attachment; filename="list-of-welds.csv"'
    return response
