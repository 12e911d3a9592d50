"""The page of a list: filtered, searched, sorted, paged, and taken away as a file."""

from typing import Any, ClassVar
from urllib.parse import urlencode

from django.core.exceptions import BadRequest
from django.db import models
from django.http import HttpRequest
from django.http.response import HttpResponseBase
from django.utils.text import slugify
from django.utils.translation import gettext
from django.views.generic.base import TemplateResponseMixin, View
from django_tables2 import Column

from register.base import exports, forms, tables
from register.base.asof import asked_date
from register.base.filters import RegisterFilterSet
from register.base.pages import Page
from register.plants.reach import current
from register.plants.rows import InPlant


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
        order: dict[str, Any] = {"order_by": sort.split(",")} if sort else {}
        if _of_several_plants(rows, always="export" in self.request.GET):
            rows = rows.select_related("plant")
            order["extra_columns"] = [("plant", Column(orderable=False))]
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
            raise BadRequest(
                gettext("A list can be taken away as csv or xlsx, not as “%(wanted)s”.") % {"wanted": wanted[:20]}
            )
        try:
            return exports.xlsx_response(table.as_values(), name)
        except ValueError as refusal:
            raise BadRequest(gettext("This list is too long: %(refusal)s.") % {"refusal": refusal}) from refusal

    def _list(self, table: tables.LeanTable, found: RegisterFilterSet | None) -> dict[str, Any]:
        page = _page_number(self.request.GET.get("page", "1"))
        table.paginate(page=page, per_page=tables.PAGE_ROWS, paginator_class=tables.CheapPaginator)
        if found:
            forms.prepared(found.form)
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


def _of_several_plants(rows: Any, always: bool = False) -> bool:
    """True where rows of another plant than one's own are in sight: lent people, released procedures. A file has the
    column `always`, once there are several plants.
    """
    reach = current()
    if not reach.several or not (isinstance(rows, models.QuerySet) and issubclass(rows.model, InPlant)):
        return False
    return always or reach.one is None or bool(rows.order_by().exclude(plant=reach.one).exists())


def _page_number(text: str) -> int:
    """The page asked for; what is no page number is the first one."""
    return max(int(text), 1) if text.isdecimal() and len(text) < 9 else 1


def _export_urls(query: list[tuple[str, str]]) -> list[tuple[str, str]]:
    kept = [(k, v) for k, v in query if k != "page"]
    return [(label, "?" + urlencode([*kept, ("export", kind)])) for label, kind in (("CSV", "csv"), ("XLSX", "xlsx"))]
