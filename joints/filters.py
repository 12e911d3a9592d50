"""How the lists of jobs and of joints are narrowed down."""

import django_filters
from django import forms
from django.db.models import Q, QuerySet
from django.utils.translation import gettext_lazy as _
from django_filters.fields import ModelChoiceField

from joints import choices
from joints.models import Assembly, Job, Joint, Workstation
from joints.stations import station_label
from register.base.figures import Figure
from register.base.filters import RegisterFilterSet, words_of

WELDED = Q(assemblies__joints__left_model_at__isnull=True)
"""Counts the joints of a job that are still welded."""
DAY = forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")


class JobFilter(RegisterFilterSet):
    """Jobs by number, title, client; by execution class and time."""

    search_fields = ("number", "title", "client")

    execution_class = django_filters.ChoiceFilter(choices=choices.execution_classes)
    running = django_filters.DateFilter(method="running_on", label=_("Running on"), widget=DAY)

    class Meta:
        model = Job
        fields = ("execution_class", "running")

    def running_on(self, rows: QuerySet[Job], name: str, day: object) -> QuerySet[Job]:
        """Jobs that are welded on a day, both ends included; an end that is not stated is open."""
        return running(rows, day)


def running(rows: QuerySet[Job], day: object) -> QuerySet[Job]:
    """The jobs that are welded on a day."""
    return rows.filter(Q(starts_on__isnull=True) | Q(starts_on__lte=day), Q(ends_on__isnull=True) | Q(ends_on__gte=day))


class StationField(ModelChoiceField):
    """A workstation, with its works where several are in sight."""

    def label_from_instance(self, obj: Workstation) -> str:
        return station_label(obj)


class StationFilter(django_filters.ModelChoiceFilter):
    """Joints of one workstation."""

    field_class = StationField


class SizeFilter(django_filters.Filter):
    """A size as forms take it: with point or comma, in mm or with its unit, such as 1/2 in."""

    field_class = Figure


class JointFilter(RegisterFilterSet):
    """Joints by what a coordinator looks for."""

    job = django_filters.ModelChoiceFilter(queryset=Job.objects.all(), field_name="assembly__job", label=_("Job"))
    weld_type = django_filters.ChoiceFilter(choices=choices.weld_types)
    position = django_filters.ChoiceFilter(choices=choices.positions)
    final_process = django_filters.ChoiceFilter(choices=choices.processes, label=_("Process"))
    final_workstation = StationFilter(queryset=Workstation.objects.all(), label=_("Workstation"))
    tack_workstation = StationFilter(queryset=Workstation.objects.all(), label=_("Workstation of the tacks"))
    steel = django_filters.CharFilter(field_name="grade_1", lookup_expr="istartswith", label=_("Steel of part 1"))
    thinnest = SizeFilter(
        field_name="t1_mm", lookup_expr="gte", label=_("Part 1 from [mm]"), unit="mm", max_digits=9, decimal_places=3
    )
    thickest = SizeFilter(
        field_name="t1_mm", lookup_expr="lte", label=_("Part 1 up to [mm]"), unit="mm", max_digits=9, decimal_places=3
    )
    first = django_filters.DateFilter(field_name="weld_date", lookup_expr="gte", label=_("Welded from"), widget=DAY)
    last = django_filters.DateFilter(field_name="weld_date", lookup_expr="lte", label=_("Welded up to"), widget=DAY)

    class Meta:
        model = Joint
        fields = (
            "job",
            "weld_type",
            "position",
            "final_process",
            "final_workstation",
            "tack_workstation",
            "steel",
            "thinnest",
            "thickest",
            "first",
            "last",
        )

    def search(self, rows: QuerySet[Joint], name: str, text: str) -> QuerySet[Joint]:
        """Every word in the joint's number, or in the mark or title of its assembly."""
        for word in words_of(text):
            marked = Assembly.objects.filter(Q(mark__icontains=word) | Q(title__icontains=word)).values("pk")
            rows = rows.filter(Q(number__icontains=word) | Q(assembly__in=marked))
        return rows
