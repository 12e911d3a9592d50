"""What the answers were on the day of an import, in short, so that the history of a joint's answers is kept."""

from collections.abc import Iterable, Iterator
from datetime import date
from typing import Any

from joints.bulk import JointResult
from joints.day import Answered
from joints.imports.many import Many
from joints.imports.witness import KEPT, Tally
from joints.models import AnswerOnImport, ImportBatch, Joint
from joints.ready import day_of
from register.plants.rows import refuse_outside


def keep_answers(batch: ImportBatch, on: date) -> Tally:
    """Keep the answer to every joint of the job on a day; the digest of them. Call it in the import's transaction."""
    refuse_outside([batch])
    joints = Joint.objects.filter(assembly__job=batch.job).order_by("pk")
    found = day_of(on).answers(joints)
    answers = Tally()
    Many(AnswerOnImport, KEPT).insert(answers.over(_rows(batch, found, on)))
    return answers


def _rows(batch: ImportBatch, found: Iterable[Answered], on: date) -> Iterator[tuple[Any, ...]]:
    """A row for each joint; an answer that many joints share is put into words once."""
    words: dict[int, tuple[str, str, int, str]] = {}
    for one in found:
        short = words.get(id(one.result)) or words.setdefault(id(one.result), _short(one.result))
        yield batch.pk, one.pk, on, *short


def _short(result: JointResult) -> tuple[str, str, int, str]:
    """Outcome, procedures, number of people, reasons."""
    procedures = _some(dict.fromkeys((*result.final.labels, *result.tack.labels)))
    return result.outcome.value, procedures, len(result.final.person_ids), _some(result.reasons)


def _some(words: Iterable[str]) -> str:
    """As many whole words as fit. Example: ("a", "b") gives "a; b"."""
    said = "; ".join(words)
    return said if len(said) <= 250 else f"{said[:246].rpartition('; ')[0]}; …"
