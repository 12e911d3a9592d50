"""An answer as the page shows it: per phase what covers, who may weld, or the nearest of each with all findings."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from django.urls import reverse

from codes.verdict import Outcome, Verdict
from joints.answers import CertificateAnswer, JointAnswer, PhaseAnswer, ProcedureAnswer, refusal

SHOWN = 10
"""Procedures that a phase lists, nearest first."""
TITLES = {"final": "Final weld", "tack": "Tacks"}


@dataclass(frozen=True, slots=True)
class Named:
    """A procedure or a certificate with its address, its verdict and, where it refuses, the first reason."""

    label: str
    url: str
    outcome: Outcome
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
    serving: int
    people: tuple[PersonView, ...]
    nearest: Named | None
    nearest_person: str = ""
    sheet_url: str = ""
    """The sheet of the covering procedure in the language of the workstation; "" where there is none to print."""


@dataclass(frozen=True, slots=True)
class AnswerView:
    """A joint on the page."""

    outcome: Outcome
    sentence: str
    phases: tuple[PhaseView, ...]


def answer_view(
    answer: JointAnswer, ranked: Mapping[str, Sequence[ProcedureAnswer]], languages: Mapping[str, str] | None = None
) -> AnswerView:
    """The answer for the template, the final weld first; `ranked`: all procedures of a phase, nearest first.

    `languages`: of the sheets at the workstation of each phase, for whoever may print; without it there is no link.
    """
    asked = languages or {}
    phases = tuple(_phase(p, ranked[p.phase], asked.get(p.phase, "")) for p in (answer.final, answer.tack))
    return AnswerView(answer.outcome, answer.sentence, phases)


def _phase(answer: PhaseAnswer, ranked: Sequence[ProcedureAnswer], language: str) -> PhaseView:
    procedures = tuple(_procedure(one) for one in ranked[:SHOWN])
    nearest = answer.nearest_certificate
    return PhaseView(
        key=answer.phase,
        title=TITLES[answer.phase],
        answer=answer,
        first=_procedure(answer.procedures[0]) if answer.procedures else None,
        procedures=procedures,
        serving=answer.serving,
        people=_people(answer.people),
        nearest=_certificate(nearest) if nearest else None,
        nearest_person=nearest.person_name if nearest else "",
        sheet_url=_sheet_url(answer.procedures[0], language) if answer.covering and language else "",
    )


def _sheet_url(one: ProcedureAnswer, language: str) -> str:
    kind = "" if language == "en" else f"?kind=cell-{language}"
    return reverse("wps:revision_sheet", args=[one.revision_id]) + kind


def _procedure(one: ProcedureAnswer) -> Named:
    why = refusal(one.verdict.worst[0], one.allows) if one.verdict.worst else ""
    return Named(one.label, reverse("wps:revision", args=[one.revision_id]), one.outcome, one.verdict, why)


def _certificate(one: CertificateAnswer) -> Named:
    why = refusal(one.verdict.worst[0], "allows") if one.verdict.worst else ""
    return Named(
        one.label, reverse("qualifications:certificate", args=[one.certificate_id]), one.outcome, one.verdict, why
    )


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
