"""What the answers were on the day of an import, in short, so that the history of a joint's answers is kept."""

from collections.abc import Iterable
from datetime import date

from joints.day import Answered
from joints.models import AnswerOnImport, ImportBatch, Joint
from joints.ready import day_of

CHUNK = 2000


def keep_answers(batch: ImportBatch, on: date) -> int:
    """Keep the answer to every joint of the job on a day, and return how many. Call it in the import's transaction."""
    joints = Joint.objects.filter(assembly__job=batch.job).order_by("pk")
    found = day_of(on).answers(joints)
    AnswerOnImport.objects.bulk_create((_short(batch, one, on) for one in found), batch_size=CHUNK)
    return len(found)


def _short(batch: ImportBatch, one: Answered, on: date) -> AnswerOnImport:
    result = one.result
    return AnswerOnImport(
        batch=batch,
        joint_id=one.pk,
        on=on,
        outcome=result.outcome.value,
        procedures=_some(dict.fromkeys((*result.final.labels, *result.tack.labels))),
        people=len(result.final.person_ids),
        reasons=_some(result.reasons),
    )


def _some(words: Iterable[str]) -> str:
    """As many whole words as fit. Example: ("a", "b") gives "a; b"."""
    said = "; ".join(words)
    return said if len(said) <= 250 else f"{said[:246].rpartition('; ')[0]}; …"
