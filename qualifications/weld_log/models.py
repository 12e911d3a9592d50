"""Entries of the weld log, and the files from a cell's controller that they came from."""

from decimal import Decimal

from django.conf import settings
from django.core.validators import MinValueValidator
from django.db import models
from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from codes.terms import both_names
from register.models import Recorded
from register.plants.reach import current
from register.plants.rows import InPlant

ABOVE_ZERO = MinValueValidator(Decimal("0.01"), "must be more than 0")


def _measured(label: str) -> models.DecimalField:
    return models.DecimalField(
        label, max_digits=8, decimal_places=2, null=True, blank=True, validators=[ABOVE_ZERO], editable=False
    )


class WeldLogBatch(InPlant):
    """A file of the weld log that was sent in: read and shown first, written only when somebody says so.

    `rows` holds what was read, `problems` what was wrong with it. The same bytes are taken in once.
    """

    UPLOADED, CONFIRMED = "uploaded", "confirmed"
    STATUSES = ((UPLOADED, "shown, not taken in"), (CONFIRMED, "taken in"))

    file_name = models.CharField(max_length=250)
    sha256 = models.CharField(max_length=64, db_index=True)
    rows = models.JSONField(default=list)
    problems = models.JSONField(default=list)
    status = models.CharField(max_length=10, choices=STATUSES, default=UPLOADED)
    uploaded_by = models.CharField(max_length=150)
    uploaded_at = models.DateTimeField(auto_now_add=True)
    confirmed_by = models.CharField(max_length=150, blank=True)
    confirmed_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("-uploaded_at", "-pk")
        verbose_name = _("file of the weld log")
        verbose_name_plural = _("files of the weld log")
        constraints = (
            models.UniqueConstraint(
                name="same_log_file_once", fields=("plant", "sha256"), condition=models.Q(status="confirmed")
            ),
        )

    def __str__(self) -> str:
        return f"Log file {self.file_name}"

    def get_absolute_url(self) -> str:
        """The page that shows what was read."""
        return reverse("qualifications:weld_log_file", args=[self.pk])


class WeldLogEntry(InPlant, Recorded):
    """Who welded what, with which process, on which day. Evidence for confirmations; it never signs by itself.

    A mistaken entry is struck out with a reason and stays visible. `at` is the moment, where a controller states it;
    its figures are evidence only and are held against no limit here. It belongs to the plant where it was welded; the
    plant of the person reads it too.
    """

    person = models.ForeignKey("qualifications.Person", on_delete=models.PROTECT, related_name="weld_log")
    on = models.DateField(_("welded on"))
    at = models.DateTimeField(_("moment of welding"), null=True, blank=True, editable=False)
    process = models.CharField(max_length=10)
    mechanisation = models.CharField(max_length=20)
    weld_type = models.CharField(max_length=20, blank=True)
    position = models.CharField(max_length=10, blank=True)
    wps = models.CharField(_("WPS"), max_length=80, blank=True)
    joint = models.CharField(max_length=120, blank=True)
    workstation = models.CharField(max_length=80, blank=True)
    current_a = _measured(_("current [A]"))
    voltage_v = _measured(_("voltage [V]"))
    travel_mm_min = _measured(_("travel speed [mm/min]"))
    note = models.TextField(blank=True)
    entered_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.SET_NULL, related_name="+"
    )
    entered_by_name = models.CharField(max_length=150, blank=True)
    struck_out = models.TextField(_("struck out because"), blank=True)
    source = models.ForeignKey(
        WeldLogBatch, null=True, blank=True, editable=False, on_delete=models.PROTECT, related_name="entries"
    )
    source_row = models.PositiveIntegerField(null=True, blank=True, editable=False)

    class Meta:
        ordering = ("-on", "-pk")
        verbose_name_plural = _("weld log entries")
        indexes = (
            models.Index(fields=("person", "process", "on"), name="weld_log_of_person"),
            models.Index(fields=("-on", "-id"), name="weld_log_by_day"),
        )

    def __str__(self) -> str:
        return f"{self.on} {self.person.name} {self.process} {self.joint}".rstrip()

    @classmethod
    def also_in_reach(cls, plants: frozenset[int]) -> models.Q:
        """What one's own people welded elsewhere."""
        return models.Q(person__plant__in=sorted(plants))

    def new_plant(self) -> int:
        """Where it was welded: at the person's own plant, where nothing else is chosen."""
        return self.person.plant_id if current().plants is None and self.person_id else current().home

    @property
    def text(self) -> str:
        """The entry in one line, as evidence. Example: "2026-10-02: 135 · GMAW, joint B12/3, WPS 014"."""
        parts = [both_names("process", self.process)]
        parts += [f"joint {self.joint}"] if self.joint else []
        parts += [f"WPS {self.wps.removeprefix('WPS ')}"] if self.wps else []
        parts += [f"at {self.workstation}"] if self.workstation and not self.joint else []
        return f"{self.on.isoformat()}: {', '.join(parts)}"

    @property
    def figures(self) -> str:
        """What the controller measured, in words. Example: "210 A, 26.5 V, 400 mm/min"."""
        stated = ((self.current_a, "A"), (self.voltage_v, "V"), (self.travel_mm_min, "mm/min"))
        return ", ".join(f"{value.normalize():f} {unit}" for value, unit in stated if value is not None)
