"""The summary of one run of a log. The samples themselves are not kept; the hash says which file they were in."""

from typing import Any

from django.db import models
from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from register.plants.rows import PartOf


class WeldRunFinding(PartOf):
    """One run of one joint as a controller logged it, against the procedure named. Written once.

    `details`: window, times, excursions (see joints.weld_values.findings.RunLog.plain).
    """

    OUTCOMES = (("covered", "inside"), ("outside", "outside"), ("not stated", "not stated"))

    part_of = "job"
    sealed_rows = True

    job = models.ForeignKey("joints.Job", on_delete=models.CASCADE, related_name="weld_findings")
    revision = models.ForeignKey("wps.ProcedureRevision", on_delete=models.PROTECT, related_name="weld_findings")
    joint = models.ForeignKey(
        "joints.Joint", on_delete=models.SET_NULL, null=True, blank=True, related_name="weld_findings"
    )
    joint_text = models.CharField(_("joint in the log"), max_length=80, blank=True)
    run_text = models.CharField(_("run in the log"), max_length=40, blank=True)
    outcome = models.CharField(max_length=10, choices=OUTCOMES, db_index=True)
    samples = models.PositiveIntegerField()
    arc_seconds = models.DecimalField(max_digits=14, decimal_places=6)
    details = models.JSONField(default=dict)
    order = models.PositiveIntegerField()
    file_name = models.CharField(max_length=250)
    sha256 = models.CharField(max_length=64, db_index=True)
    uploaded_by = models.CharField(max_length=150)
    uploaded_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ("-uploaded_at", "sha256", "order", "pk")
        constraints = (
            models.UniqueConstraint(fields=("job", "revision", "sha256", "order"), name="weld_finding_once"),
        )

    def __str__(self) -> str:
        return f"Run {self.run_text} of {self.joint_text or 'a joint not named'}"

    def get_absolute_url(self) -> str:
        """The findings of its file."""
        return reverse("joints:weld_values_file", args=[self.job_id, self.revision_id, self.sha256])

    def save(self, *args: Any, **kwargs: Any) -> None:
        """Raises ValueError if it is written already."""
        if not self._state.adding:
            raise ValueError("A finding is written once; judge the log anew against another procedure.")
        super().save(*args, **kwargs)
