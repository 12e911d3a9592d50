"""Pages of test records."""

from collections.abc import Collection, Iterable
from typing import Any

from django.core.exceptions import BadRequest
from django.db.models import Count, QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from codes.editions import UnknownEdition, edition, editions_of
from codes.readings import Settings
from register.audit import record_act
from register.base.views import Act, DetailPage, FormPage, ListPage
from register.held.firm import firm_settings
from register.own_units.reader import units_of
from register.roles import Capability
from wps.acceptance import STANDARD, acceptance, route_scope, tests_shown, unused_for
from wps.answers_over_time import CHANGED
from wps.filters import RecordFilter
from wps.forms.groups import speaks_iso
from wps.forms.measured import COLUMNS
from wps.forms.record import RecordForm
from wps.limits_view import record_view
from wps.models import OPEN, ProcedureRevision, Status, TestRecord
from wps.record_paper import in_use
from wps.record_ranges import apart
from wps.tables import RecordTable
from wps.trail import trail
from wps.views.scans import scans_of


class RecordList(ListPage):
    """All test records."""

    required_capability = Capability.VIEW
    page_title = _("Test records")
    lead = _("What was welded, tested and found, and the ranges it earned.")
    table_class = RecordTable
    filterset_class = RecordFilter
    create_label = _("Enter a record")
    empty = {
        "title": _("No test record is on file."),
        "teach": _("A procedure rests on test records (WPQR, PQR). Enter the first one from its signed form."),
    }

    def get_queryset(self) -> QuerySet[TestRecord]:
        return TestRecord.objects.annotate(supported=Count("supports__procedure", distinct=True))

    def get_table_kwargs(self) -> dict[str, Any]:
        return {"system": units_of(self.request)}

    def get_create_url(self) -> str:
        return reverse("wps:record_new") if self.may(Capability.EDIT_RECORD) else ""


class RecordPage(DetailPage):
    """One record: what it earned, what was tested, who changed it."""

    required_capability = Capability.VIEW
    model = TestRecord
    template_name = "wps/record.html"

    def get_lead(self) -> str:
        level = f", level {self.object.level}" if self.object.level else ""
        route = f": {self.object.get_route_display()}" if speaks_iso(self.object.code) else ""
        return f"{self.object.code}{level}{route}"

    def get_facts(self) -> list[tuple[str, ...]]:
        record = self.object
        return [
            (gettext("Manufacturer"), record.manufacturer),
            (gettext("Examiner"), record.examiner),
            (gettext("Welded on"), str(record.welded_on)),
            (gettext("Issued on"), str(record.issued_on or "")),
            (gettext("Last used in production"), str(record.last_used_on or "")),
            (gettext("Unused for"), unused_for(record, self.on)),
            (gettext("No longer used from"), str(record.withdrawn_on))
            if record.withdrawn_on
            else (gettext("In use"), gettext("yes")),
        ]

    def get_acts(self) -> list[Act]:
        sheet = Act(gettext("Record as PDF"), reverse("wps:record_sheet", args=[self.object.pk]))
        if not self.may(Capability.EDIT_RECORD):
            return [sheet]
        return [
            sheet,
            Act(gettext("Change"), reverse("wps:record_edit", args=[self.object.pk])),
            Act(gettext("Attach a scan"), reverse("wps:record_scan", args=[self.object.pk])),
        ]

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        supports = self.object.supports.select_related("procedure").order_by("procedure__number", "pk")
        settings, system = firm_settings(), units_of(self.request)
        view_of = record_view(self.object, settings, system)
        return super().get_context_data(
            system=system,
            view_of=view_of,
            earned=apart(view_of.earned, len(self.object.pieces)),
            supports=supports,
            history=trail(self.object),
            scans=scans_of(self.object),
            withdraw_name="wps:record_scan_withdraw" if self.may(Capability.EDIT_RECORD) else "",
            **(self._accepted(settings) if in_use(self.object, self.on) else {"unused_from": self.object.withdrawn_on}),
            **kwargs,
        )

    def _accepted(self, settings: Settings) -> dict[str, Any]:
        """What EN 1090-2 makes of a record to an ISO standard; nothing for others."""
        if not speaks_iso(self.object.code):
            return {}
        try:
            found = acceptance(self.object, self.on, settings)
        except (ValueError, LookupError):
            return {}
        return {
            "acceptance": found,
            "acceptance_standard": STANDARD,
            "route_scope": route_scope(self.object, settings),
            "tests_shown": tests_shown(self.object),
        }


