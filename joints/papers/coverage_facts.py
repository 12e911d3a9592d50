"""What a coverage report says, whatever the words: tokens, figures as kept, ranges, margins, clauses, days, names."""

from typing import Any

from codes.facts import fact, finding_fact, in_order, state_fact
from joints.answers import CertificateAnswer, JointAnswer, PhaseAnswer
from joints.day import ASKED
from joints.models import Joint
from joints.papers.explained import Explained, Rests, shown_findings, shown_procedures, verdicts_of
from joints.stations import station_of

PEOPLE = 6
"""People named in a phase; the report says how many more there are."""
JOB = (
    "number", "title", "client", "application_standard", "execution_class", "procedure_code", "level",
)  # fmt: skip
UNKNOWN = Rests("", "", "", ())
"""A revision that is out of sight."""
STATED = tuple(name for name in ASKED if "__" not in name and not name.endswith("_id"))
"""What a joint states that it is asked by; its workstations go by their names."""


def coverage_facts(found: Explained) -> dict[str, Any]:
    """Of an assembly on a day."""
    job = found.assembly.job
    return {
        "on": found.on.isoformat(),
        "job": {name: fact(getattr(job, name)) for name in JOB},
        "assembly": [found.assembly.mark, found.assembly.title],
        "joints": in_order(_group(joints, answer, found) for joints, answer in found.groups),
    }


def _group(joints: tuple[Joint, ...], answer: JointAnswer, found: Explained) -> dict[str, Any]:
    first = joints[0]
    stated = {name: fact(getattr(first, name)) for name in STATED}
    for phase in ("final", "tack"):
        station = station_of(first, phase)
        stated[f"{phase}_workstation"] = station.name if station is not None else ""
    return {
        "numbers": sorted(joint.number for joint in joints),
        "stated": stated,
        "outcome": answer.outcome.name,
        **{phase.phase: _phase(phase, found) for phase in answer.phases},
    }


def _phase(answer: PhaseAnswer, found: Explained) -> dict[str, Any]:
    verdicts = list(verdicts_of(answer))
    findings = list(shown_findings(verdicts))
    people = list(dict.fromkeys(_person(one, found) for one in answer.people))
    nearest, chosen = answer.nearest_certificate, answer.people[0] if answer.people else answer.nearest_certificate
    asked = sum(len({one.variable for one in verdict.findings}) for verdict in verdicts)
    rests = [found.rests.get(one.revision_id, UNKNOWN) for one in shown_procedures(answer)]
    return {
        "outcome": answer.outcome.name,
        "covered": bool(answer.covering),
        "procedures": [[one.number, one.letter, one.prequalified_by, sorted(one.records)] for one in rests],
        "people": [fact(one) for one in people[:PEOPLE]],
        "certificates": len(people),
        "may_weld": len(answer.person_ids),
        "nearest": None if nearest is None else fact(_person(nearest, found)),
        "valid": None if chosen is None else _validity(chosen, found),
        "findings": once(finding_fact(one) for one in findings),
        "others": asked - len({one.variable for one in findings}),
    }


def once(facts: Any) -> list[Any]:
    """Each fact once, in one order."""
    every = in_order(facts)
    return [one for at, one in enumerate(every) if at == 0 or one != every[at - 1]]


def _person(one: CertificateAnswer, found: Explained) -> tuple[str, ...]:
    offer = found.certificates[one.certificate_id]
    return offer.person_name, offer.number, offer.code


def _validity(one: CertificateAnswer, found: Explained) -> dict[str, Any]:
    """Whether the person's certificate is valid on the day; what must be done next the report does not say."""
    state = state_fact(found.certificates[one.certificate_id].validity.state(found.on))
    return {name: said for name, said in state.items() if name != "dues"}
