"""A value judged while it is typed, before anything is saved."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils.translation import gettext
from django.views import View

from codes.parse import BadField, Plain
from codes.units import System
from codes.values import Value
from register.base.asof import asked_date
from register.held.firm import firm_settings
from register.judged_words import told
from register.own_units.reader import units_of
from register.plants.rows import own
from register.roles import Capability, RequiresCapability
from wps.forms.revision import RevisionForm
from wps.judgement import Judgement, ProcessJudgement, VariableView, judge_demands
from wps.models import ProcedureRevision, ProcedureRun, TestRecord
from wps.offers import RecordOffer, offers_of, own_offer
from wps.own_judgement import judgement_in
from wps.runs import heats_of
from wps.sheet_data import Sketches, sketches_of
from wps.side_by_side import Line, lines
from wps.window import demands_from


class RevisionLive(RequiresCapability, View):
    """Takes the whole form and answers for the one field that the address names. Saves nothing."""

    required_capability = Capability.EDIT_PROCEDURE

    def post(self, request: HttpRequest, pk: int) -> HttpResponse:
        revision = own(get_object_or_404(ProcedureRevision.objects.select_related("procedure"), pk=pk))
        form = RevisionForm(request.POST, instance=revision)
        form.is_valid()
        name = request.GET.get("field", "")
        if name in form.errors:
            return render(request, "wps/_live.html", {"problem": " ".join(form.errors[name])})
        return render(request, "wps/_live.html", self._answer(form, name))

    @property
    def system(self) -> System:
        """The reader's units."""
        return units_of(self.request)

    def _offers(
        self, form: RevisionForm, records: Iterable[TestRecord], runs: Sequence[ProcedureRun]
    ) -> tuple[RecordOffer, ...]:
        code = form.instance.code
        if form.instance.is_prequalified:
            return (own_offer(code, form.window(), form.process_windows(), runs, firm_settings()),)
        return offers_of(records, code, asked_date(self.request), firm_settings())

    def _answer(self, form: RevisionForm, name: str) -> dict[str, Any]:
        runs = form.runs()
        if name == "runs":
            heats = heats_of(runs, form.instance.code, form.window(), form.process_windows())
            return {"heats": heats, "problems": form.rows.errors, "system": self.system}
        records = form.cleaned_data.get("records") or ()
        try:
            each = demands_from(form.window(), form.process_windows(), runs, form.instance.code)
        except BadField as bad:
            return {"problem": bad.problem}
        judgement = judge_demands(each, self._offers(form, records, runs), form.instance.is_prequalified)
        if name in ("records", "road"):
            return {"judgement": judgement_in(judgement, self.system)}
        process, variable = _asked(name, each)
        none = not records and not form.instance.is_prequalified
        return {"lines": _lines(judgement, process, variable, self.system), "no_records": none}


class RevisionSketch(RequiresCapability, View):
    """Takes the whole form and draws its joint. Saves nothing."""

    required_capability = Capability.EDIT_PROCEDURE

    def post(self, request: HttpRequest, pk: int) -> HttpResponse:
        revision = own(get_object_or_404(ProcedureRevision.objects.select_related("procedure"), pk=pk))
        form = RevisionForm(request.POST, instance=revision)
        form.is_valid()
        stated = form.preparation(), form.window(), form.process_windows(), form.runs()
        drawn = drawing(*stated, revision.code, units_of(request))
        return render(request, "wps/_sketch.html", {"sketches": drawn})


def drawing(
    preparation: Mapping[str, object],
    window: Mapping[str, Plain],
    process_windows: Mapping[str, Mapping[str, Plain]],
    runs: Sequence[ProcedureRun],
    code: str,
    system: System,
) -> Sketches:
    """The two drawings of what a form says, in the reader's units, or why there are none."""
    try:
        each = demands_from(window, process_windows, runs, code)
    except BadField as bad:
        facts = {"field": told(bad.field.replace("_", " ")), "problem": told(bad.problem)}
        return Sketches(problem=gettext("No sketch: %(field)s: %(problem)s.") % facts)
    first = next(iter(each.values()))
    return sketches_of(preparation, first, [(run.order, run.layer, run.process) for run in runs], system)


def _asked(name: str, each: Mapping[str, Mapping[str, Value]]) -> tuple[str, str]:
    """Process ("" for all) and variable of a field. Example: "p141_gas" is ("141", "gas")."""
    for process in each:
        if process and name.startswith(f"p{process}_"):
            return process, name.removeprefix(f"p{process}_")
    return "", name


def _lines(
    judgement: Judgement, process: str, variable: str, system: System
) -> list[tuple[ProcessJudgement, VariableView, list[tuple[Line, Line]]]]:
    """The view of the variable for the processes that are asked about, and its lines: in the reader's units, and in
    those of the field, which are SI.
    """
    shown = judgement_in(judgement, system)
    return [
        (judged, view, list(zip(lines(view), lines(of_form), strict=True)))
        for judged, as_typed in zip(shown.processes, judgement.processes, strict=True)
        if process in ("", judged.process)
        for view, of_form in zip(judged.variables, as_typed.variables, strict=True)
        if view.variable == variable
    ]
