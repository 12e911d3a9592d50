"""What a user sees of a piece of work: who asked for what, how far it is, how it ended."""

from typing import Any

from django.conf import settings
from django.db import models
from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from register.plants.rows import ForPlantOrGroup, PlantField, ReachManager


class State(models.TextChoices):
    """Where a piece of work stands."""

    WAITING = "waiting", _("waiting")
    RUNNING = "running", _("under way")
    DONE = "done", _("done")
    FAILED = "failed", _("failed")
    CANCELLED = "cancelled", _("cancelled")


UNFINISHED = (State.WAITING, State.RUNNING)


class Work(ForPlantOrGroup, models.Model):
    """A piece of work that somebody asked for.

    `function` names the register.background.kinds.Kind by dotted path, `arguments` are its arguments as JSON values.
    `task_id` is the row of the queue that stands for it now, `claim` the worker that took it up. While it is
    unfinished no second one of the same `key` can be started. It is done within the reach of `plant`, None for all.
    """

    label = models.CharField(_("what"), max_length=80)
    title = models.CharField(_("of what"), max_length=250)
    function = models.CharField(max_length=200)
    arguments = models.JSONField(default=dict)
    key = models.CharField(max_length=64, editable=False)
    asked_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, related_name="+")
    asked_by_name = models.CharField(_("asked by"), max_length=150, db_index=True)
    asked_at = models.DateTimeField(_("asked"), auto_now_add=True, db_index=True)
    started_at = models.DateTimeField(_("started"), null=True, editable=False)
    ended_at = models.DateTimeField(_("ended"), null=True, editable=False, db_index=True)
    state = models.CharField(max_length=10, choices=State, default=State.WAITING, db_index=True)
    done = models.PositiveIntegerField(default=0)
    total = models.PositiveIntegerField(default=0, help_text=_("0: not known"))
    message = models.TextField(blank=True)
    result_url = models.CharField(max_length=250, blank=True)
    result_label = models.CharField(max_length=80, blank=True)
    result = models.JSONField(null=True, blank=True, editable=False, help_text=_("what a page shows, as JSON values"))
    cancel_by = models.CharField(_("cancelled by"), max_length=150, blank=True)
    task_id = models.UUIDField(null=True, editable=False)
    plant = PlantField(null=True)
    claim = models.CharField(max_length=64, blank=True, editable=False)
    tries = models.PositiveSmallIntegerField(default=0, editable=False)

    objects = ReachManager()
    everything = models.Manager()

    class Meta:
        ordering = ("-asked_at", "-pk")
        verbose_name_plural = _("work")
        constraints = (
            models.UniqueConstraint(
                name="same_work_once_at_a_time",
                fields=("key",),
                condition=models.Q(state__in=["waiting", "running"]),
            ),
        )

    def __str__(self) -> str:
        return f"{self.label}: {self.title}"

    def get_absolute_url(self) -> str:
        return reverse("background:work", args=[self.pk])

    @property
    def finished(self) -> bool:
        """True if nothing more will be done."""
        return self.state not in UNFINISHED

    def is_of(self, user: Any) -> bool:
        """True if this user asked for it."""
        return self.asked_by_id is not None and self.asked_by_id == user.pk
