"""The papers of people: each says for which day it was made, in either system of units, with a code to ask after it.

What a code answers for is what the paper states, worked out anew from the records: `*_content` gives it as JSON values.
"""

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import Any

from django.contrib.auth.models import AnonymousUser
from django.template.defaultfilters import slugify

from codes.readings import Settings
from codes.units import System, interval_in
from codes.variables import unit_of
from qualifications.due import DueItem, Group, falls_due
from qualifications.models import Certificate, Person
from qualifications.offers import certificate_offers, fetched
from qualifications.paper.facts import ON_CARD, card_facts, certificate_facts, due_facts
from qualifications.paper.field_list import field_lists
from qualifications.periods import is_judged
from qualifications.sheets import CertificateView, EventLine, RangeLine, certificate_view
from register.held.firm import firm_settings
from register.languages import in_own_language
from register.own_units.words import sentence_in
from register.papers.kinds import Kind, register
from register.papers.printing import Draft
from register.plants.models import Plant
from register.plants.reach import of_plant, within

HERE = Path(__file__).resolve().parent
CARD = "85.6mm 54mm"
CARD_SIZES = ("6.6pt", "6pt", "5.4pt")
MANY_ON_CARD = 6
"""From more certificates on, the front of a card lists them closer, under a smaller code."""
SIZES = ("8pt", "7.6pt", "7.2pt", "6.8pt")
WHO = {
    "welder": ("Welder's", "Welder"),
    "operator": ("Welding operator's or weld setter's", "Welding operator"),
    "tack_welder": ("Tack welder's", "Tack welder"),
}
"""Kind to whose certificate it is, and whose record."""
NOT = re.compile(" is (?:not|none of) ")
"""How a condition is denied in words."""
NARROWED = "A list that was narrowed down or arranged otherwise, or holds several plants, bears no check code."


def view_of(certificate: Certificate, on: date, settings: Settings) -> CertificateView:
    """The certificate as anybody sees it on a day."""
    return certificate_view(certificate, on, AnonymousUser(), settings)


def signed(view: CertificateView) -> list[EventLine]:
    """The events that count."""
    return [line for line in view.events if line.voided is None and line.event.kind != "correction"]


@in_own_language
def certificate_content(subject_id: str, on: date) -> dict[str, Any] | None:
    """What the paper of a certificate states."""
    settings, held = firm_settings(), fetched(Certificate.objects.filter(pk=subject_id)).first()
    return None if held is None else _certificate_content(held, view_of(held, on, settings), settings)


def facts_of_certificate(subject_id: str, on: date) -> dict[str, Any] | None:
    """What that says, whatever the words."""
    settings, held = firm_settings(), fetched(Certificate.objects.filter(pk=subject_id)).first()
    if held is None:
        return None
    view = view_of(held, on, settings)
    return certificate_facts(view, signed(view), settings)


def _certificate_content(held: Certificate, view: CertificateView, settings: Settings) -> dict[str, Any]:
    person = held.person
    days = (person.born_on, held.welded_on, held.results_on, held.issued_on, held.printed_until)
    return {
        "on": view.state.on.isoformat(),
        "number": held.number,
        "code": held.code,
        "person": [
            person.name,
            person.identification,
            person.born_in,
            held.employer_then,
            held.wps,
            held.job_knowledge,
        ],
        "by": [held.examiner, held.examining_body],
        "days": [str(day or "") for day in days],
        "revalidation": held.option,
        "written": held.designation or view.written,
        "state": [view.word, view.sentence, view.problem, *(one.because for one in view.state.questions)],
        "range": [
            [one.label, [[line.label, line.tested, line.allowed, line.clause] for line in one.lines]]
            for one in field_lists(held, settings)
        ],
        "results": [*view.results, *view.not_shown],
        "events": [_event(line) for line in signed(view)],
    }


def _event(line: EventLine) -> list[str]:
    one = line.event
    return [str(one.on), line.kind, one.by_name, one.by_role, one.reason, one.evidence]


@in_own_language
def certificate_draft(held: Certificate, on: date, system: System = System.SI) -> Draft:
    """One certificate in the order of its code's field list, with its state on a day, results and signatures."""
    settings = firm_settings()
    view = view_of(held, on, settings)

    def context() -> dict[str, Any]:
        lead = " · ".join(filter(None, (held.code, held.designation or view.written)))
        return {
            "view": view,
            "problem": view.problem if is_judged(held) else "",
            "lists": field_lists(held, settings, system),
            "signed": signed(view),
            "what": _what(held),
            "lead": lead,
            "signers": (
                ("Examiner or examining body", held.examiner or held.examining_body),
                ("Employer, welding coordinator", held.employer_then),
            ),
        }

    stem = f"certificate-{slugify(held.number) or held.pk}-{on.isoformat()}"
    title = f"Certificate {held.number}, {held.person.name}"
    template, style = "qualifications/certificate_sheet.html", HERE / "people.css"
    content, facts = _certificate_content(held, view, settings), certificate_facts(view, signed(view), settings)
    return Draft(CERTIFICATE, held, title, stem, on, content, template, context, SIZES, style=style, facts=facts)


def _what(held: Certificate) -> str:
    """What the paper is called: in the ISO and EN standards a certificate, in those of AWS and ASME a record."""
    of, plain = WHO.get(held.kind, ("Person's", "Person"))
    is_iso = held.code.startswith(("ISO", "EN"))
    return f"{of} qualification test certificate" if is_iso else f"{plain} performance qualification test record"


@in_own_language
def card_content(subject_id: str, on: date) -> dict[str, Any] | None:
    """What the card of a person states."""
    person = Person.objects.filter(pk=subject_id).first()
    return None if person is None else _card_content(person, _valid(person, on, firm_settings()), on)


