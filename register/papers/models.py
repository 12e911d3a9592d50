"""Papers as they were printed: never changed, never deleted (migration 0011)."""

from django.db import models
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from register.plants.things import OfThing


class PrintedPaper(OfThing):
    """One paper of one thing of any app: `subject_type` ("joints.assembly") and `subject_id`.

    `check_code` names its content and its facts; the same on the same paper in the same units is rendered once.
    `facts_sha256`: the digest of its facts (register.papers.kinds); "" for what was printed before these were kept,
    whose check code names the content alone.
    """

    kind = models.CharField(max_length=24)
    subject_type = models.CharField(max_length=100)
    subject_id = models.CharField(max_length=64)
    title = models.CharField(max_length=200)
    on = models.DateField(_("as of"))
    paper = models.CharField(max_length=8)
    units = models.CharField(max_length=4)
    check_code = models.CharField(max_length=10, db_index=True)
    facts_sha256 = models.CharField(max_length=64, blank=True, default="")
    sha256 = models.CharField(max_length=64)
    sides = models.PositiveSmallIntegerField()
    pdf = models.BinaryField()
    made_at = models.DateTimeField(default=timezone.now)
    made_by = models.CharField(max_length=150)

    class Meta:
        ordering = ("pk",)
        constraints = (
            models.UniqueConstraint(fields=("kind", "check_code", "paper", "units"), name="paper_printed_once"),
        )

    def __str__(self) -> str:
        return self.title
