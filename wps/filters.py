"""How the lists of procedures and of test records are narrowed down."""

import django_filters
from django.db.models import Q, QuerySet
from django.utils.translation import gettext_lazy as _

from codes.terms import both_names, tokens
from register.base.filters import RegisterFilterSet
from wps.models import Procedure, Route, Status, TestRecord

PROCESSES = [(token, both_names("process", token)) for token in tokens("process")]


class ProcedureFilter(RegisterFilterSet):
    """Procedures by what any of their revisions says."""

    search_fields = ("number", "title", "revisions__workstation_note", "revisions__records__number")

    status = django_filters.ChoiceFilter(
        field_name="revisions__status", choices=Status.choices, label=_("With a revision"), distinct=True
    )
    code = django_filters.AllValuesFilter(field_name="revisions__code", label=_("Standard"), distinct=True)
    process = django_filters.ChoiceFilter(choices=PROCESSES, label=_("Process"), method="by_process")
    phase = django_filters.ChoiceFilter(
        choices=[("tack", _("tack welding")), ("final", _("final welding"))], label=_("Serves"), method="by_phase"
    )

    class Meta:
        model = Procedure
        fields = ("status", "code", "process", "phase")

    def search(self, rows: QuerySet[Procedure], name: str, text: str) -> QuerySet[Procedure]:
        return super().search(rows, name, text).distinct()

    def by_process(self, rows: QuerySet[Procedure], name: str, value: str) -> QuerySet[Procedure]:
        """One term, or a list that holds it in quotes, so that 12 does not find 121."""
        window = "revisions__window__process"
        return rows.filter(Q(**{window: value}) | Q(**{f"{window}__icontains": f'"{value}"'})).distinct()

    def by_phase(self, rows: QuerySet[Procedure], name: str, value: str) -> QuerySet[Procedure]:
        return rows.filter(**{f"revisions__serves_{value}": True}).distinct()


class RecordFilter(RegisterFilterSet):
    """Records by code, route and process."""

    search_fields = ("number", "manufacturer", "examiner", "notes")

    code = django_filters.AllValuesFilter(label=_("Standard"))
    route = django_filters.ChoiceFilter(choices=Route.choices, label=_("Route of qualification"))
    process = django_filters.ChoiceFilter(choices=PROCESSES, label=_("Process"), method="by_process")
    used = django_filters.BooleanFilter(field_name="withdrawn_on", lookup_expr="isnull", label=_("In use"))

    class Meta:
        model = TestRecord
        fields = ("code", "route", "process", "used")

    def by_process(self, rows: QuerySet[TestRecord], name: str, value: str) -> QuerySet[TestRecord]:
        """The token in quotes, as it stands in the JSON."""
        return rows.filter(pieces__icontains=f'"process": "{value}"')
