"""Attach a scan to a thing, withdraw it, and find what is attached."""

from collections.abc import Iterable
from typing import Any

from django.db import transaction
from django.db.models import Model, QuerySet
from django.utils import timezone
from django.utils.translation import gettext

from register.audit import record_act
from register.evidence import store
from register.evidence.kinds import BadFile, kind_of, safe_name
from register.evidence.models import EvidenceFile
from register.plants.rows import refuse_outside


def type_of(subject: Model | type[Model]) -> str:
    """How a kind of thing is named here. Example: "qualifications.certificate"."""
    return subject._meta.label_lower


def attached_to(subject: Model) -> QuerySet[EvidenceFile]:
    """All scans of one thing, the withdrawn ones too."""
    return EvidenceFile.objects.filter(subject_type=type_of(subject), subject_id=str(subject.pk))


def attached_to_each(model: type[Model], keys: Iterable[object]) -> QuerySet[EvidenceFile]:
    """All scans of several things of one kind. One query."""
    return EvidenceFile.objects.filter(subject_type=type_of(model), subject_id__in=[str(key) for key in keys])


def attach(subject: Model, name: str, data: bytes, note: str, by: Any) -> EvidenceFile:
    """Keep a scan and attach it. Raises BadFile, and then nothing is attached."""
    refuse_outside([subject])
    kind = kind_of(data)
    digest = store.keep(data)
    with transaction.atomic():
        known = attached_to(subject).filter(sha256=digest, withdrawn_at__isnull=True).first()
        if known is not None:
            raise BadFile(
                gettext("The same file is attached already, as %(file_name)s.") % {"file_name": known.file_name}
            )
        made = EvidenceFile.objects.create(
            subject_type=type_of(subject),
            subject_id=str(subject.pk),
            file_name=safe_name(name, kind),
            kind=kind.token,
            sha256=digest,
            size=len(data),
            note=note.strip()[:250],
            added_by=by.get_full_name() or by.get_username(),
        )
        after = {"file": made.file_name, "sha256": digest, "note": made.note, "by": made.added_by}
        record_act(by, "attached evidence", subject, after=after)
    return made


@transaction.atomic
def withdraw(file: EvidenceFile, because: str, by: Any) -> None:
    """Mark a scan as attached by mistake; it stays on file. Raises ValueError without a reason, or a second time."""
    if not because.strip():
        raise ValueError("Say why it is withdrawn.")
    refuse_outside([file])
    held = EvidenceFile.objects.select_for_update().get(pk=file.pk)
    if held.withdrawn_at is not None:
        raise ValueError("It is withdrawn already.")
    held.withdrawn_at = timezone.now()
    held.withdrawn_by = by.get_full_name() or by.get_username()
    held.withdrawn_because = because.strip()
    held.save()
    after = {"because": held.withdrawn_because, "sha256": held.sha256, "by": held.withdrawn_by}
    record_act(by, "withdrew evidence", held, after=after)
