"""What falls due: by horizon, week, person or workstation, narrowed down, and taken away as a file."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from django import forms
from django.core.exceptions import BadRequest
from django.http import HttpRequest
from django.http.response import HttpResponseBase
from django.urls import NoReverseMatch, reverse
from django.utils.text import format_lazy
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from codes.terms import both_names
from qualifications.due import WITHIN, DueItem, falls_due
from qualifications.due_order import ORDERS, ordered, page_of, stations_of
from qualifications.filters import PROCESS_CHOICES
from qualifications.models import Certificate, Person
from qualifications.offers import certificate_offers
from register.base import exports
from register.base.views import PlainPage
from register.held.firm import firm_settings
from register.roles import Capability, can

HEADS = ("Falls due", "Days", "What", "Person", "Certificate", "Standard", "Process", "Place", "Why", "Clause")
Keeps = Callable[[DueItem], bool]
UNCOVERED = "joints:uncovered_by_lapse"
"""The page part that says what a lapse would leave without anybody; the joints know, people do not."""


class DueFilter(forms.Form):
    """How the page is arranged and narrowed down."""

    by = forms.ChoiceField(label=_("Arranged by"), choices=list(ORDERS.items()), required=False)
    within = forms.TypedChoiceField(
        label=_("Within"),
        coerce=int,
        required=False,
        empty_value=WITHIN[-1],
        choices=[(d, format_lazy(_("{days} days"), days=d)) for d in WITHIN],
    )
    person = forms.CharField(required=False, max_length=80, label=_("Person or certificate"))
    process = forms.ChoiceField(choices=[("", _("any")), *PROCESS_CHOICES], required=False)
    kind = forms.ChoiceField(
        choices=[("", _("any")), *Certificate.Kind.choices], required=False, label=_("Certificates as")
    )
    site = forms.ChoiceField(required=False, label=_("Place of work"))
    workstation = forms.CharField(required=False, max_length=80)
    mine = forms.BooleanField(required=False, label=_("Only people who report to me"))

    def __init__(self, data: Any, user: Any) -> None:
        given = data.copy()
        given.setdefault("within", str(WITHIN[-1]))
        given.setdefault("by", "horizon")
        super().__init__(given)
        self.user = user
        sites = Person.objects.exclude(site="").order_by("site").values_list("site", flat=True).distinct()
        self.fields["site"].choices = [("", gettext("any")), *((site, site) for site in sites)]
        if not can(user, Capability.CONFIRM_OWN_PEOPLE):
            del self.fields["mine"]

    def conditions(self) -> Iterator[Keeps]:
        """What an item must meet, one for each entry that is set, the workstation aside."""
        data, own = self.cleaned_data, self.user.pk
        if data["within"] != WITHIN[-1]:
            yield lambda item: not item.is_ahead or item.days <= data["within"]
        if data.get("process"):
            yield lambda item: data["process"] in item.processes
        if data.get("kind"):
            yield lambda item: item.kind == data["kind"]
        if data.get("site"):
            yield lambda item: item.site == data["site"]
        if data.get("mine"):
            yield lambda item: item.supervisor_id == own
        if wanted := data.get("person", "").casefold():
            yield lambda item: wanted in item.label.casefold()


@dataclass(frozen=True, slots=True)
class Count:
    """How many things fall due within a horizon."""

    days: int
    items: int


class DueList(PlainPage):
    """What the page and the files share: the items, narrowed down as the address says."""

    required_capability = Capability.VIEW

    def items(self) -> tuple[DueItem, ...]:
        """What falls due, narrowed down. Raises BadRequest where the address cannot be read."""
        self.form = DueFilter(self.request.GET, self.request.user)
        if not self.form.is_valid():
            name, problems = next(iter(self.form.errors.items()))
            raise BadRequest(f"{self.form.fields[name].label or name}: {problems[0]}")
        settings = firm_settings()
        found = falls_due(certificate_offers(settings), self.on, settings=settings)
        for keeps in (*self.form.conditions(), *self._conditions()):
            found = tuple(item for item in found if keeps(item))
        self.found = found
        return self.found

    @cached_property
    def stations(self) -> dict[int, list[str]]:
        """Where people welded lately."""
        return stations_of(self.on)

    def _conditions(self) -> Iterator[Keeps]:
        if wanted := self.form.cleaned_data["workstation"].strip().casefold():
            yield lambda item: any(wanted in name.casefold() for name in self.stations.get(item.person_id, ()))

    @property
    def order(self) -> str:
        """By what the list is arranged."""
        return self.form.cleaned_data["by"] or "horizon"

    def groups(self) -> Any:
        """The items under their headings."""
        horizons = [days for days in WITHIN if days <= self.form.cleaned_data["within"]]
        stations = self.stations if self.order == "workstation" else {}
        return ordered(self.found, self.order, horizons, stations)


class Due(DueList):
    """Everything that must be signed, welded or tested by a date, and what lapsed in the last ninety days."""

    template_name = "qualifications/due.html"
    page_title = _("What falls due")

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        items = self.items()
        wanted = request.GET.get("export", "")
        if not wanted:
            return super().get(request, *args, **kwargs)
        name = f"due-{self.on.isoformat()}"
        if wanted == "csv":
            return exports.csv_response(as_rows(items), name)
        if wanted != "xlsx":
            raise BadRequest(
                gettext("A list can be taken away as csv or xlsx, not as “%(wanted)s”.") % {"wanted": wanted[:20]}
            )
        return exports.xlsx_response(as_rows(items), name)

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        horizons = [days for days in WITHIN if days <= self.form.cleaned_data["within"]]
        ahead = [item.days for item in self.found if item.is_ahead]
        shown, pages = page_of(self.groups(), self._page_number())
        return super().get_context_data(
            groups=shown,
            nobody=not self.found and not Certificate.objects.exists(),
            decisions=sum(item.is_decision for item in self.found),
            counts=[Count(days, sum(1 for away in ahead if away <= days)) for days in horizons],
            filter_form=self.form,
            narrowed=sum(bool(value) for name, value in self.form.cleaned_data.items() if name not in ("by", "within")),
            may_confirm=self.may(Capability.CONFIRM_OWN_PEOPLE),
            export_urls=self._exports(),
            pages=self._pages(pages),
            uncovered_url=self._uncovered(),
            **kwargs,
        )

    def get_lead(self) -> str:
        return gettext("As of %(on)s; the day itself counts.") % {"on": self.on.isoformat()}

    def _page_number(self) -> int:
        text = self.request.GET.get("page", "1")
        return int(text) if text.isdecimal() and len(text) < 6 else 1

    def _pages(self, pages: int) -> list[tuple[int, str]]:
        """(number, address) of the pages; the one shown has no address."""
        here = min(max(self._page_number(), 1), pages)
        near = [n for n in range(1, pages + 1) if abs(n - here) < 4 or n in (1, pages)] if pages > 1 else []
        return [(n, "" if n == here else self._with(page=str(n))) for n in near]

    def _exports(self) -> list[tuple[str, str]]:
        sheet = reverse("qualifications:due_sheet") + self._with()
        return [("CSV", self._with(export="csv")), ("XLSX", self._with(export="xlsx")), ("PDF", sheet)]

    def _uncovered(self) -> str:
        """The address of what a lapse would uncover, "" where the joints have no such page."""
        try:
            return reverse(UNCOVERED)
        except NoReverseMatch:
            return ""

    def _with(self, **more: str) -> str:
        kept = self.request.GET.copy()
        for name in ("export", "page"):
            kept.pop(name, None)
        for name, value in more.items():
            kept[name] = value
        return "?" + kept.urlencode()


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
