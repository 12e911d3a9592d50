"""The papers of jobs and assemblies as PDF, on the date asked about (?paper=a4|letter, units=si|us)."""

from collections.abc import Callable
from datetime import date
from typing import Any

from django.core.exceptions import BadRequest
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.views.decorators.http import require_safe

from codes.units import System
from joints.models import Assembly
from joints.papers import coverage, weld_map
from register.base.asof import asked_date
from register.papers.printing import Draft, PaperChoice, PaperError, respond
from register.roles import Capability, requires


def _of_assembly(make: Callable[[Assembly, date, System], Draft]) -> Any:
    """The view of a paper of an assembly."""

    @requires(Capability.VIEW)
    @require_safe
    def view(request: HttpRequest, pk: int) -> HttpResponse:
        assembly = get_object_or_404(Assembly.objects.select_related("job", "geometry"), pk=pk)
        try:
            return respond(request, make(assembly, asked_date(request), PaperChoice.of(request).system))
        except PaperError as refusal:
            raise BadRequest(str(refusal)) from None

    return view


coverage_report = _of_assembly(coverage.draft)
map_of_welds = _of_assembly(weld_map.draft)
