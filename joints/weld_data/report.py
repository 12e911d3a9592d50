"""What goes back to the detailer: every field that was changed from the model, and every question that is open."""

from collections.abc import Iterator
from typing import Any

from joints.imports.against_model import differs_in
from joints.models import Job
from joints.weld_data.check import check_job
from joints.weld_data.words import field_words, value_words

HEADS = (
    "Assembly", "Joint", "Kind", "Field", "Field name", "In the model", "Now", "Reason", "Clause", "Certainty",
    "By", "On",
)  # fmt: skip
BY_HAND = "changed on the page of the joint"
CHANGED, QUESTION, PROPOSED = "changed", "question", "proposed, not taken over"


def report_rows(job: Job) -> Iterator[tuple[Any, ...]]:
    """The heads, what was changed in the order of time, then what is open, as plain data."""
    yield HEADS
    for change in job.weld_data_changes.all():
        values = (value_words(change.field, change.before), value_words(change.field, change.after))
        yield (
            change.assembly_mark, change.joint_number, CHANGED, field_words(change.field), change.field, *values,
            change.reason, change.clause, change.mark, change.by_name, change.at.date(),
        )  # fmt: skip
    known = {(change.joint_id, change.field) for change in job.weld_data_changes.all()}
    for one in differs_in(job):
        if (one.joint.pk, one.field) not in known:
            yield (
                one.joint.assembly.mark, one.joint.number, CHANGED, field_words(one.field), one.field,
                value_words(one.field, one.sent), value_words(one.field, one.now), BY_HAND, "", "", "", None,
            )  # fmt: skip
    for one in check_job(job):
        finding = one.finding
        for field, before, after in [(c.field, c.before, c.after) for c in finding.changes] or [
            (finding.field, finding.present, "")
        ]:
            kind = QUESTION if finding.asks else PROPOSED
            proposed = "" if finding.asks else value_words(field, after)
            yield (
                one.joint.assembly.mark, one.joint.number, kind, field_words(field), field,
                value_words(field, before), proposed, finding.reason, str(finding.clause),
                finding.clause.mark.value, "", None,
            )  # fmt: skip
