"""The trail as a list, and the answer whether it is whole."""

import json
from dataclasses import replace
from typing import Any

import django_filters
import django_tables2 as columns
from django import forms
from django.db.models import QuerySet
from django.utils import timezone
from django.utils.html import format_html_join
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from register.base.filters import RegisterFilterSet
from register.base.forms import prepared
from register.base.lists import ListPage
from register.base.pages import PlainPage
from register.base.tables import LeanTable
from register.judged_words import told
from register.plants.reach import current
from register.roles import Capability
from register.trail.elsewhere import not_in_sight
from register.trail.models import AuditEntry
from register.trail.verify import Result, not_the_noted, noted, verify
from register.trail.words import folded


class TrailTable(LeanTable):
    """Acts, newest first."""

    number = columns.Column()
    at = columns.Column(verbose_name=_("When"))
    user_name = columns.Column(verbose_name=_("Who"), empty_values=())
    act = columns.Column(verbose_name=_("Did what"))
    subject = columns.Column(verbose_name=_("To what"), orderable=False)
    before = columns.Column(orderable=False)
    after = columns.Column(orderable=False)
    note = columns.Column(orderable=False)
    written = columns.Column(verbose_name=_("What was written"), accessor="after", orderable=False, empty_values=())

    caption = _("Acts")
    head = "number"
    unbroken = ("at",)
    off_page, off_file = ("before", "after", "note"), ("written",)
    many = True

    class Meta(LeanTable.Meta):
        order_by = ("-number",)

    def render_user_name(self, value: str) -> str:
        return value or gettext("the register")

    def value_user_name(self, value: str) -> str:
        return value

    def render_act(self, value: str) -> str:
        return told(value)

    def value_act(self, value: str) -> str:
        return value

    def value_subject(self, value: str) -> str:
        return value

    def render_at(self, value: Any) -> str:
        return f"{timezone.localtime(value):%Y-%m-%d %H:%M:%S}"

    def value_at(self, value: Any) -> Any:
        return value

    def render_written(self, record: AuditEntry) -> str:
        """Before, after and note in one cell: most acts have one of the three."""
        held = [(gettext("Before:"), record.before), ("", record.after), (gettext("Note:"), record.note)]
        parts = [(name, folded(value)) for name, value in held if value]
        return format_html_join("", "<div>{} {}</div>", parts) or self.default

    def value_before(self, value: Any) -> str:
        return json.dumps(value, ensure_ascii=False)

    def value_after(self, value: Any) -> str:
        return json.dumps(value, ensure_ascii=False)


class TrailFilter(RegisterFilterSet):
    """By name, act, thing and day."""

    search_fields = ("user_name", "act", "subject", "note")
    user_name = django_filters.CharFilter(label=_("Who"), lookup_expr="iexact")
    act = django_filters.CharFilter(label=_("Did what"), lookup_expr="icontains")
    subject = django_filters.CharFilter(label=_("To what"), lookup_expr="icontains")
    day_from = django_filters.DateFilter(
        field_name="at", lookup_expr="date__gte", label=_("From"), widget=forms.DateInput(attrs={"type": "date"})
    )
    day_to = django_filters.DateFilter(
        field_name="at", lookup_expr="date__lte", label=_("To"), widget=forms.DateInput(attrs={"type": "date"})
    )


class TrailPage(ListPage):
    """Who did what, when: every entry, for whoever audits."""

    required_capability = Capability.READ_TRAIL
    template_name = "register/trail.html"
    page_title = _("Trail")
    lead = _("Every act, in the order of writing. Each entry holds the hash of the one before it.")
    table_class = TrailTable
    filterset_class = TrailFilter
    empty = {"title": _("Nothing has been done yet."), "teach": _("Every act is written here, and stays.")}

    def get_queryset(self) -> QuerySet[AuditEntry]:
        return AuditEntry.objects.all()

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        narrowed = any(value for name, value in self.query if name not in ("sort", "page", "on"))
        in_order = kwargs["sort"] in ("", "number", "-number") and not narrowed
        shown = [row.record.number for row in kwargs["table"].paginated_rows] if in_order else []
        return super().get_context_data(left_out=not_in_sight(shown), **kwargs)


class NotedForm(forms.Form):
    """An end of the trail that was noted outside the register."""

    expect = forms.CharField(
        label=_("An end noted earlier"),
        required=False,
        help_text=_("NUMBER:HASH, as this page gave it that day."),
        widget=forms.TextInput(attrs={"size": 72, "autocomplete": "off", "spellcheck": "false"}),
    )

    def clean_expect(self) -> str:
        """In the form of an end, or empty."""
        said = str(self.cleaned_data["expect"]).strip()
        try:
            noted(said)
        except ValueError as refusal:
            raise forms.ValidationError(str(refusal)) from None
        return said


class VerifyPage(PlainPage):
    """Walk the chain now, and say whether it is whole or where it breaks first."""

    required_capability = Capability.READ_TRAIL
    template_name = "register/trail_verify.html"
    page_title = _("Is the trail whole?")

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        form = prepared(NotedForm(self.request.GET if "expect" in self.request.GET else None))
        expected = form.cleaned_data["expect"] if form.is_bound and form.is_valid() else ""
        found, unlike = verify(expected), ""
        if expected and found.problem and not (alone := verify()).problem:
            # In order by itself: what was typed is as likely to be wrong as the trail.
            found, unlike = alone, not_the_noted(expected, alone)
        if current().plants is not None:
            found = unnamed(found)
        return super().get_context_data(found=found, form=form, unlike=unlike, expected=expected, **kwargs)


def unnamed(found: Result) -> Result:
    """The answer for somebody of one plant: where it breaks, but no name or thing, which may be another plant's."""
    who = "Whoever sees all plants can read here what it is."
    problem = f"the chain breaks after entry {found.entries}. {who}" if found.problem else ""
    return replace(found, problem=problem, differs=f"It is not so in one place or more. {who}" if found.differs else "")
