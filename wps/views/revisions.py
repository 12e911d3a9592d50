"""The page of one revision, and the form of a draft."""

from typing import Any

from django.core.exceptions import BadRequest
from django.db.models import QuerySet
from django.urls import NoReverseMatch, reverse
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from codes.units import System
from codes.wps_lists import list_name
from register.base.views import Act, DetailPage, FormPage
from register.held.firm import firm_settings
from register.own_units.reader import units_of
from register.plants.rows import own
from register.roles import Capability
from wps import workflow
from wps.answers_over_time import record_changes
from wps.changes import changes
from wps.completeness import missing
from wps.content import content
from wps.forms.revision import RevisionForm
from wps.heat import ARC_ENERGY, measure_by
from wps.judgement import judge
from wps.models import ProcedureRevision, Status
from wps.own_judgement import judgement_in
from wps.preparation_words import preparation_said
from wps.runs import heats_of
from wps.sheet_data import Sketches
from wps.sheet_links import sheet_choice
from wps.trail import trail
from wps.views.live import drawing


def whole(revisions: QuerySet[ProcedureRevision]) -> QuerySet[ProcedureRevision]:
    """Revisions with all that their page reads."""
    return revisions.select_related("procedure").prefetch_related("records", "runs")


class RevisionPage(DetailPage):
    """One revision: its judgement first, then everything it states."""

    required_capability = Capability.VIEW
    template_name = "wps/revision.html"

    def get_queryset(self) -> QuerySet[ProcedureRevision]:
        return whole(ProcedureRevision.objects.all())

    def get_lead(self) -> str:
        return self.object.procedure.title

    def get_facts(self) -> list[tuple[str, ...]]:
        revision = self.object
        return [
            (gettext("Procedure"), revision.procedure.number, revision.procedure.get_absolute_url()),
            (gettext("Standard"), revision.code),
            *([(gettext("Rests on"), str(revision.get_road_display()))] if revision.is_prequalified else []),
            (gettext("State"), _state(revision)),
            (gettext("Serves"), _serves(revision)),
            (gettext("Written by"), revision.author_name),
            (gettext("Checked by"), _by(revision.checked_name, revision.checked_on)),
            (gettext("Approved by"), _by(revision.approved_name, revision.approved_on)),
            (gettext("Where it is welded"), revision.workstation_note),
        ]

    def get_acts(self) -> list[Act]:
        return acts_for(self.object, self)

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        revision = self.object
        settings, system = firm_settings(), units_of(self.request)
        before = whole(revision.procedure.revisions.filter(pk__lt=revision.pk)).order_by("-pk").first()
        return super().get_context_data(
            judgement=judgement_in(judge(revision, self.on, settings), system),
            system=system,
            missing=missing(revision) if revision.is_open or revision.status == Status.APPROVED else (),
            not_in_force=_not_in_force(revision),
            runs=heats_of(revision.runs.all(), revision.code, revision.window, revision.process_windows),
            is_arc_energy=measure_by(revision.code, revision.window.get("heat_measure")) == ARC_ENERGY,
            preparation=list(preparation_said(revision.preparation, system).items()),
            before=before,
            changes=changes(content(before), content(revision), system) if before else (),
            history=trail(revision),
            sheets=sheet_choice(revision, self.may(Capability.PRINT_SHEET), system),
            answers=record_changes(revision, settings, system) if not revision.is_open else (),
            sketches=self._sketches(system),
            asked_by=list_name(revision.code),
            **kwargs,
        )

    def _sketches(self, system: System) -> Sketches:
        revision = self.object
        runs = tuple(revision.runs.all())
        return drawing(revision.preparation, revision.window, revision.process_windows, runs, revision.code, system)


def _serves(revision: ProcedureRevision) -> str:
    if revision.serves_tack and revision.serves_final:
        return gettext("tack and final welding")
    if revision.serves_tack:
        return gettext("tack welding")
    return gettext("final welding") if revision.serves_final else ""


def _state(revision: ProcedureRevision) -> str:
    if revision.ended_on:
        return f"{revision.get_status_display()} on {revision.ended_on}: {revision.ended_reason}"
    if revision.status == Status.DRAFT and not revision.is_prequalified and not revision.records.all():
        return "draft, preliminary (pWPS)"
    return str(revision.get_status_display())


