"""Lists and models that were sent in, how each sender heads his columns, and what was known when they came."""

from typing import Any

from django.db import models
from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from register.models import Recorded
from register.plants.rows import InPlant, PartOf


class ListSender(InPlant, Recorded):
    """A firm that sends lists of welds: its headings are named once and known again."""

    name = models.CharField(_("firm"), max_length=120)

    class Meta:
        app_label = "joints"
        ordering = ("name", "pk")
        constraints = (models.UniqueConstraint(fields=("plant", "name"), name="list_sender_once"),)

    def __str__(self) -> str:
        return self.name


class SenderColumns(PartOf):
    """One edition of a sender's headings: which column is which of ours, and which are in inches.

    `fields` and `units` are by the place of the column, counted from 0 ("3" -> "t1_mm", "3" -> "in").
    """

    part_of = "sender"

    sender = models.ForeignKey(ListSender, on_delete=models.CASCADE, related_name="editions")
    edition = models.CharField(max_length=64, editable=False, help_text=_("the hash of the headings"))
    headings = models.JSONField(default=list)
    fields = models.JSONField(default=dict)
    units = models.JSONField(default=dict)
    named_by = models.CharField(max_length=150)
    named_at = models.DateTimeField(auto_now=True)

    class Meta:
        app_label = "joints"
        ordering = ("sender", "-named_at")
        verbose_name_plural = _("columns of senders")
        constraints = (models.UniqueConstraint(name="one_edition_per_sender", fields=("sender", "edition")),)

    def __str__(self) -> str:
        return f"{len(self.fields)} columns of {self.sender}"


class ImportBatch(PartOf):
    """A list or a model that was sent in: read and shown first, written only when somebody says so.

    `rows` holds the first rows as read, `problems` what was wrong, `comparison` what it would change; the bytes lie
    with the evidence, under `sha256` (what was read out of a model or a workbook under `extract`). The same bytes are
    taken into a job once.
    """

    NAMING, UPLOADED, CONFIRMED = "naming", "uploaded", "confirmed"
    STATUSES = (
        (NAMING, "columns to be named"),
        (UPLOADED, "shown, not taken in"),
        (CONFIRMED, "taken in"),
    )
    LIST, MODEL = "list", "model"
    KINDS = ((LIST, "list"), (MODEL, "model"))
    PART, ASSEMBLIES, WHOLE = "part", "assemblies", "whole"
    SCOPES = (
        (PART, "some joints: nothing is taken as removed"),
        (ASSEMBLIES, "all joints of the assemblies that it names"),
        (WHOLE, "all joints of the job"),
    )

    part_of = "job"

    job = models.ForeignKey("joints.Job", on_delete=models.CASCADE, related_name="imports")
    kind = models.CharField(max_length=8, choices=KINDS, default=LIST)
    sender = models.ForeignKey(ListSender, on_delete=models.PROTECT, null=True, blank=True, related_name="batches")
    scope = models.CharField(max_length=12, choices=SCOPES, default=PART)
    file_name = models.CharField(max_length=250)
    sha256 = models.CharField(max_length=64, db_index=True)
    extract = models.CharField(max_length=64, blank=True)
    columns = models.JSONField(default=dict, help_text=_("fields and units by place, where they were named"))
    defaults = models.JSONField(default=dict)
    corrections = models.JSONField(default=dict, help_text=_("row:field -> what stands there instead"))
    choices = models.JSONField(default=dict, help_text=_("joint:field -> ours or theirs, where both changed"))
    rows = models.JSONField(default=list)
    row_count = models.PositiveIntegerField(default=0)
    problems = models.JSONField(default=list)
    comparison = models.JSONField(default=dict)
    status = models.CharField(max_length=10, choices=STATUSES, default=UPLOADED)
    uploaded_by = models.CharField(max_length=150)
    uploaded_at = models.DateTimeField(auto_now_add=True)
    confirmed_by = models.CharField(max_length=150, blank=True)
    confirmed_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        app_label = "joints"
        ordering = ("-uploaded_at", "-pk")
        verbose_name_plural = _("import batches")
        constraints = (
            models.UniqueConstraint(
                name="same_list_once_per_job",
                fields=("job", "sha256"),
                condition=models.Q(status="confirmed"),
            ),
        )

    def __str__(self) -> str:
        return f"List {self.file_name}" if self.kind == self.LIST else f"Model {self.file_name}"

    def get_absolute_url(self) -> str:
        return reverse("joints:import_preview", args=[self.pk])

    @property
    def is_model(self) -> bool:
        """True for an IFC model."""
        return self.kind == self.MODEL

    @property
    def errors(self) -> list[dict[str, Any]]:
        """What keeps it from being taken in."""
        return [problem for problem in self.problems if not problem.get("is_note")]


