"""The firm's choice of readings, its ticks against its own copies of the standards, its own grades: append-only."""

from django.core.exceptions import PermissionDenied
from django.db import models
from django.utils import timezone
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from codes.steels import GROUPING, Grade, addition, name_key


class AppendOnly(models.Model):
    """A dated statement by a named person, written once; the latest of its kind counts."""

    at = models.DateTimeField(default=timezone.now, editable=False, db_index=True)
    by_name = models.CharField(max_length=150)

    class Meta:
        abstract = True
        ordering = ("at", "pk")

    def save(self, *args: object, **kwargs: object) -> None:
        """Write it. Raises PermissionDenied if it is written already."""
        if not self._state.adding:
            raise PermissionDenied(gettext("This is written once and never changed; make a new entry."))
        super().save(*args, **kwargs)  # type: ignore[arg-type]

    def delete(self, *args: object, **kwargs: object) -> tuple[int, dict[str, int]]:
        """Raises PermissionDenied, always."""
        raise PermissionDenied(gettext("This is never deleted; make a new entry."))


class FirmReading(AppendOnly):
    """From this moment on the firm reads a doubtful rule in the way of `option`."""

    switch = models.CharField(max_length=80, db_index=True)
    option = models.CharField(max_length=60)
    why = models.TextField()

    class Meta(AppendOnly.Meta):
        verbose_name = _("reading of the firm")

    def __str__(self) -> str:
        return f"{self.switch}: {self.option}"


class ClauseCheck(AppendOnly):
    """Somebody laid a clause or table beside the firm's own copy of the standard: it agrees, or no longer counts."""

    clause = models.CharField(max_length=250, db_index=True)
    agrees = models.BooleanField()
    note = models.CharField(max_length=250, blank=True)

    class Meta(AppendOnly.Meta):
        verbose_name = _("check against the standard")

    def __str__(self) -> str:
        return f"{self.clause}: {'checked' if self.agrees else 'not checked'}"


class FirmGrade(AppendOnly):
    """From this moment on the firm holds a steel grade of its own, or holds it no longer (`withdrawn`).

    `group`: to ISO/TR 15608 of the edition in `grouping`. `bands`: specified minimum yield [MPa] by thickness [mm], as
    `codes.steels` writes them ("16:355 40:345").
    """

    name = models.CharField(_("steel grade"), max_length=40)
    standard = models.CharField(_("product standard or data sheet"), max_length=80, blank=True)
    grouping = models.CharField(max_length=40, default=GROUPING)
    group = models.CharField(max_length=10)
    bands = models.CharField(_("yield strength by thickness"), max_length=250)
    source = models.CharField(max_length=250)
    note = models.CharField(max_length=250, blank=True)
    why = models.TextField()
    withdrawn = models.BooleanField(default=False)

    class Meta(AppendOnly.Meta):
        verbose_name = _("steel grade of the firm")

    def __str__(self) -> str:
        return f"{self.name}, group {self.group}{', withdrawn' if self.withdrawn else ''}"

    @staticmethod
    def key_of(name: str) -> str:
        """What a name is known by: the same for every spelling by which the codes find it."""
        return name_key(name)

    @property
    def key(self) -> str:
        """What the grade is known by."""
        return self.key_of(self.name)

    @property
    def grade(self) -> Grade:
        """The grade as the codes take it."""
        return addition(self.name, self.group, self.bands, self.source, self.standard, self.note)

    @property
    def facts(self) -> dict[str, str]:
        """What the trail keeps of it."""
        names = ("name", "standard", "grouping", "group", "bands", "source", "note")
        return {name: getattr(self, name) for name in names}
