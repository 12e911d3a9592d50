"""Pages that every app builds on: a list, one thing, a form, an act to confirm.

Each states `required_capability` (see register.roles) and asks its own app for answers; it decides nothing itself.
"""

from dataclasses import dataclass
from datetime import date
from typing import Any, ClassVar

from django.contrib import messages
from django.core.exceptions import BadRequest
from django.db import models, transaction
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.http.response import HttpResponseBase
from django.utils.text import slugify
from django.views.generic import DetailView, TemplateView
from django.views.generic.base import ContextMixin, TemplateResponseMixin, View
from django.views.generic.detail import SingleObjectMixin
from django.views.generic.edit import ModelFormMixin, ProcessFormView

from register.base import exports, forms, tables
from register.base.asof import asked_date
from register.base.filters import RegisterFilterSet
from register.roles import Capability, RequiresCapability, can


@dataclass(frozen=True, slots=True)
class Act:
    """Something that may be done from a page: a button beside the title."""

    label: str
    url: str
    main: bool = False
    warns: bool = False


class Page(RequiresCapability, ContextMixin):
    """What all pages share: a title that is the noun of its question, a line below it, the date asked about."""

    page_title: str = ""
    lead: str = ""

    def get_page_title(self) -> str:
        """The heading."""
        return self.page_title

    def get_lead(self) -> str:
        """The line below the heading."""
        return self.lead

    @property
    def on(self) -> date:
        """The date asked about. Raises BadAskedDate, answered 400."""
        return asked_date(self.request)  # type: ignore[attr-defined, no-any-return]

    def may(self, capability: Capability) -> bool:
        """True if whoever asks holds the capability."""
        return can(self.request.user, capability)  # type: ignore[attr-defined]

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        kwargs.setdefault("page_title", self.get_page_title())
        kwargs.setdefault("lead", self.get_lead())
        return super().get_context_data(**kwargs)


class PlainPage(Page, TemplateView):
    """A page with a template of its own. Reads the date first, so that a bad one is refused."""

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        asked_date(request)
        return super().get(request, *args, **kwargs)


class ListPage(Page, TemplateResponseMixin, View):
    """A list that is filtered, searched, sorted, paged and taken away as CSV or XLSX.

    Give `queryset` (or `get_queryset`), `table_class` (a LeanTable), `filterset_class` (a RegisterFilterSet, or None).
    `empty` is the text where nothing is on file: keys title, teach, more, action_url, action_label.
    """

    template_name = "generic/list.html"
    queryset: ClassVar[models.QuerySet[Any] | None] = None
    table_class: type[tables.LeanTable]
    filterset_class: type[RegisterFilterSet] | None = None
    create_label = ""
    empty: ClassVar[dict[str, str]] = {}

    def get_queryset(self) -> models.QuerySet[Any]:
        """All rows that may appear in the list, with what the columns need selected."""
        if self.queryset is None:
            raise NotImplementedError(f"{type(self).__name__} needs a queryset")
        return self.queryset.all()

    def get_create_url(self) -> str:
        """The address of the form for a new one, or "" where whoever asks may not."""
        return ""

    def get_table_kwargs(self) -> dict[str, Any]:
        """Further arguments of the table, such as the date asked about."""
        return {}

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        asked_date(request)
        rows = self.get_queryset()
        found = self.filterset_class(request.GET, queryset=rows, request=request) if self.filterset_class else None
        table = self.get_table(found.qs if found else rows)
        if wanted := request.GET.get("export"):
            return self.export(table, wanted)
        return self.render_to_response(self.get_context_data(**self._list(table, found)))

    def get_table(self, rows: models.QuerySet[Any]) -> tables.LeanTable:
        """The table of the rows, sorted as the address says."""
        sort = self.request.GET.get("sort")
        order = {"order_by": sort.split(",")} if sort else {}
        return self.table_class(rows, query=self.query, **order, **self.get_table_kwargs())

    @property
    def query(self) -> list[tuple[str, str]]:
        """The parameters of the address, export aside."""
        return [(k, v) for k, values in self.request.GET.lists() for v in values if k != "export"]

    def export(self, table: tables.LeanTable, wanted: str) -> HttpResponseBase:
        """The whole list as a file. Raises BadRequest for a kind of file that is not made."""
        name = f"{slugify(self.get_page_title()) or 'list'}-{self.on.isoformat()}"
        if wanted == "csv":
            return exports.csv_response(table.as_values(), name)
        if wanted != "xlsx":
            raise BadRequest(f"A list can be taken away as csv or xlsx, not as “{wanted[:20]}”.")
        try:
            return exports.xlsx_response(table.as_values(), name)
        except ValueError as refusal:
            raise BadRequest(f"This list is too long: {refusal}.") from refusal

    def _list(self, table: tables.LeanTable, found: RegisterFilterSet | None) -> dict[str, Any]:
        page = _page_number(self.request.GET.get("page", "1"))
        table.paginate(page=page, per_page=tables.PAGE_ROWS, paginator_class=tables.CheapPaginator, silent=True)
        narrowed = any(k not in ("sort", "page", "on") and v for k, v in self.query)
        nothing = not table.page.object_list
        return {
            "table": table,
            "filter": found,
            "filters_on": found.set_count if found else 0,
            "sort": self.request.GET.get("sort", ""),
            "clear_url": self.request.path,
            "pager": tables.pager(table.page, self.query),
            "export_urls": _export_urls(self.query),
            "create_url": self.get_create_url(),
            "create_label": self.create_label,
            "empty": self.empty if nothing and not narrowed else None,
            "found_nothing": nothing,
        }


