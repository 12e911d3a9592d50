"""Releasing a procedure to another plant, and taking it back: signed, by whoever may approve at its own plant."""

from typing import Any

from django import forms
from django.contrib import messages
from django.db.models import QuerySet
from django.http import Http404, HttpResponse, HttpResponseRedirect
from django.shortcuts import get_object_or_404
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _
from django.views.generic.edit import FormView

from register.base.forms import DateField, prepared
from register.base.pages import Page
from register.plants.models import Plant
from register.plants.reach import current
from register.roles import Capability
from register.signing import SignedConfirmPage, SignedForm
from wps.issued import sheets_at
from wps.models import Procedure, ProcedureRelease
from wps.releases.acts import release, take_back
from wps.sheet_content import code_as_shown

GROUND = (
    "ISO 15614-1, 8.2: the test holds at plants of the manufacturer that welded it and keeps the whole responsibility "
    "for the welding. AWS D1.1, 6.2.1: each contractor tests its own procedures; name the Engineer's acceptance where "
    "the plant has a control of its own."
)


class ReleaseForm(forms.Form):
    """Where to, from when, and why the qualification holds there."""

    plant = forms.ModelChoiceField(Plant.objects.none(), label=_("Released to"))
    from_on = DateField(label=_("From"))
    ground = forms.CharField(
        label=_("Why it holds there"), max_length=300, help_text=GROUND, widget=forms.Textarea(attrs={"rows": 3})
    )


class Release(SignedForm, Page, FormView):
    """Let another plant weld to a procedure."""

    required_capability = Capability.APPROVE_PROCEDURE
    template_name = "generic/form.html"
    form_class = ReleaseForm
    extra_context = {"save_label": "Release it"}

    def procedure(self) -> Procedure:
        """The procedure of the address. Raises Http404 for one of another plant."""
        return own(get_object_or_404(Procedure, pk=self.kwargs["pk"]))

    def get_page_title(self) -> str:
        return gettext("Release %(procedure)s to another plant") % {"procedure": self.procedure()}

    def get_lead(self) -> str:
        return gettext(
            "Its revisions in force count there too, with the records that support them, which can then be read there."
        )

    def get_initial(self) -> dict[str, Any]:
        return {"from_on": timezone.localdate()}

    def get_form(self, form_class: Any = None) -> Any:
        form = super().get_form(form_class)
        form.fields["plant"].queryset = Plant.objects.exclude(pk=self.procedure().plant_id)
        return prepared(form)

    def form_valid(self, form: Any) -> HttpResponse:
        data, procedure = form.cleaned_data, self.procedure()
        try:
            release(procedure, data["plant"], data["from_on"], data["ground"], self.request.user)
        except ValueError as refusal:
            form.add_error(None, str(refusal))
            return self.form_invalid(form)
        messages.success(
            self.request,
            gettext("%(procedure)s is released to %(data)s.") % {"procedure": procedure, "data": data["plant"]},
        )
        return HttpResponseRedirect(procedure.get_absolute_url())

    def form_invalid(self, form: Any) -> HttpResponse:
        return self.render_to_response(self.get_context_data(form=form), status=422)

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        return super().get_context_data(cancel_url=self.procedure().get_absolute_url(), **kwargs)


class TakeBack(SignedConfirmPage):
    """Take a release back: from tomorrow the plant no longer welds to the procedure."""

    required_capability = Capability.APPROVE_PROCEDURE
    page_title = _("Take a release back")
    act_label = _("Take it back")
    warns = True
    done_message = _("Taken back: {0}.")

    def get_queryset(self) -> QuerySet[ProcedureRelease]:
        return ProcedureRelease.objects.filter(until__isnull=True).select_related("procedure", "plant")

    def get_object(self, queryset: Any = None) -> ProcedureRelease:
        found: ProcedureRelease = super().get_object(queryset)
        own(found.procedure)
        return found

    def get_sentence(self) -> str:
        one = self.object
        return gettext(
            "After today %(plant)s no longer welds to %(procedure)s. What was welded to it stays covered."
        ) % {"plant": one.plant, "procedure": one.procedure}

    def get_takes_away(self) -> list[str]:
        one = self.object
        return [
            gettext("the sheet of %(revision)s with the check code %(code)s: collect what was printed at %(plant)s")
            % {"revision": sheet.revision, "code": code_as_shown(sheet.check_code), "plant": one.plant}
            for sheet in sheets_at(one.procedure, one.plant)
        ]

    def get_cancel_url(self) -> str:
        return reverse("wps:procedure", args=[self.object.procedure_id])

    def act(self) -> str:
        take_back(self.object, timezone.localdate(), self.request.user)
        return self.get_cancel_url()


def own(procedure: Procedure) -> Procedure:
    """The procedure, if of a plant in reach. Raises Http404."""
    if not current().holds(procedure.plant_id):
        raise Http404(gettext("A procedure of another plant is released by that plant."))
    return procedure
