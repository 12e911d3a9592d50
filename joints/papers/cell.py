"""The sheet of a procedure for the cell, with the turns of the rotator for one assembly at one workstation.

The check code stays that of the procedure, whose sheet is issued first, and the sheet says so beside it; the turns are
the day's, and are kept nowhere.
"""

from datetime import date

from django.core.exceptions import BadRequest
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.utils.translation import gettext
from django.views.decorators.http import require_safe

from codes.values import number
from joints.models import Assembly, Workstation
from joints.ready import day_of
from joints.turning.assembly import Turning, turning_of
from register.base.asof import asked_date
from register.held.firm import firm_settings
from register.own_units.reader import usual_units
from register.papers.codes import status_address
from register.papers.printing import POLICY
from register.roles import Capability, requires
from wps import issued
from wps.models import ProcedureRevision
from wps.sheets import Choice, Place, SheetError, file_stem, sheet

NONE = "no stop of the turning plan holds a weld of this procedure"


def place_of(assembly: Assembly, revision: ProcedureRevision, turning: Turning, on: date) -> Place:
    """The stops at which a weld may be made by the procedure, in the order of turning."""
    label = str(revision)
    stops = []
    for halt in turning.halts:
        by_position: dict[str, list[str]] = {}
        for made in halt.made:
            if label in made.labels:
                by_position.setdefault(made.position, []).append(made.joint.number)
        said = "; ".join(f"{', '.join(numbers)} ({position})" for position, numbers in by_position.items())
        if said:
            stops.append((f"{number(halt.turn)}°", said))
    heading = f"{assembly} · {turning.station} · {on.isoformat()}"
    return Place(heading, tuple(stops) or (("–", NONE),), turning.first != turning.last)


@requires(Capability.PRINT_SHEET)
@require_safe
def cell_sheet(request: HttpRequest, pk: int, station: int, revision: int) -> HttpResponse:
    """The sheet (?kind=cell|cell-de|cell-fr, paper=a4|letter, units=si|us), on the date asked about."""
    assembly = get_object_or_404(Assembly.objects.select_related("job", "geometry"), pk=pk)
    place = get_object_or_404(Workstation, pk=station)
    found = get_object_or_404(ProcedureRevision.objects.select_related("procedure"), pk=revision)
    on = asked_date(request)
    turns = place_of(assembly, found, turning_of(assembly, place, day_of(on)), on)
    asked = {"units": usual_units(request).value} | request.GET.dict()
    try:
        choice = Choice(**{name: asked[name] for name in ("kind", "paper", "units") if name in asked})
        if not choice.is_cell:
            raise SheetError(gettext("kind: the turns stand on the sheet for the cell only; leave the kind out"))
        address = ""
        if issued.is_issuable(found):
            # Scanned, the code must be known.
            issued.find(found, choice) or issued.issue(found, choice, request.user, status_address(request))
            address = status_address(request)
        made = sheet(found, choice, on, address, firm_settings(), turns)
    except SheetError as refusal:
        raise BadRequest(str(refusal)) from None
    response = HttpResponse(made.pdf, content_type="application/pdf")
    response.headers["Content-Disposition"] = f'inline; filename="{file_stem(found, choice)}-{assembly.pk}.pdf"'
    response.headers["Content-Security-Policy"] = POLICY
    response.headers["Cache-Control"] = "private, no-store"
    return response