class DetailPage(Page, DetailView):
    """One thing: its facts, what it rests on, who changed it."""

    template_name = "generic/detail.html"

    def get_page_title(self) -> str:
        return self.page_title or str(self.object)

    def get_facts(self) -> list[tuple[str, ...]]:
        """(term, value) or (term, value, url) in the order of reading."""
        return []

    def get_acts(self) -> list[Act]:
        """What whoever asks may do here."""
        return []

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        asked_date(request)
        return super().get(request, *args, **kwargs)

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        return super().get_context_data(facts=self.get_facts(), acts=self.get_acts(), **kwargs)


class FormPage(Page, TemplateResponseMixin, ModelFormMixin, ProcessFormView):
    """Enter a new one, or change the one named in the address.

    Two people who change the same thing do not overwrite each other: the second is told and sees both versions.
    """

    template_name = "generic/form.html"
    object: models.Model | None = None
    save_label = "Save"
    saved_message = "Saved: {0}."
    cancel_url = ""
    plan: ClassVar[tuple[tuple[str, tuple[str, ...]], ...]] = ()

    def find_object(self) -> models.Model | None:
        """The thing to change, or None for a new one."""
        return self.get_object() if {"pk", "slug"} & set(self.kwargs) else None

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        self.object = self.find_object()
        return super().get(request, *args, **kwargs)

    def post(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        with transaction.atomic():
            self.object = self.find_object()
            return super().post(request, *args, **kwargs)

    def form_valid(self, form: Any) -> HttpResponse:
        current = self._locked()
        if current is not None and forms.version_of(current) != self.request.POST.get(forms.SEEN, ""):
            found = forms.clash(form, current)
            context = self.get_context_data(form=form, clash=found, seen_version=forms.version_of(current))
            return self.render_to_response(context, status=409)
        self.save(form)
        messages.success(self.request, self.saved_message.format(self.object))
        return HttpResponseRedirect(self.get_success_url())

    def save(self, form: Any) -> None:
        """Save; a page that does more with the form (an author, an audit entry) does it here."""
        self.object = form.save()

    def form_invalid(self, form: Any) -> HttpResponse:
        seen = self.request.POST.get(forms.SEEN, "")
        return self.render_to_response(self.get_context_data(form=form, seen_version=seen), status=422)

    def get_cancel_url(self) -> str:
        """Where "leave without saving" goes."""
        return self.cancel_url or (self.object.get_absolute_url() if hasattr(self.object, "get_absolute_url") else "")

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        kwargs.setdefault("seen_version", forms.version_of(self.object))
        context = super().get_context_data(**kwargs)
        form = context["form"]
        context.update(
            save_label=self.save_label,
            cancel_url=self.get_cancel_url(),
            multipart=form.is_multipart(),
            sections=forms.sections(form, self.plan) if self.plan else None,
        )
        return context

    def _locked(self) -> models.Model | None:
        """The row as it is on file now, held until the answer is given."""
        if self.object is None or self.object.pk is None:
            return None
        return type(self.object)._default_manager.select_for_update().get(pk=self.object.pk)


class ConfirmPage(Page, SingleObjectMixin, TemplateResponseMixin, View):
    """An act that is shown first (GET) and done on POST. Give `sentence`, `act_label`, and `act`."""

    template_name = "generic/confirm.html"
    act_label = "Do it"
    warns = False
    done_message = ""

    def get_sentence(self) -> str:
        """What will happen, in words."""
        raise NotImplementedError

    def get_takes_away(self) -> list[str]:
        """The names of what is lost by it."""
        return []

    def get_cancel_url(self) -> str:
        """Where "leave it as it is" goes."""
        return self.object.get_absolute_url()

    def act(self) -> str:
        """Do it, and return the address to go to. Raise ValueError with a sentence where it cannot be done."""
        raise NotImplementedError

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        self.object = self.get_object()
        return self.render_to_response(self.get_context_data())

    def post(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        self.object = self.get_object()
        try:
            with transaction.atomic():
                url = self.act()
        except ValueError as refusal:
            messages.error(request, str(refusal))
            return self.render_to_response(self.get_context_data(), status=409)
        if self.done_message:
            messages.success(request, self.done_message.format(self.object))
        return HttpResponseRedirect(url)

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        return super().get_context_data(
            sentence=self.get_sentence(),
            takes_away=self.get_takes_away(),
            act_label=self.act_label,
            warns=self.warns,
            cancel_url=self.get_cancel_url(),
            **kwargs,
        )


def _page_number(text: str) -> int:
    """The page asked for; what is no page number is the first one."""
    return max(int(text), 1) if text.isdecimal() and len(text) < 9 else 1


def _export_urls(query: list[tuple[str, str]]) -> list[tuple[str, str]]:
    from urllib.parse import urlencode

    kept = [(k, v) for k, v in query if k != "page"]
    return [(label, "?" + urlencode([*kept, ("export", kind)])) for label, kind in (("CSV", "csv"), ("XLSX", "xlsx"))]
