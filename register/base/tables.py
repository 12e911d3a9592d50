"""Lists: lean django-tables2 tables that render in one pass, their pages, and plain values for export."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Any
from urllib.parse import urlencode

import django_tables2 as tables
from django.core.paginator import EmptyPage, Page
from django.db.models import QuerySet
from django.utils.html import conditional_escape
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext
from django_tables2.paginators import LazyPaginator

from register.judged_words import told_term

PAGE_ROWS = 25
COUNT_AT_MOST = 10_000
"""Rows are counted up to here; beyond it the list says "more than"."""

AT_THE_LIST = "#list"
"""Where the ways within a list lead, so that the next Tab is in it and not at the top of the page again."""


@dataclass(frozen=True, slots=True)
class Head:
    """A column's head: text, the address that sorts by it or "", class, and the sort as a screen reader hears it."""

    text: str
    url: str = ""
    css: str = ""
    aria_sort: str = ""


class LeanTable(tables.Table):
    """A table without a template, an attribute dictionary or a link column per cell.

    Columns: plain `tables.Column`; make links and dates in `render_<name>` (use `link`), plain data in `value_<name>`.
    Meta: `order_by` ends in a unique key; `numeric` names the columns set right with tabular figures, `unbroken` those
    that stay on one line, as a time does, `one_line` those that do so where the window is wide, `says_itself` those
    whose value needs no name beside it in a block; `many` has a tablet held upright show blocks as a phone does; `head`
    is the column that names the row (default: the first), `named` says that a block needs its heading too, as a bare
    number does; `caption` says what the list holds; `off_page` names the
    columns that only the files have, `off_file` those of the page only, `off_paper` those of the screen only, as they
    hold nothing but ways on; `if_said` names those that are left out where no row of the page says anything in them.
    """

    class Meta:
        template_name = "generic/table.html"
        attrs: dict[str, str] = {}
        orderable = True

    caption = ""
    head = ""
    numeric: tuple[str, ...] = ()
    unbroken: tuple[str, ...] = ()
    one_line: tuple[str, ...] = ()
    says_itself: tuple[str, ...] = ()
    off_page: tuple[str, ...] = ()
    off_file: tuple[str, ...] = ()
    off_paper: tuple[str, ...] = ()
    if_said: tuple[str, ...] = ()
    many = False
    named = False

    def __init__(self, *args: Any, query: Iterable[tuple[str, str]] = (), **kwargs: Any) -> None:
        self.query = [(key, value) for key, value in query if key not in ("sort", "page")]
        super().__init__(*args, default="–", **kwargs)

    @property
    def shown(self) -> list[Any]:
        """The columns of the page."""
        out = (*self.off_page, *self._unsaid)
        return [column for column in self.columns.iterall() if column.name not in out]

    @cached_property
    def _unsaid(self) -> tuple[str, ...]:
        """Those of `if_said` in which the rows of the page say nothing."""
        rows = list(self._rows) if self.if_said else []
        return tuple(n for n in self.if_said if all(row.get_cell(n) in ("", self.default) for row in rows))

    @property
    def _rows(self) -> Iterable[Any]:
        return self.page.object_list if hasattr(self, "page") else self.rows

    def as_values(self, exclude_columns: Iterable[str] | None = None) -> Iterator[list[Any]]:
        """Heads and rows as plain data, for the files."""
        found: Iterator[list[Any]] = super().as_values(exclude_columns=[*(exclude_columns or ()), *self.off_file])
        return found

    @property
    def heads(self) -> Iterator[Head]:
        """The heads of the columns; sorting keeps the filter and goes back to the first page."""
        for column in self.shown:
            css = "num" if column.name in self.numeric else "onscreen" if column.name in self.off_paper else ""
            if not column.orderable:
                yield Head(gettext(column.header), css=css)
                continue
            sort = column.order_by_alias
            aria = ("descending" if sort.is_descending else "ascending") if column.is_ordered else ""
            url = "?" + urlencode([*self.query, ("sort", sort.next)]) + AT_THE_LIST
            yield Head(gettext(column.header), url, css, aria)

    @property
    def sorts(self) -> list[Head]:
        """The ways to sort it, for a window where the heads are out of sight."""
        return [head for head in self.heads if head.url]

    @property
    def sorted_by(self) -> Head | None:
        """The column it is sorted by first."""
        return next((head for head in self.sorts if head.aria_sort), None)

    def row_class(self, record: Any) -> str:
        """A class for the row, such as register.base.draw.shapes.css_class(outcome)."""
        return ""

    @property
    def body(self) -> SafeString:
        """The rows as HTML. Every value is escaped unless its render method made it safe."""
        columns = [(c.name, *self._tags(c.name, gettext(c.header))) for c in self.shown]
        return mark_safe("\n".join(self._line(row, columns) for row in self._rows))

    def _line(self, row: Any, columns: list[tuple[str, str, str]]) -> str:
        cells = [self._cell(row.get_cell(name), start, end) for name, start, end in columns]
        css = self.row_class(row.record)
        return f"<tr{f' class={chr(34)}{css}{chr(34)}' if css else ''}>{''.join(cells)}</tr>"

    def _cell(self, value: Any, start: str, end: str) -> str:
        """One cell; an empty one is marked, so that a phone can leave it out."""
        if isinstance(value, str) and not isinstance(value, SafeString):
            value = told_term(value)
        if value in ("", self.default) and start.startswith("<td"):
            css = "none num" if start.startswith('<td class="num"') else "none"
            css += " onscreen" if start.startswith('<td class="onscreen"') else ""
            return f'<td class="{css}">{conditional_escape(value)}{end}'
        return f"{start}{conditional_escape(value)}{end}"

    def _tags(self, name: str, header: str) -> tuple[str, str]:
        """The opening and closing tag of a column's cells, made once for the page."""
        if name == (self.head or next(iter(self.columns.names()))):
            css = ' class="day"' if name in self.unbroken else ""
            label = f' data-label="{conditional_escape(header)}"' if self.named else ""
            return f'<th scope="row"{css}{label}>', "</th>"
        css = ' class="num"' if name in self.numeric else ' class="day"' if name in self.unbroken else ""
        css = css or (
            ' class="line"' if name in self.one_line else ' class="onscreen"' if name in self.off_paper else ""
        )
        label = "" if name in self.says_itself else f' data-label="{conditional_escape(header)}"'
        return f"<td{css}{label}>", "</td>"


