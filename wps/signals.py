"""The supporting records of an approved revision stay as they are."""

from typing import Any

from django.db.models.signals import m2m_changed
from django.dispatch import receiver

from wps.models import ProcedureRevision
from wps.models.procedure import refuse_if_frozen


@receiver(m2m_changed, sender=ProcedureRevision.records.through)
def keep_records(
    sender: Any, instance: Any, action: str, pk_set: set[int] | None, reverse: bool, **kwargs: Any
) -> None:
    """Raises ValidationError before a link of a frozen revision is added or removed, from either side."""
    if not action.startswith("pre_"):
        return
    if not reverse:
        refuse_if_frozen(instance.pk)
        return
    for revision_id in pk_set or set(instance.supports.values_list("pk", flat=True)):
        refuse_if_frozen(revision_id)
