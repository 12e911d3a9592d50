"""The list of work."""

import re
from typing import Any

import django_filters
import django_tables2 as columns
from django.utils import timezone
from django.utils.html import conditional_escape
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext_lazy as _

from register.background.models import State, Work
from register.base.filters import RegisterFilterSet
from register.base.tables import LeanTable, link

HASH = re.compile(r"\b[0-9a-f]{64}\b")


class WorkTable(LeanTable):
    """Pieces of work, the newest first."""

    title = columns.Column(verbose_name=_("Of what"), orderable=False)
    label = columns.Column(verbose_name=_("Work"), orderable=False)
    asked_by_name = columns.Column(verbose_name=_("Asked by"))
    asked_at = columns.Column(verbose_name=_("Asked"))
    state = columns.Column(verbose_name=_("Stands"))
    took = columns.Column(empty_values=(), verbose_name=_("Took [s]"), orderable=False)
    message = columns.Column(verbose_name=_("In words"), orderable=False)

    caption = _("Work in the background")
    numeric = ("took",)
    unbroken = ("asked_at",)

    class Meta(LeanTable.Meta):
        order_by = ("-asked_at", "-pk")

    def render_title(self, record: Work) -> SafeString:
        return link(record.get_absolute_url(), record.title)

    def value_title(self, record: Work) -> str:
        return record.title

    def render_asked_at(self, value: Any) -> str:
        return f"{timezone.localtime(value):%Y-%m-%d %H:%M}"

    def value_asked_at(self, value: Any) -> Any:
        return value

    def render_state(self, record: Work) -> str:
        return record.get_state_display()

    def render_message(self, value: str) -> SafeString:
        """A hash in it may break anywhere, or it would push the other columns together."""
        # The hash is letters and figures; all else is escaped.
        return mark_safe(HASH.sub(r'<span class="hash">\g<0></span>', conditional_escape(value)))

    def value_message(self, value: str) -> str:
        return value

    def render_took(self, record: Work) -> str:
        """Seconds from taking up to the end, interruptions included."""
        if record.started_at is None or record.ended_at is None:
            return self.default
        return f"{(record.ended_at - record.started_at).total_seconds():,.1f}"


class WorkFilter(RegisterFilterSet):
    """By state, and by name."""

    search_fields = ("title", "label", "asked_by_name")
    state = django_filters.ChoiceFilter(choices=State.choices, label=_("Stands"))
    asked_by_name = django_filters.CharFilter(label=_("Asked by"), lookup_expr="iexact")
