"""Findings of the weld data in words, and what they are on the page of a joint."""

from typing import Any

from django import template
from django.urls import reverse
from django.utils.html import format_html

from joints.models import Joint, WeldDataChange
from joints.weld_data.check import Found, check_joint
from joints.weld_data.finding import Change, Finding
from joints.weld_data.rules import RULES
from joints.weld_data.words import field_words, value_words
from register.judged_words import told, told_term
from register.templatetags.own_units import in_own_words

register = template.Library()


@register.inclusion_tag("joints/_weld_data.html")
def weld_data_of(joint: Joint) -> dict[str, Any]:
    """What was changed from the model, and what is left to settle. `{% weld_data_of joint %}`."""
    return {
        "changes": joint.weld_data_changes.all(),
        "findings": check_joint(joint),
        "job_url": reverse("joints:weld_data", args=[joint.assembly.job_id]),
    }


@register.filter
def after_words(change: Change | WeldDataChange) -> str:
    """The field and what is proposed, or was taken over. Example: "fillet throat a 5 mm"."""
    return _said(change.field, change.after)


@register.filter
def present_words(finding: Finding) -> str:
    """The field and what stands there."""
    return _said(finding.field, finding.present)


@register.filter
def plain_words(plain: str, field: str) -> str:
    """A plain value of a field."""
    return told_term(value_words(field, plain))


@register.simple_tag(takes_context=True)
def as_stated(context: Any, plain: str, field: str) -> str:
    """The field in grey, and what it states in the reader's units and language; a remark as it was typed, for so it
    is kept.
    """
    said = told_term(value_words(field, plain))
    shown = said if field == "remarks" else str(in_own_words(context, said))
    return format_html('<span class="soft">{}</span> {}', told(field_words(field)), shown)


@register.filter
def title_of(finding: Finding) -> str:
    """What is wrong, by its rule."""
    return RULES[finding.rule].title


@register.filter
def found_words(found: Found) -> str:
    """A finding in one line, for whoever cannot see the table."""
    changes = ", ".join(_said(change.field, change.after) for change in found.finding.changes)
    return f"joint {found.joint.number} of assembly {found.joint.assembly.mark}, {changes}"


def _said(field: str, plain: str) -> str:
    return f"{field_words(field)} {told_term(value_words(field, plain))}"
