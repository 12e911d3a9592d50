"""Weld metal, filler, arc time and gas of an assembly or a job."""

from collections.abc import Iterator
from decimal import Decimal
from typing import Any

from django.core.exceptions import BadRequest
from django.db.models import QuerySet
from django.http import HttpRequest
from django.http.response import HttpResponseBase
from django.shortcuts import render
from django.utils.translation import gettext

from codes.calc.conversions import US_UNITS, in_us
from codes.units import System
from joints.models import Assembly, Job, Joint
from joints.ready import day_of
from joints.weld_metal.totals import JointMetal, metal_of, totals
from register.base import exports
from register.base.views import DetailPage
from register.judged_words import told_within
from register.own_units.reader import units_of
from register.roles import Capability

HEADS = ("Assembly", "Joint", "Procedure", "Filler")
FIGURES = (
    ("Area", "mm²", 1), ("Welded length", "mm", 1), ("Deposited", "kg", 3), ("Filler to buy", "kg", 3),
    ("Arc time", "min", 1), ("Gas", "l", 1),
)  # fmt: skip
"""Name, unit on file and decimals."""
FINER = {"mm²": 3, "mm": 2, "l": 1}
"""So many decimals more in the larger US unit."""


class MetalPage(DetailPage):
    """What the joints take. Asked for by the page itself, or by the page of the thing for its sums only (htmx)."""

    required_capability = Capability.VIEW
    template_name = "joints/weld_metal/page.html"

    def joints(self) -> QuerySet[Joint]:
        """The joints that count."""
        raise NotImplementedError

    def get_page_title(self) -> str:
        return gettext("Weld metal of %(object)s") % {"object": told_within(str(self.object))}

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        self.object = self.get_object()
        metal, system = metal_of(self.joints(), day_of(self.on)), units_of(request)
        if request.headers.get("HX-Request"):
            return render(request, "joints/weld_metal/_totals.html", {"totals": totals(metal), "system": system})
        if wanted := request.GET.get("export"):
            return self._export(metal, wanted, system)
        return self.render_to_response(self.get_context_data(metal=metal, totals=totals(metal), system=system))

    def _export(self, metal: list[JointMetal], wanted: str, system: System) -> HttpResponseBase:
        if wanted not in ("csv", "xlsx"):
            raise BadRequest(
                gettext("A list can be taken away as csv or xlsx, not as “%(wanted)s”.") % {"wanted": wanted[:20]}
            )
        make = exports.csv_response if wanted == "csv" else exports.xlsx_response
        try:
            return make(rows_of(metal, system), f"weld-metal-{self.object.pk}-{self.on.isoformat()}")
        except ValueError as refusal:
            raise BadRequest(gettext("This list is too long: %(refusal)s.") % {"refusal": refusal}) from refusal

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        urls = [("CSV", "?export=csv"), ("XLSX", "?export=xlsx")]
        return super().get_context_data(export_urls=urls, back=self.object.get_absolute_url(), **kwargs)


class JobMetal(MetalPage):
    """All joints of a job."""

    queryset = Job.objects.all()

    def joints(self) -> QuerySet[Joint]:
        return Joint.objects.filter(assembly__job=self.object).order_by(
            "assembly__order_key", "assembly_id", "order_key", "pk"
        )


class AssemblyMetal(MetalPage):
    """The joints of one assembly."""

    queryset = Assembly.objects.select_related("job")

    def joints(self) -> QuerySet[Joint]:
        return Joint.objects.filter(assembly=self.object).order_by("order_key", "pk")


def rows_of(metal: list[JointMetal], system: System = System.SI) -> Iterator[tuple[Any, ...]]:
    """The heads, then a row for each joint, as plain data in the reader's units."""
    turned = US_UNITS if system is System.US else {}
    yield (*HEADS, *(f"{name} [{turned.get(unit, unit)}]" for name, unit, _ in FIGURES), "Not known")
    for one in metal:
        found = one.found
        figures = (found.area, one.length, found.deposited, found.filler, found.arc_minutes, found.gas)
        yield (
            one.joint.assembly.mark,
            one.joint.number,
            one.recipe.label,
            one.recipe.filler,
            *(_figure(value, *of, system) for value, (_, *of) in zip(figures, FIGURES, strict=True)),
            "; ".join(found.missing),
        )


def _figure(value: Decimal | None, unit: str, decimals: int, system: System) -> Decimal | None:
    if value is None:
        return None
    if system is System.US and unit in US_UNITS:
        value, decimals = in_us(value, unit)[0], decimals + FINER.get(unit, 0)
    return value.quantize(Decimal(1).scaleb(-decimals))