class JointAsSent(PartOf):
    """What the list or model said of a joint when it last came, as plain text by field; blank: it said nothing.

    A cell that could not be read is kept as it was written.
    """

    part_of = "joint"

    joint = models.OneToOneField("joints.Joint", on_delete=models.CASCADE, related_name="as_sent")
    batch = models.ForeignKey(ImportBatch, on_delete=models.CASCADE, related_name="as_sent")
    values = models.JSONField(default=dict)

    class Meta:
        app_label = "joints"
        verbose_name_plural = _("joints as sent")

    def __str__(self) -> str:
        return f"As sent: joint {self.joint_id}"


class JointDifference(PartOf):
    """One thing in which a list or a model differs from what is on file: where, and what stood and stands there.

    Mark and number are text, so that they stay if the joint goes.
    """

    part_of = "batch"

    assembly_mark = models.CharField(max_length=60)
    joint_number = models.CharField(max_length=40)
    field = models.CharField(max_length=60, blank=True)
    before = models.CharField(max_length=500, blank=True)
    after = models.CharField(max_length=500, blank=True)

    class Meta:
        abstract = True
        app_label = "joints"
        ordering = ("pk",)

    def __str__(self) -> str:
        return f"{self.get_kind_display()}: joint {self.joint_number} of {self.assembly_mark}"


class ImportDifference(JointDifference):
    """One thing that an import changed on file: a field of a joint, a joint removed, or one that came back.

    A joint that is new is named where others of the job were on file before. Written once with the import and kept.
    """

    ADDED, CHANGED, REMOVED, BACK, KEPT = "added", "changed", "removed", "back", "kept"
    KINDS = (
        (ADDED, _("added")),
        (CHANGED, _("changed")),
        (REMOVED, _("no longer in it")),
        (BACK, _("in it again")),
        (KEPT, _("kept as corrected here")),
    )

    batch = models.ForeignKey(ImportBatch, on_delete=models.CASCADE, related_name="differences")
    kind = models.CharField(max_length=8, choices=KINDS)
    joint = models.ForeignKey("joints.Joint", on_delete=models.DO_NOTHING, db_constraint=False, related_name="+")


class ShownDifference(JointDifference):
    """One thing that a list or a model would change, as it was compared last; gone once it is taken in.

    `joint` is empty for a new one.
    """

    CONTESTED = "both"
    KINDS = (*ImportDifference.KINDS, (CONTESTED, _("changed on both sides")))

    batch = models.ForeignKey(ImportBatch, on_delete=models.CASCADE, related_name="shown")
    kind = models.CharField(max_length=8, choices=KINDS)
    joint = models.ForeignKey(
        "joints.Joint", on_delete=models.DO_NOTHING, db_constraint=False, null=True, related_name="+"
    )


class AnswerOnImport(PartOf):
    """What the answer to a joint was on the day of an import, in short; written once, never asked again.

    A record of what was said then. Today's answer, and that of any other day, is worked out from the evidence.
    """

    part_of = "batch"

    batch = models.ForeignKey(ImportBatch, on_delete=models.CASCADE, related_name="answers")
    joint = models.ForeignKey("joints.Joint", on_delete=models.DO_NOTHING, db_constraint=False, related_name="+")
    on = models.DateField()
    outcome = models.CharField(max_length=12)
    procedures = models.CharField(max_length=250, blank=True)
    people = models.PositiveIntegerField(default=0)
    reasons = models.CharField(max_length=250, blank=True)

    class Meta:
        app_label = "joints"
        ordering = ("batch", "pk")
        verbose_name_plural = _("answers on import")
        indexes = (models.Index(fields=("joint", "batch"), name="answer_of_joint"),)

    def __str__(self) -> str:
        return f"{self.outcome} on {self.on}"
