"""An answer as the page shows it: per phase what covers, who may weld, or the nearest of each with all findings."""

from dataclasses import dataclass

from django.urls import reverse

from codes.verdict import Outcome, Verdict
from joints.answers import CertificateAnswer, JointAnswer, PhaseAnswer, ProcedureAnswer, refusal

TITLES = {"final": "Final weld", "tack": "Tacks"}


@dataclass(frozen=True, slots=True)
class Named:
    """A procedure or a certificate with its address, its verdict and, where it refuses, the first reason."""

    label: str
    url: str
    verdict: Verdict
    why: str = ""


@dataclass(frozen=True, slots=True)
class PersonView:
    """Somebody who may weld it, with the certificates that say so."""

    name: str
    url: str
    certificates: tuple[Named, ...]


@dataclass(frozen=True, slots=True)
class PhaseView:
    """One phase on the page."""

    key: str
    title: str
    answer: PhaseAnswer
    first: Named | None
    procedures: tuple[Named, ...]
    people: tuple[PersonView, ...]
    nearest: Named | None
    nearest_person: str = ""


@dataclass(frozen=True, slots=True)
class AnswerView:
    """A joint on the page."""

    outcome: Outcome
    sentence: str
    phases: tuple[PhaseView, ...]


def answer_view(answer: JointAnswer) -> AnswerView:
    """The answer for the template, the final weld first."""
    return AnswerView(answer.outcome, answer.sentence, tuple(_phase(p) for p in (answer.final, answer.tack)))


def _phase(answer: PhaseAnswer) -> PhaseView:
    procedures = tuple(_procedure(one) for one in answer.procedures)
    nearest = answer.nearest_certificate
    return PhaseView(
        key=answer.phase,
        title=TITLES[answer.phase],
        answer=answer,
        first=procedures[0] if procedures else None,
        procedures=procedures,
        people=_people(answer.people),
        nearest=_certificate(nearest) if nearest else None,
        nearest_person=nearest.person_name if nearest else "",
    )


def _procedure(one: ProcedureAnswer) -> Named:
    why = refusal(one.verdict.worst[0], one.allows) if one.verdict.worst else ""
    return Named(one.label, reverse("wps:revision", args=[one.revision_id]), one.verdict, why)


def _certificate(one: CertificateAnswer) -> Named:
    why = refusal(one.verdict.worst[0], "allows") if one.verdict.worst else ""
    return Named(one.label, reverse("qualifications:certificate", args=[one.certificate_id]), one.verdict, why)


def _people(answers: tuple[CertificateAnswer, ...]) -> tuple[PersonView, ...]:
    held: dict[int, list[CertificateAnswer]] = {}
    for one in answers:
        held.setdefault(one.person_id, []).append(one)
    return tuple(
        PersonView(
            ones[0].person_name,
            reverse("qualifications:person", args=[person]),
            tuple(_certificate(one) for one in ones),
        )
        for person, ones in held.items()
    )