def _not_in_force(revision: ProcedureRevision) -> str:
    """What keeps somebody from welding to the revision, said before its answer; "" for the one in force."""
    if revision.ended_on and revision.status == Status.SUPERSEDED:
        newer = revision.procedure.revisions.filter(pk__gt=revision.pk).order_by("pk").first()
        return gettext("Not in force since %(day)s: revision %(letter)s takes its place.") % {
            "day": revision.ended_on,
            "letter": newer.letter if newer else "–",
        }
    if revision.ended_on:
        return gettext("Not in force since %(day)s: withdrawn (%(why)s)") % {
            "day": revision.ended_on,
            "why": revision.ended_reason,
        }
    if revision.status == Status.CHECKED:
        return gettext("Not in force yet: it is checked and waits for its approval.")
    return gettext("Not in force yet: it is a draft.") if revision.status == Status.DRAFT else ""


def _by(name: str, on: Any) -> str:
    return f"{name}, {on}" if name else gettext("nobody yet")


_CHANGE = ("Change", "revision_edit", Capability.EDIT_PROCEDURE)
STEPS = {
    Status.DRAFT: (_CHANGE, ("Check", "revision_check", Capability.CHECK_PROCEDURE)),
    Status.CHECKED: (("Approve", "revision_approve", Capability.APPROVE_PROCEDURE), _CHANGE),
}
"""The ways on from a state: label, name of the address, what one must be able to do."""


def acts_for(revision: ProcedureRevision, page: Any) -> list[Act]:
    """What whoever asks may do with a revision now."""
    acts = (
        [Act(gettext("Sheet"), url, main=not revision.is_open)]
        if (url := sheet_url(revision)) and page.may(Capability.PRINT_SHEET)
        else []
    )
    for label, name, capability in STEPS.get(Status(revision.status), ()):
        if page.may(capability):
            acts.append(Act(label, reverse(f"wps:{name}", args=[revision.pk])))
    if revision.status in (Status.DRAFT, Status.CHECKED, Status.APPROVED) and page.may(Capability.EDIT_PROCEDURE):
        acts.append(Act(gettext("Withdraw"), reverse("wps:revision_withdraw", args=[revision.pk]), warns=True))
    return acts


def sheet_url(revision: ProcedureRevision) -> str:
    """The address of the sheet, or "" where there is none."""
    try:
        return reverse("wps:revision_sheet", args=[revision.pk])
    except NoReverseMatch:
        return ""


class RevisionEdit(FormPage):
    """Write in a draft. Saving needs nothing to be complete; a checked revision is a draft again afterwards."""

    required_capability = Capability.EDIT_PROCEDURE
    form_class = RevisionForm
    template_name = "wps/revision_form.html"
    save_label = _("Save the draft")

    def get_queryset(self) -> QuerySet[ProcedureRevision]:
        return whole(ProcedureRevision.objects.all())

    def find_object(self) -> ProcedureRevision:
        found: ProcedureRevision = own(self.get_object())
        if not found.is_open:
            raise BadRequest(
                gettext("%(found)s is %(status)s: start a new revision to change it.")
                % {"found": found, "status": found.get_status_display()}
            )
        return found

    def get_page_title(self) -> str:
        return gettext("%(object)s, draft") % {"object": self.object}

    def get_lead(self) -> str:
        checked = "It was checked; saving makes it a draft again. " if self.object.status == Status.CHECKED else ""
        return f"{checked}{self.object.procedure.title} ({self.object.code})"

    def get_form_kwargs(self) -> dict[str, Any]:
        return super().get_form_kwargs() | {"live_url": reverse("wps:revision_live", args=[self.object.pk])}

    def save(self, form: RevisionForm) -> None:
        workflow.note_editor(form.instance, self.request.user)
        super().save(form)

    def get_success_url(self) -> str:
        return str(self.object.get_absolute_url())

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        context = super().get_context_data(**kwargs)
        form = context["form"]
        live_url = reverse("wps:revision_live", args=[self.object.pk])
        return context | {
            "sections": form.sections(),
            "rows": form.rows,
            "live_url": live_url,
            "drawn": form.drawn(),
            "sketch_url": reverse("wps:revision_sketch", args=[self.object.pk]),
            "sketches": self._drawing(form),
            "all_optional": True,
        }

    def _drawing(self, form: RevisionForm) -> Sketches:
        """What is on file, or after a refusal what was sent."""
        code, system = self.object.code, units_of(self.request)
        if form.is_bound:
            return drawing(form.preparation(), form.window(), form.process_windows(), form.runs(), code, system)
        on_file = self.object
        runs = tuple(on_file.runs.all())
        return drawing(on_file.preparation, on_file.window, on_file.process_windows, runs, code, system)
