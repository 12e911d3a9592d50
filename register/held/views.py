"""Pages by which a coordinator takes the codes into service: editions, clauses with ticks, tables, readings."""

import pkgutil
from functools import cache
from importlib import import_module
from typing import Any

from django import forms
from django.contrib import messages
from django.http import Http404, HttpResponse, HttpResponseRedirect
from django.urls import reverse
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _
from django.views.generic.edit import FormView

import codes
from codes.clauses import Mark
from codes.editions import Edition, all_editions
from codes.readings import Switch
from register.base.forms import prepared
from register.base.pages import Page, PlainPage
from register.held.firm import latest_readings, set_reading, switches, ticked
from register.held.laid_out import FIGURES_OF
from register.held.standards import anchor_of, judged, place_of, reading_words, standards
from register.held.tables import data_tables, held_clauses
from register.judged_words import told
from register.roles import Capability, firm_holders
from register.templatetags.said import as_sentence


def package_of(edition: Edition) -> str:
    """The name of the package that states an edition, without `codes.`."""
    return _packages()[edition.key]


@cache
def _packages() -> dict[str, str]:
    found = [module.name for module in pkgutil.iter_modules(codes.__path__) if module.ispkg]
    stated = ((name, getattr(import_module(f"codes.{name}"), "EDITIONS", ())) for name in found)
    return {edition.key: name for name, editions in stated for edition in editions}


class CodesPage(PlainPage):
    """The editions that the register judges by, each with what is still to be checked."""

    required_capability = Capability.VIEW
    template_name = "register/codes.html"
    page_title = _("Codes")
    lead = _("What the register judges by, how sure it is of it, and how your firm reads what is doubtful.")

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        held, done = held_clauses(), ticked()
        to_check = [c for c in held if c.mark is not Mark.CONFIRMED and c.key not in done]
        set_here = latest_readings()
        rows = [
            {
                "edition": edition,
                "judges": judged(edition),
                "package": package_of(edition),
                "switches": len(edition.switches),
                "set": sum(switch.key in set_here for switch in edition.switches),
            }
            for edition in all_editions()
        ]
        return super().get_context_data(rows=rows, held=len(held), to_check=len(to_check), **kwargs)


class TablesPage(PlainPage):
    """The tables of one package, row by row, to be laid beside the standard."""

    required_capability = Capability.VIEW
    template_name = "register/tables.html"

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        package = self.kwargs["package"]
        editions = [edition for edition in all_editions() if package_of(edition) == package]
        if not editions:
            raise Http404(gettext("The register holds no such package of rules."))
        title = gettext("Tables of %(editions)s") % {"editions": ", ".join(edition.key for edition in editions)}
        return super().get_context_data(
            page_title=title, tables=data_tables(package), same_as=_same_as(package), **kwargs
        )


def _same_as(package: str) -> tuple[str, str]:
    """The package whose figures count for this one too, and its editions; empty where it has tables of its own."""
    other = FIGURES_OF.get(package, "")
    return other, ", ".join(edition.key for edition in all_editions() if package_of(edition) == other)


def to_ask(may_set: bool) -> list[str]:
    """Whom somebody asks who may not set what holds for the whole firm; nobody is named to who may."""
    return [] if may_set else firm_holders(Capability.SET_READINGS)


class ReadingsPage(PlainPage):
    """Every doubtful rule, the readings it can have, and the one in force."""

    required_capability = Capability.VIEW
    template_name = "register/readings.html"
    page_title = _("Readings")
    lead = _(
        "Where the wording of a rule is doubtful, one reading is in force, mostly the strict one, "
        "until your firm sets another and says why."
    )

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        may_set = self.may(Capability.SET_READINGS)
        return super().get_context_data(standards=standards(), may_set=may_set, ask=to_ask(may_set), **kwargs)


class ReadingForm(forms.Form):
    """The choice of one reading and the reason for it."""

    option = forms.ChoiceField(label=_("Reading"), widget=forms.RadioSelect)
    why = forms.CharField(
        label=_("Why"),
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text=_("Printed beside the reading; name the source."),
    )

    def __init__(self, *args: Any, switch: Switch, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        field = self.fields["option"]
        field.choices = [(name, reading_words(name, meaning)) for name, meaning in switch.options.items()]  # type: ignore[attr-defined]


class ReadingPage(Page, FormView):
    """Set the reading of one doubtful rule."""

    required_capability = Capability.SET_READINGS
    template_name = "generic/form.html"
    form_class = ReadingForm

    @property
    def switch(self) -> Switch:
        """The rule named in the address. Raises Http404."""
        known = switches().get(self.kwargs["key"])
        if known is None:
            raise Http404(gettext("There is no such doubtful rule."))
        return known

    @property
    def back(self) -> str:
        """The page of readings, at this rule."""
        return f"{reverse('held:readings')}#{anchor_of(self.switch)}"

    def get_page_title(self) -> str:
        return gettext("Reading of a doubtful rule")

    def get_lead(self) -> str:
        return f"{as_sentence(told(self.switch.question))} ({told(place_of(self.switch))})"

    def get_form_kwargs(self) -> dict[str, Any]:
        return super().get_form_kwargs() | {"switch": self.switch}

    def get_form(self, form_class: Any = None) -> Any:
        return prepared(super().get_form(form_class))

    def get_initial(self) -> dict[str, Any]:
        chosen = latest_readings().get(self.switch.key)
        return {"option": chosen.option if chosen else self.switch.default}

    def form_valid(self, form: Any) -> HttpResponse:
        try:
            reading = set_reading(
                self.request.user, self.switch.key, form.cleaned_data["option"], form.cleaned_data["why"]
            )
        except ValueError as refusal:
            form.add_error(None, str(refusal))
            return self.form_invalid(form)
        said = reading_words(reading.option, self.switch.options[reading.option])
        messages.success(self.request, gettext("In force from now on: %(reading)s.") % {"reading": said})
        return HttpResponseRedirect(self.back)

    def form_invalid(self, form: Any) -> HttpResponse:
        return self.render_to_response(self.get_context_data(form=form), status=422)

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        return super().get_context_data(cancel_url=self.back, save_label=gettext("Set this reading"), **kwargs)
