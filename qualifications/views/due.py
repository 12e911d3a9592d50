"""What falls due: by horizon, narrowed down by person, place, process and kind, and taken away as a file."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from django import forms
from django.core.exceptions import BadRequest
from django.http import HttpRequest
from django.http.response import HttpResponseBase

from codes.terms import both_names
from qualifications.due import WITHIN, DueItem, falls_due, grouped
from qualifications.filters import PROCESS_CHOICES
from qualifications.models import Certificate, Person
from qualifications.offers import certificate_offers
from register.base import exports
from register.base.views import PlainPage
from register.roles import Capability, can

HEADS = ("Falls due", "Days", "What", "Person", "Certificate", "Standard", "Process", "Place", "Why", "Clause")


class DueFilter(forms.Form):
    """How the page is narrowed down."""

    within = forms.TypedChoiceField(
        label="Within", coerce=int, required=False, empty_value=WITHIN[-1], choices=[(d, f"{d} days") for d in WITHIN]
    )
    process = forms.ChoiceField(choices=[("", "any"), *PROCESS_CHOICES], required=False)
    kind = forms.ChoiceField(choices=[("", "any"), *Certificate.Kind.choices], required=False, label="Certificates as")
    site = forms.ChoiceField(required=False, label="Place of work")
    mine = forms.BooleanField(required=False, label="Only people who report to me")

    def __init__(self, data: Any, user: Any) -> None:
        given = data.copy()
        given.setdefault("within", str(WITHIN[-1]))
        super().__init__(given)
        self.user = user
        sites = Person.objects.exclude(site="").order_by("site").values_list("site", flat=True).distinct()
        self.fields["site"].choices = [("", "any"), *((site, site) for site in sites)]
        if not can(user, Capability.CONFIRM_OWN_PEOPLE):
            del self.fields["mine"]

    def keeps(self, item: DueItem) -> bool:
        """True for an item that the entries do not shut out. Raises BadRequest where they cannot be read."""
        data = self.cleaned_data
        return (
            (not data.get("process") or data["process"] in item.processes)
            and (not data.get("kind") or item.kind == data["kind"])
            and (not data.get("site") or item.site == data["site"])
            and (not data.get("mine") or item.supervisor_id == self.user.pk)
            and (item.is_lapse or item.days <= data["within"])
        )


@dataclass(frozen=True, slots=True)
class Count:
    """How many things fall due within a horizon."""

    days: int
    items: int


class Due(PlainPage):
    """Everything that must be signed, welded or tested by a date, and what lapsed in the last ninety days."""

    required_capability = Capability.VIEW
    template_name = "qualifications/due.html"
    page_title = "What falls due"

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        items = self.items()
        wanted = request.GET.get("export", "")
        if not wanted:
            return super().get(request, *args, **kwargs)
        name = f"due-{self.on.isoformat()}"
        if wanted == "csv":
            return exports.csv_response(as_rows(items), name)
        if wanted != "xlsx":
            raise BadRequest(f"A list can be taken away as csv or xlsx, not as “{wanted[:20]}”.")
        return exports.xlsx_response(as_rows(items), name)

    def items(self) -> tuple[DueItem, ...]:
        """What falls due, narrowed down. Raises BadRequest where the address cannot be read."""
        self.form = DueFilter(self.request.GET, self.request.user)
        if not self.form.is_valid():
            name, problems = next(iter(self.form.errors.items()))
            raise BadRequest(f"{self.form.fields[name].label or name}: {problems[0]}")
        self.found = tuple(i for i in falls_due(certificate_offers(), self.on) if self.form.keeps(i))
        return self.found

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        within = self.form.cleaned_data["within"]
        horizons = [days for days in WITHIN if days <= within]
        ahead = [item for item in self.found if not item.is_lapse]
        kept = self.request.GET.copy()
        kept.pop("export", None)
        return super().get_context_data(
            groups=grouped(self.found, horizons),
            counts=[Count(days, sum(1 for item in ahead if item.days <= days)) for days in horizons],
            filter_form=self.form,
            may_confirm=self.may(Capability.CONFIRM_OWN_PEOPLE),
            export_urls=[(kind.upper(), "?" + _with(kept, kind)) for kind in ("csv", "xlsx")],
            **kwargs,
        )

    def get_lead(self) -> str:
        return f"As of {self.on.isoformat()}; the day itself counts."


def as_rows(items: Iterable[DueItem]) -> Iterator[tuple[Any, ...]]:
    """The heads, then a row for each item, as plain data."""
    yield HEADS
    for item in items:
        processes = ", ".join(both_names("process", p) for p in item.processes)
        yield (
            item.by,
            item.days,
            item.act,
            item.person_name,
            item.number,
            item.code,
            processes,
            item.site,
            item.because,
            str(item.clause),
        )


def _with(kept: Any, kind: str) -> str:
    made = kept.copy()
    made["export"] = kind
    return made.urlencode()
