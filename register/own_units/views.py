"""One's own units."""

from typing import Any

from django import forms
from django.contrib import messages
from django.db import transaction
from django.http import HttpResponse, HttpResponseRedirect
from django.urls import reverse
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _
from django.views.generic.edit import FormView

from codes.units import System
from register.audit import record_act
from register.base.forms import prepared
from register.base.pages import Page
from register.own_units.models import CHOICES, OwnUnits
from register.own_units.reader import SESSION_KEY, usual_units
from register.roles import Capability


class UnitsForm(forms.Form):
    """SI or US customary."""

    units = forms.ChoiceField(label=_("Units"), choices=CHOICES)


class OwnUnitsPage(Page, FormView):
    """The units of the account; the session takes them at once."""

    required_capability = Capability.OWN_ACCOUNT
    template_name = "generic/form.html"
    form_class = UnitsForm
    page_title = _("Own units")
    lead = _(
        "Figures are kept in SI and shown to you in the units chosen here, on pages and on papers; a switch on a page "
        "holds until you sign out."
    )

    def get_initial(self) -> dict[str, Any]:
        return {"units": usual_units(self.request).value}

    def get_form(self, form_class: Any = None) -> Any:
        return prepared(super().get_form(form_class))

    def form_valid(self, form: UnitsForm) -> HttpResponse:
        user, wanted = self.request.user, form.cleaned_data["units"]
        with transaction.atomic():
            before = OwnUnits.objects.filter(user=user).values_list("units", flat=True).first() or System.SI.value
            if before != wanted:
                OwnUnits.objects.update_or_create(user=user, defaults={"units": wanted})
                record_act(user, "chose own units", user, before={"units": before}, after={"units": wanted})
        self.request.session[SESSION_KEY] = wanted
        messages.success(self.request, gettext("Figures are shown in %(units)s.") % {"units": dict(CHOICES)[wanted]})
        return HttpResponseRedirect(reverse("own_units"))

    def form_invalid(self, form: UnitsForm) -> HttpResponse:
        return self.render_to_response(self.get_context_data(form=form), status=422)
