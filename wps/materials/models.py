"""A certificate of parent material (inspection document) for one heat."""

from decimal import Decimal

from django.core.validators import MinValueValidator
from django.db import models
from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from codes.steels import DELIVERY_CONDITIONS
from register.models import Recorded
from register.plants.rows import InPlant

ABOVE_ZERO = MinValueValidator(Decimal("0.001"), "must be more than 0")
_FIGURE = {"max_digits": 8, "decimal_places": 3, "null": True, "blank": True}


class Kind(models.TextChoices):
    """Which analysis is stated; the one of the product comes first where both are known."""

    PRODUCT = "product", _("product analysis")
    LADLE = "ladle", _("ladle analysis")


class DocumentType(models.TextChoices):
    """Inspection documents of EN 10204."""

    D21 = "2.1", _("2.1 declaration of compliance")
    D22 = "2.2", _("2.2 test report")
    D31 = "3.1", _("3.1 inspection certificate")
    D32 = "3.2", _("3.2 inspection certificate")


class MaterialCertificate(InPlant, Recorded):
    """What the maker states of one heat. `analysis`: element -> mass % as decimal text; what is not in it is unknown.

    The thickness band is that of the product delivered, ends included.
    """

    grade = models.CharField(_("steel grade"), max_length=60, db_index=True, help_text=_("as certified, e.g. S355J2+N"))
    standard = models.CharField(_("material standard"), max_length=60, blank=True, help_text=_("such as EN 10025-2"))
    heat_number = models.CharField(_("heat number"), max_length=40, db_index=True)
    thickness_min_mm = models.DecimalField(_("thickness from [mm]"), validators=[ABOVE_ZERO], **_FIGURE)
    thickness_max_mm = models.DecimalField(_("thickness to [mm]"), validators=[ABOVE_ZERO], **_FIGURE)
    delivery_condition = models.CharField(
        _("delivery condition"), max_length=4, blank=True, choices=[(word, f"+{word}") for word in DELIVERY_CONDITIONS]
    )
    analysis = models.JSONField(_("analysis"), default=dict, blank=True)
    analysis_kind = models.CharField(_("analysis of"), max_length=8, blank=True, choices=Kind)
    yield_mpa = models.DecimalField(_("yield strength [MPa]"), validators=[ABOVE_ZERO], **_FIGURE)
    tensile_mpa = models.DecimalField(_("tensile strength [MPa]"), validators=[ABOVE_ZERO], **_FIGURE)
    elongation_pct = models.DecimalField(_("elongation [%]"), validators=[ABOVE_ZERO], **_FIGURE)
    impact_j = models.DecimalField(_("impact energy, mean [J]"), validators=[ABOVE_ZERO], **_FIGURE)
    impact_temperature_c = models.DecimalField(_("impact test temperature [°C]"), **_FIGURE)
    maker = models.CharField(_("maker"), max_length=120, blank=True)
    document_type = models.CharField(_("inspection document"), max_length=3, blank=True, choices=DocumentType)
    document_reference = models.CharField(_("certificate number"), max_length=80)
    issued_on = models.DateField(_("issued on"), null=True, blank=True)
    notes = models.TextField(blank=True)

    class Meta:
        ordering = ("grade", "heat_number", "pk")
        constraints = (
            models.UniqueConstraint(
                fields=("plant", "heat_number", "document_reference", "grade"),
                name="material_certificate_once",
                violation_error_message=_("This heat is on file already with this certificate and grade."),
            ),
            models.CheckConstraint(
                name="material_thickness_ends",
                condition=models.Q(thickness_min_mm__isnull=True)
                | models.Q(thickness_max_mm__isnull=True)
                | models.Q(thickness_max_mm__gte=models.F("thickness_min_mm")),
                violation_error_message=_("The thickness ends before it begins."),
            ),
        )

    def __str__(self) -> str:
        return f"{self.grade}, heat {self.heat_number}"

    def get_absolute_url(self) -> str:
        """The page of this certificate."""
        return reverse("wps:material", args=[self.pk])

    @property
    def elements(self) -> dict[str, Decimal]:
        """Element -> mass %."""
        return {element: Decimal(share) for element, share in self.analysis.items()}
