"""A list of welds in steps: sent in, its columns named, shown and compared, corrected, taken in on somebody's word."""

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import get_object_or_404
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _
from django.views.generic.edit import FormView

from codes.words import lower_first, term_words
from joints.forms import UPLOAD_PLAN, UploadForm
from joints.imports.batch import take_in, why_not_taken
from joints.imports.corrections import take_over
from joints.imports.files import check_size
from joints.imports.senders import sender_named
from joints.imports.table import MAX_BYTES, Refusal
from joints.imports.template import template_csv
from joints.imports.words import Line, column_title, has_differences, lines_of, news
from joints.imports.work import AT_ONCE, read_list, take_in_list
from joints.model_files.step import MAX_BYTES as MODEL_BYTES
from joints.model_files.step import is_step
from joints.models import ImportBatch, Job, ListSender
from register.background.pages import address_after
from register.base.forms import prepared, sections
from register.base.pages import Page
from register.base.views import Act, ConfirmPage, DetailPage
from register.roles import Capability, requires

COLUMNS = (
    ("assembly", "Assembly"),
    ("number", "Joint"),
    ("weld_type", "Weld type"),
    ("grade_1", "Steel 1"),
    ("t1_mm", "t1 [mm]"),
    ("grade_2", "Steel 2"),
    ("t2_mm", "t2 [mm]"),
    ("throat_mm", "a [mm]"),
    ("leg_mm", "z [mm]"),
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
    page_title = _("Take in a list or a model")

    def dispatch(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        self.job: Job | None = None
        return super().dispatch(request, *args, **kwargs)

    def get_job(self) -> Job:
        """The job the list is for."""
        if self.job is None:
            self.job = get_object_or_404(Job, pk=self.kwargs["pk"])
        return self.job

    def get_lead(self) -> str:
        return gettext("For %(job)s: %(title)s") % {
            "job": lower_first(str(self.get_job())),
            "title": self.get_job().title,
        }

    def get_form_kwargs(self) -> dict[str, Any]:
        return super().get_form_kwargs() | {"job": self.get_job()}

    def get_form(self, form_class: Any = None) -> Any:
        return prepared(super().get_form(form_class))

    def form_valid(self, form: UploadForm) -> HttpResponse:
        upload, data = form.cleaned_data["file"], form.cleaned_data
        try:
            check_size(upload.size, MODEL_BYTES if is_step(upload.read(64)) else MAX_BYTES)
            upload.seek(0)
            sender = sender_named(data["sender"])
            scope = data["scope"] or ImportBatch.PART
            said = (self.get_job(), upload.name, upload.read(), form.defaults(), self.request.user)
            batch = take_in(*said, sender=sender, scope=scope, at_once=AT_ONCE)
        except Refusal as refusal:
            form.add_error("file", str(refusal))
            return self.form_invalid(form)
        if batch.comparison or batch.status == ImportBatch.NAMING:
            return HttpResponseRedirect(where_next(batch))
        return read_again(batch, self.request)

    def form_invalid(self, form: UploadForm) -> HttpResponse:
        return self.render_to_response(self.get_context_data(form=form), status=422)

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        context = super().get_context_data(**kwargs)
        context.update(
            sections=sections(context["form"], UPLOAD_PLAN),
            cancel_url=self.get_job().get_absolute_url(),
            template_url=reverse("joints:import_template"),
            senders=ListSender.objects.values_list("name", flat=True)[:200],
        )
        return context


def where_next(batch: ImportBatch) -> str:
    """The address at which an import goes on."""
    naming = batch.status == ImportBatch.NAMING
    return reverse("joints:import_columns", args=[batch.pk]) if naming else batch.get_absolute_url()


def read_again(batch: ImportBatch, request: HttpRequest) -> HttpResponse:
    """Read a batch and compare it: at once where it is short, else in the background; then go where it is shown."""
    small = batch.row_count <= AT_ONCE and not (batch.is_model and not batch.extract)
    work = read_list.start(request.user, f"{batch.file_name}, to be shown", small=small, batch_id=batch.pk)
    try:
        return HttpResponseRedirect(address_after(work, request))
    except ValueError as refusal:
        messages.error(request, str(refusal))
        return HttpResponseRedirect(where_next(batch))


class ImportPreview(DetailPage):
    """What was read of a list, what is wrong with it, and what it would change. Nothing of it counts yet."""

    required_capability = Capability.VIEW
    post_capability = Capability.IMPORT_JOINTS
    template_name = "joints/import_preview.html"
    queryset = ImportBatch.objects.select_related("job", "sender")

    def get_lead(self) -> str:
        return gettext("For %(job)s: %(title)s") % {
            "job": lower_first(str(self.object.job)),
            "title": self.object.job.title,
        }

    def get_facts(self) -> list[tuple[str, ...]]:
        batch = self.object
        at = timezone.localtime
        taken = gettext("not yet")
        if batch.confirmed_at:
            taken = f"{batch.confirmed_by}, {at(batch.confirmed_at):%Y-%m-%d %H:%M}"
        return [
            (gettext("Job"), str(batch.job), batch.job.get_absolute_url()),
            (gettext("From"), str(batch.sender or "not named")),
            (gettext("Sent in by"), f"{batch.uploaded_by}, {at(batch.uploaded_at):%Y-%m-%d %H:%M}"),
            (gettext("It holds"), batch.get_scope_display()),
            (gettext("Taken in by"), taken),
            (gettext("Rows"), f"{batch.row_count:,}"),
        ]

    def get_acts(self) -> list[Act]:
        batch = self.object
        if batch.status == ImportBatch.CONFIRMED and batch.is_model:
            return [Act(gettext("The model with today's answers"), reverse("joints:import_answers", args=[batch.pk]))]
        if batch.status == ImportBatch.CONFIRMED or not self.may(Capability.IMPORT_JOINTS):
            return []
        again = Act(gettext("Send it again"), reverse("joints:import_upload", args=[batch.job_id]))
        if batch.status == ImportBatch.NAMING:
            return [Act(gettext("Name its columns"), where_next(batch), main=True), again]
        acts = (
            [] if batch.is_model else [Act(gettext("Its columns"), reverse("joints:import_columns", args=[batch.pk]))]
        )
        if batch.errors or batch.comparison.get("contested"):
            return [again, *acts]
        return [Act(gettext("Take it in …"), reverse("joints:import_confirm", args=[batch.pk]), main=True), *acts]

    def post(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        """Correct cells, say which of two changes counts, or compare again."""
        batch = self.object = self.get_object()
        try:
            said = take_over(batch, request.POST, request.user)
        except Refusal as refusal:
            messages.error(request, str(refusal))
            return self.render_to_response(self.get_context_data(), status=409)
        messages.success(request, said)
        return read_again(batch, request)

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        batch = self.object
        problems = [p for p in batch.problems if p["row"]]
        heads = [gettext("Row"), *(label for _, label in COLUMNS)]
        rows = [
            list(zip(heads, [row["row"], *(_shown(row["values"], name) for name, _ in COLUMNS)], strict=True))
            for row in batch.rows
        ]
        open_ = batch.status == ImportBatch.UPLOADED
        return super().get_context_data(
            errors=batch.errors,
            notes=[p for p in problems if p["is_note"]],
            about=[p["message"] for p in batch.problems if not p["row"]],
            heads=heads,
            rows=rows,
            more=max(0, batch.row_count - len(batch.rows)),
            taken=batch.status == ImportBatch.CONFIRMED,
            may_take=self.may(Capability.IMPORT_JOINTS),
            may_correct=open_ and self.may(Capability.IMPORT_JOINTS),
            corrections=_corrections(batch) if open_ else [],
            news=news(batch),
            differences_url=reverse("joints:import_differences", args=[batch.pk]) if has_differences(batch) else "",
            groups=lines_of(batch),
            contested=[Line.of(one) for one in batch.comparison.get("lines", {}).get("contested", ())],
            contested_count=batch.comparison.get("contested", 0),
            **kwargs,
        )


def _shown(values: dict[str, str], name: str) -> str:
    """A cell of the first rows: terms in words, sizes bare under their letter."""
    said = values.get(name, "")
    return term_words(name, said) if said and name in ("weld_type", "position") else said


def _corrections(batch: ImportBatch) -> list[tuple[str, str, str, str]]:
    """(key, row, column, what stands there now) of each cell that was corrected on the page."""
    found = []
    for key, said in batch.corrections.items():
        row, _, name = key.partition(":")
        found.append((key, row, column_title(name), said or "nothing"))
    return sorted(found, key=lambda one: int(one[1]))


class ImportConfirm(ConfirmPage):
    """The list is written whole, or not at all."""

    required_capability = Capability.IMPORT_JOINTS
    queryset = ImportBatch.objects.select_related("job")
    act_label = _("Take it in")

    def get_page_title(self) -> str:
        return gettext("Take in %(file_name)s") % {"file_name": self.object.file_name}

    def get_sentence(self) -> str:
        job = lower_first(str(self.object.job))
        held = self.object.comparison
        if not any(held.get(name) for name in ("changed", "removed", "same", "kept")):
            return gettext("%(row_count)s joints go on file in %(job)s, all of them or none.") % {
                "row_count": f"{self.object.row_count:,}",
                "job": job,
            }
        return gettext("In %(job)s: %(object)s All of it or nothing.") % {"job": job, "object": news(self.object)}

    def why_not(self) -> str:
        return why_not_taken(self.object)

    def get_takes_away(self) -> list[str]:
        removed = self.object.comparison.get("lines", {}).get("removed", ())
        return [f"joint {one['number']} of {one['assembly']} (marked as removed, kept on file)" for one in removed]

    def act(self) -> str:
        batch = self.object
        small = batch.row_count <= AT_ONCE
        work = take_in_list.start(self.request.user, batch.file_name, small=small, batch_id=batch.pk)
        return address_after(work, self.request)


@requires(Capability.VIEW)
def import_template(request: HttpRequest) -> HttpResponse:
    """An empty list to fill in."""
    response = HttpResponse(template_csv(), content_type="text/csv; charset=utf-8")
    response["Content-Disposition"] = 'attachment; filename="list-of-welds.csv"'
    return response
