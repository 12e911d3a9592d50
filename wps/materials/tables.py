"""The list of material certificates, and how it is narrowed down."""

from typing import Any

import django_filters
import django_tables2 as tables
from django.utils.safestring import SafeString
from django.utils.translation import gettext_lazy as _

from codes.units import System
from register.base.filters import RegisterFilterSet
from register.base.tables import LeanTable, link
from wps.materials.equivalents import Worked, equivalents
from wps.materials.models import DocumentType, MaterialCertificate
from wps.materials.words import span_words


class MaterialTable(LeanTable):
    """Certificates with the carbon equivalents that their analyses give."""

    heat_number = tables.Column(verbose_name=_("Heat"))
    grade = tables.Column()
    standard = tables.Column()
    thickness = tables.Column(verbose_name=_("Thickness"), empty_values=(), orderable=False)
    ce = tables.Column(verbose_name=_("CE [%]"), empty_values=(), orderable=False)
    cet = tables.Column(verbose_name=_("CET [%]"), empty_values=(), orderable=False)
    pcm = tables.Column(verbose_name=_("Pcm [%]"), empty_values=(), orderable=False)
    document_reference = tables.Column(verbose_name=_("Certificate"))

    caption = _("Material certificates")
    numeric = ("ce", "cet", "pcm")
    unbroken = ("heat_number", "thickness", "standard", "document_reference")

    class Meta(LeanTable.Meta):
        order_by = ("heat_number", "pk")

    def __init__(self, *args: Any, system: System, **kwargs: Any) -> None:
        self.system = system
        super().__init__(*args, **kwargs)

    def render_heat_number(self, record: MaterialCertificate) -> SafeString:
        return link(record.get_absolute_url(), record.heat_number)

    def value_heat_number(self, record: MaterialCertificate) -> str:
        return record.heat_number

    def render_thickness(self, record: MaterialCertificate) -> str:
        return span_words(record.thickness_min_mm, record.thickness_max_mm, "mm", self.system)

    def render_ce(self, record: MaterialCertificate) -> str:
        return _of(record, "CE")

    def render_cet(self, record: MaterialCertificate) -> str:
        return _of(record, "CET")

    def render_pcm(self, record: MaterialCertificate) -> str:
        return _of(record, "Pcm")


def _of(record: MaterialCertificate, name: str) -> str:
    found: tuple[Worked, ...] | None = getattr(record, "_worked", None)
    if found is None:
        found = equivalents(record.elements)
        record._worked = found  # type: ignore[attr-defined]
    one = next(worked for worked in found if worked.name == name)
    return one.printed.removesuffix(" %") if one.value is not None else "not known"


class MaterialFilter(RegisterFilterSet):
    """By grade, standard and kind of document."""

    search_fields = ("heat_number", "grade", "standard", "document_reference", "maker")

    grade = django_filters.AllValuesFilter(label=_("Grade"))
    document_type = django_filters.ChoiceFilter(choices=DocumentType.choices, label=_("Inspection document"))

    class Meta:
        model = MaterialCertificate
        fields = ("grade", "document_type")