def facts_of_card(subject_id: str, on: date) -> dict[str, Any] | None:
    """What that says, whatever the words."""
    person, settings = Person.objects.filter(pk=subject_id).first(), firm_settings()
    return None if person is None else card_facts(person, _valid(person, on, settings), on, settings)


def _valid(person: Person, on: date, settings: Settings) -> list[CertificateView]:
    """Those that are valid on the day."""
    return [view for one in fetched(person.certificates.all()) if (view := view_of(one, on, settings)).state.valid]


def _card_content(person: Person, valid: Iterable[CertificateView], on: date) -> dict[str, Any]:
    return {
        "on": on.isoformat(),
        "person": [person.name, person.identification, person.employer],
        "valid": [_carried(view) for view in valid],
    }


def _carried(view: CertificateView) -> list[Any]:
    held = view.certificate
    until = str(view.state.until or "")
    asked = [one.because for one in view.state.questions]
    return [
        held.number,
        held.code,
        held.designation or view.written,
        until,
        card_lines(view),
        *([asked] if asked else []),
    ]


@in_own_language
def card_draft(person: Person, on: date, system: System = System.SI) -> Draft:
    """A card for the pocket: who, what is valid on the day and until when, then a side for each valid certificate."""
    settings = firm_settings()
    valid = _valid(person, on, settings)

    def context() -> dict[str, Any]:
        sides = [(view, card_lines(view, system)) for view in valid]
        return {"person": person, "valid": sides, "many": len(valid) > MANY_ON_CARD}

    stem = f"card-{slugify(person.identification) or person.pk}-{on.isoformat()}"
    look = {"style": HERE / "card.css", "size": CARD, "sizes": CARD_SIZES, "sides": 1 + len(valid)}
    look["facts"] = card_facts(person, valid, on, settings)
    content, template = _card_content(person, valid, on), "qualifications/card_sheet.html"
    return Draft(CARDS, person, f"Pocket card of {person.name}", stem, on, content, template, context, **look)


def card_lines(view: CertificateView, system: System = System.SI) -> list[tuple[str, str]]:
    """The first combination's limits on the variables that fit on a card; conditions are left to the certificate."""
    found: dict[str, dict[str, list[str]]] = {}
    lines = view.ranges[0].in_short if view.ranges else ()
    for line in lines:
        if line.variable in ON_CARD:
            whens = found.setdefault(line.label, {}).setdefault(_allowed(line, system), [])
            whens += [sentence_in(line.when, system)]
    return [(label, "; ".join(_said(said))) for label, said in found.items()]


def _said(found: Mapping[str, list[str]]) -> Iterator[str]:
    """Each range of a variable with its conditions. Beside one without any, it says that it takes away."""
    conditions = {allowed: where_said(whens) for allowed, whens in found.items()}
    always = [allowed for allowed, when in conditions.items() if not when and not allowed.startswith("not ")]
    for allowed, when in conditions.items():
        yield f"{'only ' if always and when else ''}{allowed}{when}"


def where_said(whens: Sequence[str]) -> str:
    """The conditions of one range, any of which will do; none where they leave nothing out."""
    always = {NOT.sub(" is ", when, count=1) for when in whens if NOT.search(when) and ";" not in when}
    if "" in whens or always.intersection(whens):
        return ""
    return f" ({', or '.join(dict.fromkeys(whens))})"


def _allowed(line: RangeLine, system: System) -> str:
    unit = unit_of(line.variable)
    measured = system is not System.SI and line.interval is not None and unit
    return str(interval_in(line.interval, unit, system)) if measured and line.interval else line.allowed


@in_own_language
def due_content(subject_id: str, on: date) -> dict[str, Any] | None:
    """What the whole list of a plant states."""
    return _due_content(_falls_due(subject_id, on), on)


def facts_of_due(subject_id: str, on: date) -> dict[str, Any] | None:
    """What that says, whatever the words."""
    return due_facts(_falls_due(subject_id, on), on)


def _falls_due(subject_id: str, on: date) -> tuple[DueItem, ...]:
    with within(of_plant(int(subject_id))):
        settings = firm_settings()
        return falls_due(certificate_offers(settings), on, settings=settings)


def _due_content(items: Iterable[DueItem], on: date) -> dict[str, Any]:
    rows = ([str(i.by), i.act, i.person_name, i.number, i.code, i.site, str(i.clause)] for i in items)
    return {"on": on.isoformat(), "due": sorted(rows)}


@in_own_language
def due_draft(
    plant: Plant, groups: Sequence[Group], on: date, narrowed: str = "", items: Sequence[DueItem] = ()
) -> Draft:
    """The list of what falls due, under the headings of its order; empty headings are left out. `items`: all of it."""

    def context() -> dict[str, Any]:
        shown = [group for group in groups if group.items]
        lead = f"As of {on.isoformat()}; the day itself counts. {narrowed}".strip()
        return {"groups": shown, "what": "From the confirmations on file", "lead": lead}

    title, style = "What falls due", HERE / "people.css"
    template, stem = "qualifications/due_sheet.html", f"due-{on.isoformat()}"
    content, facts = _due_content(items, on), due_facts(items, on)
    return Draft(DUE, plant, title, stem, on, content, template, context, style=style, facts=facts)


CERTIFICATE = register(Kind("certificate", "certificate", certificate_content, facts_of_certificate))
CARDS = register(Kind("pocket-card", "pocket card", card_content, facts_of_card))
DUE = register(Kind("due-list", "list of what falls due", due_content, facts_of_due))
