"""Lending somebody to another plant, and changing the last day of a loan. For the plant that the person belongs to."""

from typing import Any

from django import forms
from django.contrib import messages
from django.http import Http404, HttpResponse, HttpResponseRedirect
from django.shortcuts import get_object_or_404
from django.utils import timezone
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _
from django.views.generic.edit import FormView

from qualifications.lending.models import Loan
from qualifications.lending.where import end, lend
from qualifications.models import Person
from register.base.forms import DateField, prepared
from register.base.pages import Page
from register.judged_words import told
from register.plants.models import Plant
from register.plants.reach import current
from register.roles import Capability


class LendForm(forms.Form):
    """Where to, and from when to when."""

    plant = forms.ModelChoiceField(Plant.objects.none(), label=_("Lent to"), empty_label=_("choose one"))
    from_on = DateField(label=_("First day there"))
    until = DateField(label=_("Last day there"), required=False, help_text=_("Empty: until further notice."))
    reason = forms.CharField(label=_("What for"), required=False, max_length=250)


class EndForm(forms.Form):
    """The last day."""

    until = DateField(label=_("Last day there"))


class LoanPage(Page, FormView):
    """What both pages share: an act that is refused with a sentence at the form."""

    required_capability = Capability.EDIT_PEOPLE
    template_name = "generic/form.html"

    def person(self) -> Person:
        """Who it is about. Raises Http404 for somebody of another plant: who lends is the person's own."""
        raise NotImplementedError

    def act(self, data: dict[str, Any]) -> None:
        """Do it. Raises ValueError with a sentence."""
        raise NotImplementedError

    def get_form(self, form_class: Any = None) -> Any:
        return prepared(super().get_form(form_class))

    def form_valid(self, form: Any) -> HttpResponse:
        try:
            self.act(form.cleaned_data)
        except ValueError as refusal:
            form.add_error(None, str(refusal))
            return self.form_invalid(form)
        messages.success(self.request, gettext("Saved for %(name)s.") % {"name": self.person().name})
        return HttpResponseRedirect(self.person().get_absolute_url())

    def form_invalid(self, form: Any) -> HttpResponse:
        return self.render_to_response(self.get_context_data(form=form), status=422)

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        return super().get_context_data(cancel_url=self.person().get_absolute_url(), **kwargs)


class Lend(LoanPage):
    """Lend somebody: from the first day to the last they count at the other plant only."""

    form_class = LendForm
    extra_context = {"save_label": "Lend"}

    def person(self) -> Person:
        return own(get_object_or_404(Person, pk=self.kwargs["person"]))

    def get_page_title(self) -> str:
        return gettext("Lend %(name)s to another plant") % {"name": self.person().name}

    def get_lead(self) -> str:
        return gettext("From the first day to the last they may weld there and not here; their certificates stay here.")

    def get_initial(self) -> dict[str, Any]:
        return {"from_on": timezone.localdate()}

    def get_form(self, form_class: Any = None) -> Any:
        form = super().get_form(form_class)
        form.fields["plant"].queryset = Plant.objects.exclude(pk=self.person().plant_id)
        return form

    def act(self, data: dict[str, Any]) -> None:
        lend(self.person(), data["plant"], data["from_on"], data["until"], data["reason"], self.request.user)


class LoanEnd(LoanPage):
    """Set the last day of a loan."""

    form_class = EndForm
    page_title = _("Last day of a loan")

    def loan(self) -> Loan:
        """The loan of the address."""
        return get_object_or_404(Loan.objects.select_related("plant", "person"), pk=self.kwargs["pk"])

    def person(self) -> Person:
        return own(self.loan().person)

    def get_lead(self) -> str:
        return told(str(self.loan()))

    def get_initial(self) -> dict[str, Any]:
        return {"until": self.loan().until or timezone.localdate()}

    def act(self, data: dict[str, Any]) -> None:
        end(self.loan(), data["until"], self.request.user)


def own(person: Person) -> Person:
    """The person, if of a plant in reach. Raises Http404."""
    if not current().holds(person.plant_id):
        raise Http404(gettext("Somebody of another plant is lent by that plant."))
    return person
