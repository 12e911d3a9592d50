"""What the papers of people say, whatever the words: tokens, figures, ranges, days, names (register.papers.kinds).

Made from the same view as the words are, so that nothing is worked out twice.
"""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from typing import Any

from codes.facts import clause_fact, fact, in_order, limits_facts, read_or_kept, state_fact
from codes.readings import Settings
from qualifications.due import CONFIRMATION, DECISION, END, DueItem
from qualifications.methods import tests_lacking
from qualifications.models import CertificateEvent, Person
from qualifications.offers import limits, tested
from qualifications.sheets import CertificateView, EventLine

ON_CARD = ("process", "product", "weld_type", "filler_group", "f_number", "deposit_t", "parent_t", "diameter",
           "position", "aws_position", "weld_detail", "mechanisation")  # fmt: skip
"""What a card says of a range, the rest being on the certificate."""
STATED = (
    "number", "code", "kind", "designation", "wps", "examiner", "examining_body", "employer_then", "welded_on",
    "results_on", "issued_on", "option", "printed_until", "job_knowledge", "results",
)  # fmt: skip
"""What a certificate states itself, as it was typed."""


def certificate_facts(view: CertificateView, events: Iterable[EventLine], settings: Settings) -> dict[str, Any]:
    """Of a certificate on a day. `events`: those that count."""
    held = view.certificate
    person, lacking = held.person, tests_lacking(held)
    return {
        "on": view.state.on.isoformat(),
        "person": [person.name, person.identification, fact(person.born_on), person.born_in],
        "stated": {name: fact(getattr(held, name)) for name in STATED},
        "pieces": read_or_kept(lambda: tested(held), held.pieces),
        "state": state_fact(view.state),
        "ranges": in_order(limits_facts(one.limits) for one in limits(held, settings)[0]),
        "lacking": lacking if lacking is None else in_order(clause_fact(one.clause) for one in lacking),
        "events": in_order(_event(line.event) for line in events),
    }


def _event(one: CertificateEvent) -> list[Any]:
    # What a logged weld was made with stands in its evidence.
    details = fact(one.details) if one.kind != CertificateEvent.Kind.USE else None
    return [one.on.isoformat(), one.kind, one.by_name, one.by_role, one.reason, one.evidence, details]


def card_facts(person: Person, valid: Iterable[CertificateView], on: date, settings: Settings) -> dict[str, Any]:
    """Of a card on a day: who, and each certificate that is valid then, with what fits on a card."""
    return {
        "on": on.isoformat(),
        "person": [person.name, person.identification, person.employer],
        "valid": in_order(_carried(view, settings) for view in valid),
    }


def _carried(view: CertificateView, settings: Settings) -> Mapping[str, Any]:
    held, sets = view.certificate, limits(view.certificate, settings)[0]
    first = [limit for limit in sets[0].limits if limit.variable in ON_CARD] if sets else []
    return {
        "number": held.number,
        "code": held.code,
        "designation": held.designation or view.written,
        "until": fact(view.state.until),
        "ranges": len(sets),
        "range": limits_facts(first),
    } | ({"to_decide": [list(one.told) for one in view.state.questions]} if view.state.questions else {})


KEPT_ACTS = {CONFIRMATION: "confirmation", END: "end", DECISION: "decision"}


def due_facts(items: Sequence[DueItem], on: date) -> dict[str, Any]:
    """Of a list of what falls due: each act, or lapse or decision with what it came of."""
    return {"on": on.isoformat(), "due": in_order(_due(one) for one in items)}


def _due(one: DueItem) -> list[Any]:
    """What else than a signature or the end is to be done, the clause says."""
    act = "lapsed" if one.is_lapse else KEPT_ACTS.get(one.act, "")
    why = [one.ending.reason, *one.ending.told] if not one.is_ahead and one.ending is not None else []
    place = clause_fact(one.clause)
    return [
        one.by.isoformat(), act, why, one.person_name, one.number, one.code, one.site, list(one.processes), place
    ]  # fmt: skip