def link(url: str, text: object) -> SafeString:
    """A link for a render method, both parts escaped."""
    return mark_safe(f'<a href="{conditional_escape(url)}">{conditional_escape(text)}</a>')


class CheapPaginator(LazyPaginator):
    """Pages without counting the whole table: the next page is looked for, the total is counted up to a cap.

    A page that is not there shows the first one.
    """

    look_ahead = 1

    def page(self, number: int) -> Page:
        try:
            return super().page(number)
        except EmptyPage:
            return super().page(1)

    def total_text(self) -> str:
        """The number of rows in words. Example: "340", "more than 10,000"."""
        rows = self.object_list
        while hasattr(rows, "data"):  # rows of a table hold its data, which holds the queryset
            rows = rows.data
        found = rows.order_by()[: COUNT_AT_MOST + 1].count() if isinstance(rows, QuerySet) else len(rows)
        return gettext("more than %(rows)s") % {"rows": f"{COUNT_AT_MOST:,}"} if found > COUNT_AT_MOST else f"{found:,}"


@dataclass(frozen=True, slots=True)
class Pager:
    """Where in the list the page stands, and the ways on."""

    text: str
    previous_url: str = ""
    next_url: str = ""


def pager(page: Page, query: Iterable[tuple[str, str]]) -> Pager:
    """The pager of a page; `query` holds the other parameters of the address."""
    kept = [(key, value) for key, value in query if key != "page"]
    first = (page.number - 1) * page.paginator.per_page + 1
    last = first + len(page.object_list) - 1

    def at(number: int) -> str:
        return "?" + urlencode([*kept, ("page", number)]) + AT_THE_LIST

    total = page.paginator.total_text()
    return Pager(
        gettext("%(first)s to %(last)s of %(total)s") % {"first": f"{first:,}", "last": f"{last:,}", "total": total}
        if last >= first
        else gettext("no rows"),
        at(page.number - 1) if page.number > 1 else "",
        at(page.number + 1) if page.has_next() else "",
    )


def plain_rows(table: tables.Table) -> Iterator[list[Any]]:
    """Heads, then every row as plain data (value_<name> where there is one), for export."""
    return table.as_values()
