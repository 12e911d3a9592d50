"""The page that has all sheets in force printed."""

from typing import Any

from django import forms
from django.http import HttpResponse, HttpResponseRedirect
from django.urls import reverse
from django.utils.translation import gettext_lazy as _
from django.views.generic.edit import FormView

from register.base.forms import prepared
from register.base.pages import Page
from register.own_units.reader import units_of
from register.papers.codes import status_address
from register.roles import Capability
from register.templatetags.said import as_sentence
from wps.sheet_batch import all_sheets
from wps.sheet_links import offered_first
from wps.sheet_render import PAPERS
from wps.sheets import KINDS, UNITS


class SheetsForm(forms.Form):
    """Which sheets."""

    kind = forms.ChoiceField(label=_("Sheet"), choices=list(KINDS.items()), initial="cell")
    paper = forms.ChoiceField(label=_("Paper"), choices=[(token, PAPERS[token][0]) for token in PAPERS])
    units = forms.ChoiceField(label=_("Units"), choices=list(UNITS.items()))


class AllSheets(Page, FormView):
    """Have the sheets of all procedures in force issued and put into one ZIP."""

    required_capability = Capability.PRINT_SHEET
    template_name = "papers/start.html"
    form_class = SheetsForm
    page_title = _("All sheets in force")

    def get_initial(self) -> dict[str, Any]:
        return super().get_initial() | offered_first(units_of(self.request))

    def get_form(self, form_class: Any = None) -> Any:
        return prepared(super().get_form(form_class))

    def form_valid(self, form: SheetsForm) -> HttpResponse:
        asked = form.cleaned_data | {"address": status_address(self.request)}
        title = f"{KINDS[asked['kind']]}, {PAPERS[asked['paper']][0]}"
        work = all_sheets.start(self.request.user, as_sentence(title), **asked)
        return HttpResponseRedirect(work.get_absolute_url())

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        said = (
            "A sheet of every procedure in force, each with its check code; those that are not issued yet are issued "
            "now. A list in the ZIP names the hash of each."
        )
        url = reverse("wps:procedure_list")
        return super().get_context_data(said=said, button="Print them all", cancel_url=url, **kwargs)
