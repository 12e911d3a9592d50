"""What falls due by a day, and what lapsed lately."""

from typing import Any

from django.http import HttpRequest
from ninja import Query, Router
from pydantic import Field

from qualifications.api.schemas import DueList
from qualifications.due import LOOK_BACK, DueItem, falls_due
from qualifications.offers import certificate_offers
from register.api.entries import OnDay
from register.api.service import answers
from register.api.tokens import Needs
from register.held.firm import firm_settings
from register.systems.scopes import Scope

router = Router(auth=Needs(Scope.READ_DUE), tags=["What falls due"])


class DueQuestion(OnDay):
    """From which day, and how far."""

    within: int = Field(60, ge=0, le=800, description="days ahead, the last one included")
    back: int = Field(LOOK_BACK, ge=0, le=800, description="days behind, for what lapsed")


@router.get("/due", response=answers(DueList), summary="What falls due", url_name="due")
def due(request: HttpRequest, asked: Query[DueQuestion]) -> dict[str, Any]:
    """What must be signed, welded or tested, earliest first; lapses of the days before come with lapsed = true.

    A failed test of a valid certificate comes with decide = true and its own day, until it is settled.
    """
    settings = firm_settings()
    found = falls_due(certificate_offers(settings), asked.day, (asked.within,), asked.back, settings)
    return {"on": asked.day, "within": asked.within, "items": [due_out(item) for item in found]}


def due_out(item: DueItem) -> dict[str, Any]:
    """One thing that falls due, as plain data."""
    same = ("certificate_id", "person_id", "person_name", "code", "kind", "act", "by", "days", "because", "site")
    return {name: getattr(item, name) for name in same} | {
        "certificate": item.number,
        "lapsed": item.is_lapse,
        "decide": item.is_decision,
        "clause": str(item.clause),
        "mark": item.clause.mark.value,
        "processes": list(item.processes),
    }
