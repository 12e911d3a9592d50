"""The log of acts: entries chained by hash, and the place where the chain ends now."""

from collections.abc import Iterable
from typing import Any

from django.core.exceptions import PermissionDenied
from django.db import models, router, transaction
from django.utils import timezone
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from register.base.days import at_the_works
from register.plants.models import Plant
from register.plants.rows import PlantField, ReachManager, ReachQuerySet
from register.trail.chain import START, entry_hash, fields_of


class AuditHead(models.Model):
    """One row: the number and hash of the last entry. Locked while an entry is added, so that none share a number.

    Without it, entries taken off the end of the chain would not be missed.
    """

    number = models.PositiveBigIntegerField(default=0)
    hash = models.CharField(max_length=64, default=START)
    versions = models.CharField(max_length=90, null=True)
    """NUMBER:HASH of the last seal of versions; None before there was any."""

    def __str__(self) -> str:
        return f"{self.number}:{self.hash}"


class VersionSeal(models.Model):
    """The digests of rows that were kept by one piece of work (register.trail.sealing), chained to the seal before it.

    `kind`: the table, as Django names it; `fields`: the columns that the digests are over; `rows`: "KEY DIGEST", one a
    line. Append-only, here and in the database.
    """

    number = models.PositiveBigIntegerField(unique=True, editable=False)
    at = models.DateTimeField(editable=False)
    kind = models.CharField(max_length=100, editable=False)
    fields = models.TextField(editable=False)
    rows = models.TextField(editable=False)
    previous_hash = models.CharField(max_length=64, editable=False)
    hash = models.CharField(max_length=64, editable=False)

    class Meta:
        ordering = ("number",)

    def __str__(self) -> str:
        return f"{self.number}:{self.hash}"


class AuditQuerySet(ReachQuerySet):
    """Rows that go in one by one, since each holds the hash of the one before it."""

    def bulk_create(self, objs: Iterable["AuditEntry"], *args: Any, **kwargs: Any) -> list["AuditEntry"]:
        """Save each, all or none."""
        entries = list(objs)
        with transaction.atomic(using=self.db):
            for entry in entries:
                entry.save(using=self.db)
        return entries


class AuditManager(ReachManager.from_queryset(AuditQuerySet)):  # type: ignore[misc]
    """Entries in sight: those of one's own plant."""


class AuditEntry(models.Model):
    """One act, written once: who did what to which thing, and how it stood before and after.

    `plant`: the plant of the thing, or of whoever acted. None is the group, and in the time of a single plant that one.

    The table is append-only, here and in the database (migrations 0002 and 0004). Names are text, so an entry
    outlives the account and the thing that it speaks of. Each holds the hash of the one before it, so a change made
    past the database's refusal is found (register.trail.verify).
    """

    at = models.DateTimeField(default=timezone.now, editable=False, db_index=True)
    user_name = models.CharField(max_length=150, blank=True, db_index=True)
    act = models.CharField(max_length=60, db_index=True)
    subject_type = models.CharField(max_length=100, blank=True)
    subject_id = models.CharField(max_length=64, blank=True)
    subject = models.CharField(max_length=250, blank=True)
    before = models.JSONField(null=True, blank=True)
    after = models.JSONField(null=True, blank=True)
    note = models.TextField(blank=True)
    number = models.PositiveBigIntegerField(unique=True, editable=False)
    previous_hash = models.CharField(max_length=64, editable=False)
    hash = models.CharField(max_length=64, editable=False)
    versions = models.CharField(max_length=90, null=True, editable=False)
    """The last seal of versions when it was written: who trusts the trail can trust all that was sealed before."""

    plant = PlantField(null=True, db_constraint=False, on_delete=models.DO_NOTHING)

    objects = AuditManager()
    everything = AuditQuerySet.as_manager()

    class Meta:
        ordering = ("-at", "-pk")
        indexes = (models.Index(fields=("subject_type", "subject_id"), name="audit_subject"),)
        verbose_name_plural = _("audit entries")

    def __str__(self) -> str:
        return f"{at_the_works(self.at)} {self.user_name or 'the register'}: {self.act} {self.subject}".rstrip()

    @classmethod
    def reach_field(cls) -> str:
        """The column that decides what is in sight."""
        return "pk"

    @classmethod
    def in_reach(cls, plants: frozenset[int]) -> Any:
        """The keys of the entries of some plants; the first plant has those from before the second was opened."""
        found = models.Q(plant__in=sorted(plants))
        first_two = list(Plant.objects.order_by("pk").values_list("pk", "trail_from")[:2])
        if len(first_two) == 2 and first_two[0][0] in plants:
            found |= models.Q(plant__isnull=True, number__lte=first_two[1][1])
        return cls.everything.filter(found).order_by().values("pk")

    def save(self, *args: Any, using: str | None = None, **kwargs: Any) -> None:
        """Write the entry at the end of the chain. Raises PermissionDenied if it is written already."""
        if not self._state.adding:
            raise PermissionDenied(gettext("An audit entry is written once and never changed."))
        database = using or router.db_for_write(type(self), instance=self)
        with transaction.atomic(using=database):
            head = held_head(database)
            self.number, self.previous_hash, self.versions = head.number + 1, head.hash, head.versions
            self.hash = entry_hash(fields_of(self), self.number, self.previous_hash)
            super().save(*args, using=database, **kwargs)
            head.number, head.hash = self.number, self.hash
            head.save(using=database)

    def delete(self, *args: object, **kwargs: object) -> tuple[int, dict[str, int]]:
        """Raises PermissionDenied, always."""
        raise PermissionDenied(gettext("An audit entry is never deleted."))


def held_head(database: str) -> AuditHead:
    """The end of the chain, held until the transaction ends; whoever else writes waits for it.

    A head that is gone is made again from the last entry; the migration makes the first.
    """
    heads = AuditHead.objects.using(database).select_for_update()
    found = heads.filter(pk=1).first()
    if found is not None:
        return found
    last = AuditEntry.everything.using(database).order_by("-number").first()
    start: dict[str, Any] = {"number": last.number, "hash": last.hash} if last is not None else {}
    seal = VersionSeal.objects.using(database).last()
    start["versions"] = str(seal) if seal is not None else None
    AuditHead.objects.using(database).get_or_create(pk=1, defaults=start)
    return heads.get(pk=1)
