"""What was taken over from the check of weld data: one row for each field that changed, written once and kept."""

from django.db import models

from register.plants.rows import PartOf


class WeldDataChange(PartOf):
    """One field of one joint, from what the model said to what somebody took over, with the reason.

    Never changed and never deleted, not even with its joint: the marks and numbers are kept as text.
    """

    part_of = "job"
    sealed_rows = True

    joint = models.ForeignKey(
        "joints.Joint", on_delete=models.DO_NOTHING, db_constraint=False, related_name="weld_data_changes"
    )
    job = models.ForeignKey(
        "joints.Job", on_delete=models.DO_NOTHING, db_constraint=False, related_name="weld_data_changes"
    )
    assembly_mark = models.CharField(max_length=60)
    joint_number = models.CharField(max_length=40)
    rule = models.CharField(max_length=60)
    field = models.CharField(max_length=60)
    before = models.CharField(max_length=500, blank=True)
    after = models.CharField(max_length=500, blank=True)
    reason = models.TextField()
    clause = models.CharField(max_length=250)
    mark = models.CharField(max_length=40)
    by_name = models.CharField(max_length=150)
    at = models.DateTimeField(auto_now_add=True, db_index=True)

    class Meta:
        app_label = "joints"
        ordering = ("at", "pk")

    def __str__(self) -> str:
        return f"{self.field} of joint {self.joint_number} of assembly {self.assembly_mark}"
