"""Pages of the calculations. The address holds every input: it can be kept, sent, and printed as a sheet."""

from typing import Any
from urllib.parse import urlencode

from django.core.exceptions import BadRequest
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseRedirect
from django.http.response import HttpResponseBase
from django.shortcuts import render
from django.urls import reverse
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from codes.calc.calculation import Calculation
from codes.units import System
from register.base.asof import asked_date
from register.base.pages import PlainPage
from register.calculations.examples import example
from register.calculations.families import Family, families, family
from register.calculations.forms import CalculationForm
from register.calculations.sheet import sheet_pdf
from register.calculations.shown import Shown, ranges, shown
from register.calculations.typed import texts_of
from register.judged_words import told
from register.own_units.reader import units_of
from register.roles import Capability, requires

UNITS_KEY = "units"
OWN_KEYS = ("calculation", UNITS_KEY, "on")


class CalculationsPage(PlainPage):
    """Which calculation: the families with their members."""

    required_capability = Capability.VIEW
    template_name = "calculations/index.html"
    page_title = _("Calculate")
    lead = _("Each answer shows its formula with the numbers, its clause, how certain that is, and where it ends.")

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        return super().get_context_data(families=families(), **kwargs)


class FamilyPage(PlainPage):
    """One family: the form of the calculation chosen, answered while one types."""

    required_capability = Capability.VIEW
    template_name = "calculations/family.html"

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        asked_date(request)
        question = Question(request, self.kwargs["family"])
        if request.headers.get("HX-Request"):
            return render(request, "calculations/_live.html", question.context)
        return self.render_to_response(self.get_context_data(**question.context))


@requires(Capability.VIEW)
def sheet(request: HttpRequest, family: str) -> HttpResponse:
    """The calculation as a PDF. Where there is no answer to print yet, back to the page that says what is missing."""
    question = Question(request, family)
    if question.answer is None:
        return HttpResponseRedirect(f"{reverse('calc:family', args=[family])}?{request.GET.urlencode()}")
    data = sheet_pdf(question.asked, question.answer, question.family, asked_date(request), question.system)
    response = HttpResponse(data, content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="{question.asked.name}.pdf"'
    return response


class Question:
    """What a request asks: family, calculation, units, inputs; and the answer where there is one.

    Raises Http404 for a family that is not there, BadRequest for a calculation or units that are not.
    """

    def __init__(self, request: HttpRequest, slug: str) -> None:
        found = family(slug)
        if found is None:
            raise Http404(gettext("There is no such family of calculations."))
        self.family: Family = found
        self.asked = _asked(found, request.GET.get("calculation", ""))
        self.system = units_of(request)
        texts = {name: value for name, value in request.GET.items() if name not in OWN_KEYS}
        self.form = CalculationForm(self.asked, self.system, texts if any(texts.values()) else None)
        self.texts = texts

    @property
    def answer(self) -> Shown | None:
        """The answer, or None while something is missing or refused."""
        result = self.form.result
        return shown(self.asked, self.form.plain, result, self.system) if result else None

    @property
    def context(self) -> dict[str, Any]:
        """What the page needs."""
        here = reverse("calc:family", args=[self.family.slug])
        stated = {name: text for name, text in self.texts.items() if text}
        return {
            "page_title": told(self.family.title),
            "lead": told(self.family.lead),
            "family": self.family,
            "caution": self.family.caution,
            "asked": self.asked,
            "system": self.system.value,
            "form": self.form,
            "answer": self.answer,
            "ranges": ranges(self.asked, self.system),
            "here": here,
            "other_units": [(one.value, label, self._at(here, one)) for one, label in _UNITS],
            "example_url": f"{here}?{urlencode(_example(self.asked, self.system) | {UNITS_KEY: self.system.value})}",
            "sheet_url": self._at(reverse("calc:sheet", args=[self.family.slug]), self.system, stated),
        }

    def _at(self, path: str, system: System, stated: dict[str, str] | None = None) -> str:
        """An address with calculation and units. Figures do not travel to other units, where they mean another size."""
        return f"{path}?{urlencode({'calculation': self.asked.name, UNITS_KEY: system.value} | (stated or {}))}"


_UNITS = ((System.SI, "SI"), (System.US, _("US customary")))


def _asked(found: Family, name: str) -> Calculation:
    if not name:
        return found.members[0]
    for one in found.members:
        if one.name == name:
            return one
    known = "; ".join(told(one.label) for one in found.members)
    raise BadRequest(
        gettext("“%(name)s” is not one of the calculations here: %(known)s.") % {"name": name[:40], "known": known}
    )


def _example(asked: Calculation, system: System) -> dict[str, str]:
    """The address of the worked example, its figures in the reader's units."""
    texts: dict[str, str] = {"calculation": asked.name}
    for name, plain in example(asked, system).items():
        texts |= texts_of(asked.input(name), plain)
    return texts
