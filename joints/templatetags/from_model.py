"""What imports say of a joint and of a job: where it departs from the model, what left it, what was answered then."""

from typing import Any

from django import template

from joints.imports.against_model import differs_of
from joints.imports.words import column_title, plain_words
from joints.models import AnswerOnImport, ImportDifference, Job, Joint

register = template.Library()
SHOWN = 50


@register.inclusion_tag("joints/_from_model.html")
def from_model_of(joint: Joint) -> dict[str, Any]:
    """`{% from_model_of joint %}`: what was sent and what stands, what imports changed, the answers of their days."""
    found = differs_of(joint)
    differs = [(column_title(d.field), plain_words(d.field, d.sent), plain_words(d.field, d.now)) for d in found]
    changes = ImportDifference.objects.filter(joint=joint).select_related("batch").order_by("-pk")[:SHOWN]
    return {
        "joint": joint,
        "differs": differs,
        "changes": [
            (change.batch, change.get_kind_display(), column_title(change.field) if change.field else "",
             plain_words(change.field, change.before), plain_words(change.field, change.after))
            for change in changes
        ],
        "answers": AnswerOnImport.objects.filter(joint=joint).select_related("batch").order_by("-pk")[:SHOWN],
    }  # fmt: skip


@register.inclusion_tag("joints/_left_model.html")
def left_model_of(job: Job) -> dict[str, Any]:
    """`{% left_model_of job %}`: the joints that are no longer in the model, and where to take the list away."""
    rows = Joint.every.filter(assembly__job=job, left_model_at__isnull=False).select_related("assembly")
    return {
        "job": job,
        "left": rows.order_by("assembly__order_key", "order_key", "pk")[:SHOWN],
        "count": rows.count(),
        "has_joints": Joint.objects.filter(assembly__job=job).exists(),
    }
