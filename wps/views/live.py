"""A value judged while it is typed, before anything is saved."""

from collections.abc import Mapping
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views import View

from codes.parse import BadField
from codes.values import Value
from register.base.asof import asked_date
from register.held.firm import firm_settings
from register.roles import Capability, RequiresCapability
from wps.forms.revision import RevisionForm
from wps.judgement import Judgement, ProcessJudgement, judge_demands
from wps.models import ProcedureRevision
from wps.offers import offers_of
from wps.runs import run_heat
from wps.window import demands_from


class RevisionLive(RequiresCapability, View):
    """Takes the whole form and answers for the one field that the address names. Saves nothing."""

    required_capability = Capability.EDIT_PROCEDURE

    def post(self, request: HttpRequest, pk: int) -> HttpResponse:
        revision = get_object_or_404(ProcedureRevision.objects.select_related("procedure"), pk=pk)
        form = RevisionForm(request.POST, instance=revision)
        form.is_valid()
        name = request.GET.get("field", "")
        if name in form.errors:
            return render(request, "wps/_live.html", {"problem": " ".join(form.errors[name])})
        return render(request, "wps/_live.html", self._answer(form, name))

    def _answer(self, form: RevisionForm, name: str) -> dict[str, Any]:
        runs = form.runs()
        if name == "runs":
            return {"heats": [(run, run_heat(run)) for run in runs], "problems": form.rows.errors}
        records = form.cleaned_data.get("records") or ()
        try:
            each = demands_from(form.window(), form.process_windows(), runs)
        except BadField as bad:
            return {"problem": bad.problem}
        offers = offers_of(records, form.instance.code, asked_date(self.request), firm_settings())
        judgement = judge_demands(each, offers)
        if name == "records":
            return {"judgement": judgement}
        process, variable = _asked(name, each)
        return {"lines": _lines(judgement, process, variable)}


def _asked(name: str, each: Mapping[str, Mapping[str, Value]]) -> tuple[str, str]:
    """Process ("" for all) and variable of a field. Example: "p141_gas" is ("141", "gas")."""
    for process in each:
        if process and name.startswith(f"p{process}_"):
            return process, name.removeprefix(f"p{process}_")
    return "", name


def _lines(judgement: Judgement, process: str, variable: str) -> list[tuple[ProcessJudgement, Any]]:
    """The view of the variable for the processes that are asked about."""
    return [
        (judged, view)
        for judged in judgement.processes
        if process in ("", judged.process)
        for view in judged.variables
        if view.variable == variable
    ]
