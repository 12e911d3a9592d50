"""Pages of procedures."""

from typing import Any

from django.db.models import Prefetch, QuerySet
from django.http import HttpResponse, HttpResponseRedirect
from django.urls import reverse
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from codes.editions import editions_of
from codes.units import System
from register.base.views import Act, DetailPage, FormPage, ListPage
from register.held.firm import firm_settings
from register.own_units.reader import units_of
from register.plants.reach import current
from register.roles import Capability
from wps import workflow
from wps.changes import Change, changes
from wps.content import content
from wps.filters import ProcedureFilter
from wps.forms.revision import ProcedureForm
from wps.judgement import judge
from wps.models import Procedure, ProcedureRevision
from wps.own_judgement import judgement_in
from wps.tables import ProcedureTable, in_force_on, shown_revision

REVISIONS = Prefetch("revisions", ProcedureRevision.objects.order_by("-pk"))


class ProcedureList(ListPage):
    """All procedures as of a date."""

    required_capability = Capability.VIEW
    template_name = "wps/procedure_list.html"
    page_title = _("Procedures")
    lead = _("Each with the revision in force on the date asked about.")
    table_class = ProcedureTable
    filterset_class = ProcedureFilter
    create_label = _("Start a procedure")
    empty = {
        "title": _("No procedure is on file."),
        "teach": _(
            "A procedure (WPS) says how a weld is made. Start one as a draft; it may stay unfinished for "
            "as long as you like, and is approved only when its test records cover everything it states."
        ),
    }

    def get_queryset(self) -> QuerySet[Procedure]:
        return Procedure.objects.prefetch_related(REVISIONS)

    def get_table_kwargs(self) -> dict[str, Any]:
        return {"on": self.on, "system": units_of(self.request)}

    def get_create_url(self) -> str:
        return reverse("wps:procedure_new") if self.may(Capability.EDIT_PROCEDURE) else ""


class ProcedurePage(DetailPage):
    """One procedure on a date: the revision in force, how it is judged, all revisions and what changed."""

    required_capability = Capability.VIEW
    template_name = "wps/procedure.html"

    def get_queryset(self) -> QuerySet[Procedure]:
        revisions = ProcedureRevision.objects.order_by("-pk").prefetch_related("records", "runs")
        return Procedure.objects.prefetch_related(Prefetch("revisions", revisions))

    def get_lead(self) -> str:
        return self.object.title

    def get_acts(self) -> list[Act]:
        newest = next(iter(self.object.revisions.all()), None)
        own = current().holds(self.object.plant_id)
        found = []
        in_force = next((one for one in self.object.revisions.all() if in_force_on(one, self.on)), None)
        if in_force is not None and self.may(Capability.PRINT_SHEET):
            found.append(Act(gettext("Sheet"), reverse("wps:revision_sheet", args=[in_force.pk])))
        if own and newest is not None and not newest.is_open and self.may(Capability.EDIT_PROCEDURE):
            found.append(Act(gettext("Start a new revision"), reverse("wps:revision_new", args=[self.object.pk])))
        if own and current().several and self.may(Capability.APPROVE_PROCEDURE):
            found.append(Act(gettext("Release to another plant"), reverse("wps:release", args=[self.object.pk])))
        return found

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        revisions = list(self.object.revisions.all())
        for revision in revisions:
            revision.procedure = self.object
        shown, system = shown_revision(self.object, self.on), units_of(self.request)
        return super().get_context_data(
            system=system,
            revision=shown,
            in_force=shown is not None and in_force_on(shown, self.on),
            judgement=judgement_in(judge(shown, self.on, firm_settings()), system) if shown else None,
            lines=_lines(revisions, system),
            releases=self.object.releases.select_related("plant") if current().several else (),
            may_take_back=current().holds(self.object.plant_id) and self.may(Capability.APPROVE_PROCEDURE),
            **kwargs,
        )


def _lines(revisions: list[ProcedureRevision], system: System) -> list[tuple[ProcedureRevision, tuple[Change, ...]]]:
    """Every revision with what changed from the one before it, newest first."""
    older = [*revisions[1:], None]
    return [
        (revision, changes(content(before), content(revision), system) if before else ())
        for revision, before in zip(revisions, older, strict=True)
    ]


class ProcedureNew(FormPage):
    """Number, title and code; the draft follows."""

    required_capability = Capability.EDIT_PROCEDURE
    model = Procedure
    form_class = ProcedureForm
    page_title = _("New procedure")
    lead = _("A draft comes first. It keeps whatever you enter, finished or not.")
    save_label = _("Start the draft")

    def get_form_kwargs(self) -> dict[str, Any]:
        codes = [(known.key, f"{known.key}, {known.title}") for known in editions_of("procedure")]
        return super().get_form_kwargs() | {"codes": codes}

    def get_cancel_url(self) -> str:
        return reverse("wps:procedure_list")

    def form_valid(self, form: ProcedureForm) -> HttpResponse:
        data = form.cleaned_data
        draft = workflow.start_procedure(data["number"], data["title"], data["code"], self.request.user)
        return HttpResponseRedirect(reverse("wps:revision_edit", args=[draft.pk]))
