"""Filters of lists: a search box over named columns, and a count of the filters that are set."""

import operator
from functools import reduce
from typing import Any, ClassVar

import django_filters
from django.db.models import Q, QuerySet
from django.utils.translation import gettext_lazy as _


class RegisterFilterSet(django_filters.FilterSet):
    """A filter set whose box `q` looks for every word typed, each in any of `search_fields`.

    Example: search_fields = ("number", "title"); "14 beam" finds what has 14 and beam anywhere in these two.
    """

    search_fields: ClassVar[tuple[str, ...]] = ()
    q = django_filters.CharFilter(method="search", label=_("Find"))

    def search(self, rows: QuerySet[Any], name: str, text: str) -> QuerySet[Any]:
        """Rows that hold every word of the text."""
        for word in text.split():
            parts = [Q(**{f"{field}__icontains": word}) for field in self.search_fields]
            rows = rows.filter(reduce(operator.or_, parts)) if parts else rows
        return rows

    @property
    def set_count(self) -> int:
        """How many filters besides the search hold a value."""
        return sum(1 for name in self.form.fields if name != "q" and self.data.get(self.form.add_prefix(name)))
