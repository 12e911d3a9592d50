"""Test records and the limits they earn."""

from typing import Any

from django.http import HttpRequest
from django.shortcuts import get_object_or_404
from ninja import Path, Query, Router

from register.api.entries import Key, Text
from register.api.paging import Changing, page_of
from register.api.service import answers
from register.api.tokens import Needs
from register.api.verdicts import limit_out
from register.held.firm import firm_settings
from register.systems.scopes import Scope
from wps.api.schemas import RecordOut, Records
from wps.models import TestRecord

router = Router(auth=Needs(Scope.READ_RECORDS), tags=["Test records"])


class RecordQuestion(Changing):
    """Which records."""

    q: Text = ""
    code: Text = ""


@router.get("/records", response=answers(Records), summary="List test records", url_name="records")
def records(request: HttpRequest, asked: Query[RecordQuestion]) -> dict[str, Any]:
    """Records whose number or manufacturer holds `q`, made to the edition `code`."""
    rows = asked.narrowed(TestRecord.objects.all())
    if asked.q:
        rows = rows.filter(number__icontains=asked.q) | rows.filter(manufacturer__icontains=asked.q)
    if asked.code:
        rows = rows.filter(code=asked.code)
    return page_of(request, asked, rows)


@router.get("/records/{key}", response=answers(RecordOut, 200, 404), summary="One test record", url_name="record")
def record(request: HttpRequest, key: Path[Key]) -> dict[str, Any]:
    """The record, with the limits it earns under the firm's own readings."""
    found = get_object_or_404(TestRecord, pk=key)
    earns, problem = _earned(found)
    named = RecordOut.model_fields.keys() - {"earns", "problem"}
    return {name: getattr(found, name) for name in named} | {"earns": earns, "problem": problem}


def _earned(found: TestRecord) -> tuple[list[dict[str, Any]], str]:
    try:
        sets = found.limit_sets(firm_settings())
    except (ValueError, LookupError) as problem:
        return [], f"not judged: {problem}"
    plain = [
        {"label": one.label, "standard": one.standard, "limits": [limit_out(limit) for limit in one.limits]}
        for one in sets
    ]
    return plain, ""
