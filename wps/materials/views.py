"""Pages of material certificates."""

from decimal import Decimal
from typing import Any, ClassVar

from django.db.models import Model, QuerySet
from django.shortcuts import get_object_or_404
from django.urls import reverse
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from codes.delivery import full_name
from codes.steels import UnknownGrade
from codes.units import System, amount_in
from register.base.views import Act, DetailPage, FormPage, ListPage
from register.calculations.typed import ELEMENTS
from register.evidence.acts import attached_to
from register.evidence.views import AddEvidence, WithdrawEvidence
from register.held.grades import known_grade
from register.judged_words import told
from register.own_units.reader import units_of
from register.roles import Capability
from wps.materials.equivalents import equivalents
from wps.materials.forms import PLAN, MaterialForm
from wps.materials.models import MaterialCertificate
from wps.materials.tables import MaterialFilter, MaterialTable
from wps.materials.words import energy_in, span_words
from wps.trail import trail


class MaterialList(ListPage):
    """All material certificates."""

    required_capability = Capability.VIEW
    page_title = _("Material certificates")
    lead = _("Certificates of parent materials by heat, with the carbon equivalents that preheat is reckoned from.")
    table_class = MaterialTable
    filterset_class = MaterialFilter
    create_label = _("Enter a certificate")
    empty: ClassVar[dict[str, str]] = {
        "title": _("No material certificate is on file."),
        "teach": _(
            "Enter the analysis of a heat from its certificate: preheat is then reckoned for the steel "
            "you have, not for the worst that its grade allows."
        ),
    }

    def get_queryset(self) -> QuerySet[MaterialCertificate]:
        return MaterialCertificate.objects.all()

    def get_table_kwargs(self) -> dict[str, Any]:
        return {"system": units_of(self.request)}

    def get_create_url(self) -> str:
        return reverse("wps:material_new") if self.may(Capability.EDIT_RECORD) else ""


class MaterialPage(DetailPage):
    """One certificate: what the analysis gives, first."""

    required_capability = Capability.VIEW
    model = MaterialCertificate
    template_name = "wps/materials/certificate.html"

    def get_lead(self) -> str:
        return ", ".join(filter(None, (self.object.standard, told(f"certificate {self.object.document_reference}"))))

    def get_facts(self) -> list[tuple[str, ...]]:
        one = self.object
        system = units_of(self.request)
        cold = f" at {_amount(one.impact_temperature_c, '°C', system)}" if one.impact_temperature_c is not None else ""
        energy = energy_in(one.impact_j, system) if one.impact_j is not None else ""
        return [
            (gettext("Grade"), full_name(one.grade, one.delivery_condition)),
            (gettext("Grade held here"), _held(one.grade)),
            (gettext("Thickness"), span_words(one.thickness_min_mm, one.thickness_max_mm, "mm", system)),
            (gettext("Yield strength"), _amount(one.yield_mpa, "MPa", system)),
            (gettext("Tensile strength"), _amount(one.tensile_mpa, "MPa", system)),
            (gettext("Elongation"), _amount(one.elongation_pct, "%", system)),
            (gettext("Impact energy, mean"), f"{energy}{cold}" if energy else ""),
            (gettext("Inspection document"), str(one.get_document_type_display())),
            (gettext("Maker"), one.maker),
            (gettext("Issued on"), str(one.issued_on or "")),
        ]

    def get_acts(self) -> list[Act]:
        if not self.may(Capability.EDIT_RECORD):
            return []
        return [
            Act(gettext("Attach a scan"), reverse("wps:material_scan", args=[self.object.pk])),
            Act(gettext("Change"), reverse("wps:material_edit", args=[self.object.pk])),
        ]

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        stated = self.object.analysis
        order = [*(e for e in ELEMENTS if e in stated), *(e for e in stated if e not in ELEMENTS)]
        return super().get_context_data(
            system=units_of(self.request),
            worked=equivalents(self.object.elements),
            elements=[(element, stated[element]) for element in order],
            unknown=[element for element in ELEMENTS if element not in stated],
            history=trail(self.object),
            scans=[(file, "the certificate") for file in attached_to(self.object)],
            withdraw_name="wps:material_scan_withdraw" if self.may(Capability.EDIT_RECORD) else "",
            **kwargs,
        )


class MaterialNew(FormPage):
    """The form for a new certificate."""

    required_capability = Capability.EDIT_RECORD
    model = MaterialCertificate
    form_class = MaterialForm
    plan = PLAN
    page_title = _("A new material certificate")
    lead = _(
        "Copy what the certificate states. An element that it does not state stays unknown; it is never nought here."
    )
    saved_message = _("{0} is on file.")

    def get_cancel_url(self) -> str:
        return self.object.get_absolute_url() if self.object and self.object.pk else reverse("wps:material_list")


class MaterialEdit(MaterialNew):
    """The form for a certificate on file."""

    saved_message = _("Saved: {0}.")

    def get_page_title(self) -> str:
        return gettext("Change %(object)s") % {"object": self.object}


class MaterialScan(AddEvidence):
    """Attach a scan of the certificate."""

    required_capability = Capability.EDIT_RECORD

    def find_subject(self) -> Model:
        return get_object_or_404(MaterialCertificate, pk=self.kwargs["pk"])


class MaterialScanWithdraw(WithdrawEvidence):
    """Withdraw a scan of a certificate; it stays on file."""

    required_capability = Capability.EDIT_RECORD
    subjects = (MaterialCertificate,)


def _held(grade: str) -> str:
    try:
        return str(known_grade(grade).name)
    except UnknownGrade as unknown:
        return f"no: {unknown}"


def _amount(value: Decimal | None, unit: str, system: System) -> str:
    return amount_in(value, unit, system) if value is not None else ""
