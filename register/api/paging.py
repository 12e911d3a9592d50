"""Lists in pages by key: stable while rows come in, and as quick on the last page as on the first."""

from collections.abc import Callable
from typing import Any

from django.db.models import Model, QuerySet
from django.http import HttpRequest
from ninja import Schema
from pydantic import Field

from register.api.entries import BIGGEST_KEY, Moment

MOST, USUAL = 200, 50


class Paged(Schema):
    """Which part of a list is wanted."""

    limit: int = Field(USUAL, ge=1, le=MOST, description="rows in one answer")
    after: int = Field(0, ge=0, le=BIGGEST_KEY, description="key of the last row seen; `next` holds it")


class Changing(Paged):
    """A list of things that change: only those saved since a moment, to keep a copy up to date."""

    changed_since: Moment | None = Field(None, description="only what was saved at this moment or later, ISO 8601")

    def narrowed(self, rows: QuerySet[Any]) -> QuerySet[Any]:
        """The rows saved since then."""
        return rows.filter(changed_at__gte=self.changed_since) if self.changed_since else rows


def page_of(
    request: HttpRequest, asked: Paged, rows: QuerySet[Any], plain: Callable[[Any], Any] = lambda row: row
) -> dict[str, Any]:
    """One page, in order of key. `next`: the address of the page after it, or None on the last."""
    found: list[Model] = list(rows.order_by("pk").filter(pk__gt=asked.after)[: asked.limit + 1])
    more, shown = len(found) > asked.limit, found[: asked.limit]
    return {"items": [plain(row) for row in shown], "next": next_url(request, shown[-1].pk) if more else None}


def next_url(request: HttpRequest, after: int) -> str:
    """The address of the page after a key, with the same filters."""
    query = request.GET.copy()
    query["after"] = str(after)
    return f"{request.path}?{query.urlencode()}"