class RecordEntry(FormPage):
    """What entering and changing a record share."""

    required_capability = Capability.EDIT_RECORD
    model = TestRecord
    form_class = RecordForm
    template_name = "wps/record_form.html"
    save_label = _("Save the record")

    def form_valid(self, form: RecordForm) -> HttpResponse:
        if form.wants_piece:
            # Nothing is saved: the form comes back with the fields of one more test piece.
            return self.render_to_response(self.get_context_data(form=form, seen_version=self._seen))
        return super().form_valid(form)

    def form_invalid(self, form: RecordForm) -> HttpResponse:
        if form.wants_piece:
            form._errors = {}
            return self.render_to_response(self.get_context_data(form=form, seen_version=self._seen))
        return super().form_invalid(form)

    @property
    def _seen(self) -> str:
        return self.request.POST.get("seen_version", "")

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        context = super().get_context_data(**kwargs)
        form = context["form"]
        return context | {"sections": form.sections(), "rows": form.rows, "columns": COLUMNS, "pieces": form.pieces}


def offered() -> list[tuple[str, str]]:
    """The editions that a record can be entered to, with their titles."""
    return [(known.key, known.title) for known in editions_of("procedure")]


def last_code() -> str:
    """The edition of the record entered last, of those held; "" where there is none."""
    held = TestRecord.objects.filter(code__in=[key for key, title in offered()])
    return held.order_by("-pk").values_list("code", flat=True).first() or ""


class RecordNew(RecordEntry):
    """A new record, to the code that the address names; without one, to that of the record entered last.

    In a register without a record the code is asked for first: it decides what the form asks.
    """

    page_title = _("New test record")
    cancel_url = ""

    def get_lead(self) -> str:
        return gettext("To %(code)s. Fields and their clauses are those of this edition.") % {"code": self.code}

    @property
    def code(self) -> str:
        """The edition asked for. Raises BadRequest for one that the register does not hold."""
        wanted = self.request.GET.get("code") or last_code()
        try:
            return edition(wanted).key
        except UnknownEdition as unknown:
            raise BadRequest(f"{unknown}.") from unknown

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        if request.GET.get("code") or last_code():
            return super().get(request, *args, **kwargs)
        return render(request, "wps/record_choose.html", {"page_title": self.page_title, "codes": offered()})

    def get_form_kwargs(self) -> dict[str, Any]:
        return super().get_form_kwargs() | {"instance": TestRecord(code=self.code)}

    def get_cancel_url(self) -> str:
        return reverse("wps:record_list")

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        return super().get_context_data(
            codes=offered(), code=self.code, others=[key for key, _title in offered() if key != self.code], **kwargs
        )


class RecordEdit(RecordEntry):
    """Change a record. Procedures that rest on it are judged anew wherever they are shown."""

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        self._known_edition()
        return super().get(request, *args, **kwargs)

    def post(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        self._known_edition()
        return super().post(request, *args, **kwargs)

    def _known_edition(self) -> None:
        try:
            edition(self.get_object().code)
        except UnknownEdition as unknown:
            raise BadRequest(
                gettext("This record cannot be changed here: %(unknown)s.") % {"unknown": unknown}
            ) from unknown

    def save(self, form: RecordForm) -> None:
        super().save(form)
        if reason := form.cleaned_data.get("reason"):
            record_act(self.request.user, CHANGED, self.object, note=reason)

    def get_page_title(self) -> str:
        return gettext("Change %(object)s") % {"object": self.object}

    def get_lead(self) -> str:
        """Which procedures a change concerns: those in force first, what waits and what has ended each by itself."""
        supports = self.object.supports.select_related("procedure").order_by("procedure__number", "pk")
        said = [words % {"names": names} for words, states in CONCERNED if (names := _named(supports, states))]
        return " ".join([*said, gettext("Saving judges each anew.")] if said else [self.object.code])


CONCERNED = (
    (_("In force and resting on this record: %(names)s."), (Status.APPROVED,)),
    (_("Not approved yet: %(names)s."), OPEN),
    (_("No longer in force: %(names)s."), (Status.SUPERSEDED, Status.WITHDRAWN)),
)
"""What the form of a record says of the procedures that rest on it, and in which states they are."""


def _named(supports: Iterable[ProcedureRevision], states: Collection[str]) -> str:
    return ", ".join(str(revision) for revision in supports if revision.status in states)
