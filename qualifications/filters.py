"""How the lists of people and of the weld log are narrowed down."""

import django_filters
from django import forms
from django.db.models import QuerySet
from django.utils.translation import gettext_lazy as _

from codes.terms import both_names, tokens
from qualifications.models import Certificate, Person, WeldLogEntry
from register.base.filters import RegisterFilterSet

PROCESS_CHOICES = [(token, both_names("process", token)) for token in tokens("process")]
DAY = forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")


class PersonFilter(RegisterFilterSet):
    """People by place, kind of certificate, and whether they still work here."""

    search_fields = ("name", "identification", "employer", "certificates__number")

    site = django_filters.AllValuesFilter(label=_("Place of work"))
    active = django_filters.BooleanFilter(
        label=_("Works here"),
        widget=forms.Select(choices=[("", _("either")), ("true", _("yes")), ("false", _("no longer"))]),
    )
    kind = django_filters.ChoiceFilter(
        field_name="certificates__kind", choices=Certificate.Kind.choices, label=_("Certificates as"), distinct=True
    )
    code = django_filters.AllValuesFilter(field_name="certificates__code", label=_("Standard"), distinct=True)

    class Meta:
        model = Person
        fields = ("site", "active", "kind", "code")

    def search(self, rows: QuerySet[Person], name: str, text: str) -> QuerySet[Person]:
        return super().search(rows, name, text).distinct()


class WeldLogFilter(RegisterFilterSet):
    """Entries by person, process and days, both days included."""

    search_fields = ("person__name", "person__identification", "joint", "wps", "note")

    process = django_filters.ChoiceFilter(choices=PROCESS_CHOICES)
    person = django_filters.ModelChoiceFilter(queryset=Person.objects.order_by("name"))
    first = django_filters.DateFilter(field_name="on", lookup_expr="gte", label=_("From"), widget=DAY)
    last = django_filters.DateFilter(field_name="on", lookup_expr="lte", label=_("To"), widget=DAY)

    class Meta:
        model = WeldLogEntry
        fields = ("person", "process", "first", "last")
