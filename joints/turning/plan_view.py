"""The page of a turning plan: the stops of an assembly at a workstation, each with its picture and its welds."""

from collections import Counter
from dataclasses import dataclass
from typing import Any

from django.core.exceptions import BadRequest
from django.db.models import QuerySet
from django.urls import reverse
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from joints.models import Assembly, Joint, Workstation
from joints.ready import day_of
from joints.stations import station_of
from joints.turning.assembly import Halt, Turning, joints_of, turning_of
from joints.turning.drawing import Spot, section_at
from joints.turning.models import BEAM
from register.base.views import Act, DetailPage
from register.judged_words import told, told_within
from register.roles import Capability

PREFERENCES = (("yes", _("flat and horizontal first")), ("no", _("fewest turns first")))
"""Either a weld lies flat or horizontal wherever the arc allows it, or it may lie in any qualified position."""


@dataclass(frozen=True, slots=True)
class Drawn:
    """A stop with its picture."""

    halt: Halt
    svg: SafeString


class TurningPlan(DetailPage):
    """At which turns the welds of an assembly are made, on the date asked about."""

    required_capability = Capability.VIEW
    template_name = "joints/turning.html"
    queryset: QuerySet[Assembly] = Assembly.objects.select_related("job", "geometry")

    def get_page_title(self) -> str:
        return gettext("Turning plan of %(object)s") % {"object": told_within(str(self.object))}

    def get_lead(self) -> str:
        return f"{told(str(self.object.job))}: {self.object.title}"

    def get_acts(self) -> list[Act]:
        if not self.may(Capability.EDIT_JOBS):
            return []
        job = self.object.job_id
        return [
            Act(gettext("Axis and section"), reverse("joints:assembly_geometry", args=[self.object.pk])),
            Act(gettext("Take in geometries"), reverse("joints:geometry_upload", args=[job])),
        ]

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        joints = joints_of(self.object)
        stations = {place for joint in joints if (place := station_of(joint, "final"))}
        station = self._station(joints, stations)
        prefer = self.request.GET.get("prefer", "yes") != "no"
        found = turning_of(self.object, station, day_of(self.on), prefer) if station else None
        return super().get_context_data(
            turning=found,
            drawn=_drawn(found, self.object, joints) if found else (),
            stations=sorted(stations, key=str),
            station=station,
            sheets=self._sheets(found) if found else [],
            preferences=PREFERENCES,
            preferred="yes" if prefer else "no",
            **kwargs,
        )

    def _sheets(self, found: Turning) -> list[tuple[str, str]]:
        """(procedure, address of its sheet with the turns) of those by which a weld of the plan is made first."""
        if not self.may(Capability.PRINT_SHEET):
            return []
        keys = {offer.label: offer.revision_id for offer in day_of(self.on).procedures}
        labels = sorted({made.labels[0] for halt in found.halts for made in halt.made if made.labels})
        language = found.station.sheet_language
        kind = "" if language == "en" else f"?kind=cell-{language}"
        place = self.object.pk, found.station.pk
        return [
            (label, reverse("joints:cell_sheet", args=[*place, keys[label]]) + kind)
            for label in labels
            if label in keys
        ]

    def _station(self, joints: list[Joint], stations: set[Workstation]) -> Workstation | None:
        """The station asked for; else the one with a rotator, or without, that welds most. Raises BadRequest."""
        asked = self.request.GET.get("station", "")
        if asked:
            found = next((one for one in stations if str(one.pk) == asked), None)
            if found is None:
                raise BadRequest(
                    gettext("No joint of this assembly is welded at that workstation. Choose one of the list.")
                )
            return found
        counted = Counter(station_of(joint, "final") for joint in joints)
        turning = sorted(stations, key=lambda one: (one.rotator_from_deg is None, -counted[one], one.name))
        return turning[0] if turning else None


def _drawn(found: Turning, assembly: Assembly, joints: list[Joint]) -> list[Drawn]:
    geometry = getattr(assembly, "geometry", None)
    beam = geometry.beam if geometry is not None else BEAM
    pictures = []
    for halt in found.halts:
        now = {made.joint.pk for made in halt.made}
        spots = [spot for joint in joints if (spot := _spot(joint, joint.pk in now)) is not None]
        drawing = section_at(halt.turn, spots, geometry, found.first, found.last, beam)
        pictures.append(Drawn(halt, mark_safe(drawing)))
    return pictures


def _spot(joint: Joint, now: bool) -> Spot | None:
    geometry = getattr(joint, "geometry", None)
    if geometry is None:
        return None
    known = geometry.across_mm is not None and geometry.up_mm is not None
    return Spot(joint.number, (geometry.across_mm, geometry.up_mm) if known else None, geometry.face, now)
