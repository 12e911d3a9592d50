"""Everything that a list changes: narrowed down, paged, taken away as a file."""

from decimal import Decimal
from typing import Any, ClassVar

import django_filters
import django_tables2 as tables
from django.db.models import QuerySet
from django.shortcuts import get_object_or_404
from django.urls import reverse
from django.utils.functional import cached_property
from django.utils.html import format_html
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from joints.imports.columns import LENGTHS
from joints.imports.compare import COMPARED
from joints.imports.differences import AT_MOST
from joints.imports.words import column_title, news, plain_words
from joints.models import ImportBatch, ImportDifference, ShownDifference
from register.base.filters import RegisterFilterSet
from register.base.lists import ListPage
from register.base.tables import LeanTable, link
from register.roles import Capability

Row = ImportDifference | ShownDifference


class DifferenceTable(LeanTable):
    """A line for each field, and for each joint that is new, gone or back."""

    joint_number = tables.Column(verbose_name=_("Joint"))
    assembly_mark = tables.Column(verbose_name=_("Assembly"))
    kind = tables.Column(verbose_name=_("What"))
    field = tables.Column(verbose_name=_("Field"))
    before = tables.Column(verbose_name=_("On file"), empty_values=())
    after = tables.Column(verbose_name=_("In the list"), empty_values=())

    caption = _("Differences")

    class Meta(LeanTable.Meta):
        orderable = False

    def render_joint_number(self, record: Row) -> Any:
        if record.joint_id is None:
            return record.joint_number
        return link(reverse("joints:joint", args=[record.joint_id]), record.joint_number)

    def value_joint_number(self, record: Row) -> str:
        return record.joint_number

    def render_kind(self, record: Row) -> str:
        return record.get_kind_display()

    def render_field(self, value: str) -> str:
        return column_title(value)

    def render_before(self, record: Row) -> str:
        return plain_words(record.field, record.before) if record.field else ""

    def render_after(self, record: Row) -> str:
        return plain_words(record.field, record.after) if record.field else ""

    def value_before(self, record: Row) -> Any:
        return _plain(record.field, record.before)

    def value_after(self, record: Row) -> Any:
        return _plain(record.field, record.after)


def _plain(field: str, said: str) -> Any:
    """A value as a list states it; a size is a number."""
    try:
        return Decimal(said) if field in LENGTHS and said else said
    except ArithmeticError:
        return said


def _number(batch: ImportBatch) -> int:
    """How many differences a batch has."""
    return sum(batch.comparison.get(name, 0) for name in ("added", "fields", "back", "kept", "contested", "removed"))


class DifferenceFilter(RegisterFilterSet):
    """By what happened, by field, by assembly; the box finds marks, numbers and values."""

    search_fields = ("assembly_mark", "joint_number", "before", "after")

    kind = django_filters.ChoiceFilter(choices=ShownDifference.KINDS, label=_("What"))
    field = django_filters.ChoiceFilter(choices=[(name, column_title(name)) for name in COMPARED], label=_("Field"))
    assembly = django_filters.CharFilter(field_name="assembly_mark", lookup_expr="iexact", label=_("Assembly"))


class ImportDifferences(ListPage):
    """As compared last while the list waits; as written once it is taken in."""

    required_capability = Capability.VIEW
    table_class = DifferenceTable
    filterset_class = DifferenceFilter
    empty: ClassVar[dict[str, str]] = {
        "title": _("No differences are listed."),
        "teach": _("A list for a job without joints has none: all of it is new. Otherwise compare it again."),
    }

    @cached_property
    def batch(self) -> ImportBatch:
        """The list. Raises Http404."""
        return get_object_or_404(ImportBatch.objects.select_related("job"), pk=self.kwargs["pk"])

    def get_page_title(self) -> str:
        return gettext("Differences of %(file)s") % {"file": self.batch.file_name}

    def get_lead(self) -> Any:
        back, said = self.batch.get_absolute_url(), news(self.batch)
        if self.batch.status != ImportBatch.CONFIRMED and _number(self.batch) > AT_MOST:
            first = gettext("The first %(number)s differences are listed; all of them are once it is taken in.")
            said = f"{said} {first % {'number': f'{AT_MOST:,}'}}"
        return format_html('{} <a href="{}">{}</a>', said, back, gettext("The list itself"))

    def get_queryset(self) -> QuerySet[Any]:
        taken = self.batch.status == ImportBatch.CONFIRMED
        return (ImportDifference if taken else ShownDifference).objects.filter(batch=self.batch).order_by("pk")
