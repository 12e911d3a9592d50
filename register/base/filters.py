"""Filters of lists: a search box over named columns, and a count of the filters that are set."""

import operator
from functools import reduce
from typing import Any, ClassVar

import django_filters
from django.db.models import Q, QuerySet
from django.forms import DateField, ModelChoiceField
from django.utils.translation import gettext_lazy as _

from register.base.forms import DASHES, NO_DATE

WORDS_AT_MOST, LETTERS_AT_MOST = 10, 200
"""Each word is asked of every column; a database takes only so many conditions in one question."""


class RegisterFilterSet(django_filters.FilterSet):
    """A filter set whose box `q` looks for every word typed, each in any of `search_fields`.

    Example: search_fields = ("number", "title"); "14 beam" finds what has 14 and beam anywhere in these two.
    """

    search_fields: ClassVar[tuple[str, ...]] = ()
    q = django_filters.CharFilter(method="search", label=_("Find"))

    @property
    def form(self) -> Any:
        """The form, in which a filter that is not set says so in a word, in place of a row of dashes."""
        form = super().form
        for field in form.fields.values():
            if isinstance(field, DateField):
                field.error_messages["invalid"] = NO_DATE
            if getattr(field, "empty_label", None) == DASHES:
                field.empty_label = _("any")
                # Rows of the database are listed when they are shown, other choices are ready.
                if not isinstance(field, ModelChoiceField):
                    field.choices = [*field.choices][1:]
        return form

    def search(self, rows: QuerySet[Any], name: str, text: str) -> QuerySet[Any]:
        """Rows that hold every word of the text; words beyond the tenth are not looked for."""
        for word in words_of(text) if self.search_fields else ():
            found = reduce(operator.or_, (Q(**{f"{field}__icontains": word}) for field in self.search_fields))
            if any("__" in field for field in self.search_fields):
                # Asked by itself: a join for each word would multiply the rows by each other.
                found = Q(pk__in=rows.model._default_manager.filter(found).values("pk"))
            rows = rows.filter(found)
        return rows

    @property
    def set_count(self) -> int:
        """How many filters besides the search hold a value."""
        return sum(1 for name in self.form.fields if name != "q" and self.data.get(self.form.add_prefix(name)))


def words_of(text: str) -> list[str]:
    """The words to look for, each once, as many as are asked at once. Example: "beam 14 beam" gives beam and 14."""
    return list(dict.fromkeys(text[:LETTERS_AT_MOST].split()))[:WORDS_AT_MOST]
