"""People, and their certificates with the state of each on any day, past or future."""

from typing import Any

from django.db.models import QuerySet
from django.http import HttpRequest
from django.shortcuts import get_object_or_404
from ninja import Path, Query, Router
from pydantic import Field

from codes.readings import Settings
from codes.validity import State
from qualifications.api.schemas import CertificateLine, CertificateOut, Certificates, People, PersonOut
from qualifications.models import Certificate, CertificateEvent, Person
from qualifications.offers import CertificateOffer, fetched, offer
from register.api.entries import Key, OnDay, Text
from register.api.paging import Changing, page_of
from register.api.service import answers
from register.api.tokens import Needs
from register.api.verdicts import limit_out
from register.held.firm import firm_settings
from register.systems.scopes import Scope

router = Router(auth=Needs(Scope.READ_PEOPLE), tags=["People and certificates"])
WORKED_OUT = {"person_name", "processes", "state", "periods", "events", "earns", "problem"}


class PersonQuestion(Changing):
    """Which people."""

    q: Text = Field("", description="part of the name, or of the stamp or payroll number")
    site: Text = ""
    active: bool | None = None


class CertificateQuestion(Changing, OnDay):
    """Which certificates, and on which day."""

    code: Text = ""
    person: Key | None = None


@router.get("/people", response=answers(People), summary="List people", url_name="people")
def people(request: HttpRequest, asked: Query[PersonQuestion]) -> dict[str, Any]:
    """People by name, stamp, place of work, and whether they still work here."""
    rows = asked.narrowed(Person.objects.all())
    if asked.q:
        rows = rows.filter(name__icontains=asked.q) | rows.filter(identification__icontains=asked.q)
    if asked.site:
        rows = rows.filter(site=asked.site)
    if asked.active is not None:
        rows = rows.filter(active=asked.active)
    return page_of(request, asked, rows)


@router.get("/people/{key}", response=answers(PersonOut, 200, 404), summary="One person", url_name="person")
def person(request: HttpRequest, key: Path[Key]) -> Person:
    """One person; the certificates are asked for by /certificates?person=."""
    found: Person = get_object_or_404(Person, pk=key)
    return found


@router.get("/certificates", response=answers(Certificates), summary="List certificates", url_name="certificates")
def certificates(request: HttpRequest, asked: Query[CertificateQuestion]) -> dict[str, Any]:
    """Certificates with their state on the day asked about."""
    rows: QuerySet[Certificate] = fetched(asked.narrowed(Certificate.objects.all()))
    if asked.code:
        rows = rows.filter(code=asked.code)
    if asked.person:
        rows = rows.filter(person_id=asked.person)
    settings = firm_settings()
    return page_of(request, asked, rows, lambda row: line(row, offer(row, settings), asked))


@router.get(
    "/certificates/{key}", response=answers(CertificateOut, 200, 404), summary="One certificate", url_name="certificate"
)
def certificate(request: HttpRequest, key: Path[Key], asked: Query[OnDay]) -> dict[str, Any]:
    """The certificate with every event, every period and why each began and ends, and the limits it earns."""
    found = get_object_or_404(fetched(Certificate.objects.all()), pk=key)
    settings: Settings = firm_settings()
    said = offer(found, settings)
    named = CertificateOut.model_fields.keys() - WORKED_OUT
    return {name: getattr(found, name) for name in named} | line(found, said, asked) | _worked_out(found, said)


def line(row: Certificate, said: CertificateOffer, asked: OnDay) -> dict[str, Any]:
    """A certificate in a list."""
    plain = {name: getattr(row, name) for name in CertificateLine.model_fields.keys() - WORKED_OUT}
    state = state_out(said.validity.state(asked.day))
    return plain | {"person_name": said.person_name, "processes": list(said.processes), "state": state}


def state_out(state: State) -> dict[str, Any]:
    """The state on a day as plain data."""
    return {
        "on": state.on,
        "valid": state.valid,
        "until": state.until,
        "reason": state.reason,
        "because": state.because,
        "clause": str(state.clause),
        "mark": state.clause.mark.value,
        "missing": state.missing,
        "dues": [{"act": due.act, "by": due.by, "clause": str(due.clause)} for due in state.dues],
    }


def _worked_out(row: Certificate, said: CertificateOffer) -> dict[str, Any]:
    periods = [
        {"start": p.start, "end": p.end, "opened": p.opened, "ending": p.ending.because, "clause": str(p.ending.clause)}
        for p in said.validity.periods
    ]
    earns = [
        {"label": one.label, "standard": one.standard, "limits": [limit_out(limit) for limit in one.limits]}
        for one in said.sets
    ]
    events = [_event(event) for event in row.events.all()]
    return {"periods": periods, "events": events, "earns": earns, "problem": said.problem}


def _event(event: CertificateEvent) -> dict[str, Any]:
    names = ("id", "kind", "on", "by_name", "by_role", "reason", "recorded_at")
    details = event.details if isinstance(event.details, dict) else {}
    return {name: getattr(event, name) for name in names} | {"details": details, "voids": event.voids_id}
