"""An answer in plain form, for the API and the command line: the same verdicts as on the page."""

from typing import Any

from joints.answers import CertificateAnswer, JointAnswer, PhaseAnswer, ProcedureAnswer
from register.api.verdicts import verdict_out


def answer_out(answer: JointAnswer, joint: str, missed_only: bool = False) -> dict[str, Any]:
    """The answer to one joint; `joint` is how it is named. Example: "Joint 39 of B102".

    `missed_only`: of each verdict only the findings that keep it from covering.
    """
    return {
        "on": answer.on.isoformat(),
        "joint": joint,
        "outcome": answer.outcome.value,
        "sentence": answer.sentence,
        "reasons": list(answer.reasons),
        "final": _phase(answer.final, missed_only),
        "tack": _phase(answer.tack, missed_only),
    }


def _phase(phase: PhaseAnswer, less: bool) -> dict[str, Any]:
    nearest = phase.nearest_certificate
    return {
        "phase": phase.phase,
        "outcome": phase.outcome.value,
        "sentence": phase.sentence,
        "reasons": list(phase.reasons),
        "notes": list(phase.notes),
        "procedures": [_procedure(one, less) for one in phase.procedures],
        "people": [_certificate(one, less) for one in phase.people],
        "nearest_certificate": _certificate(nearest, less) if nearest is not None else None,
        "place": verdict_out(phase.place, less) if phase.place is not None else None,
    }


def _procedure(one: ProcedureAnswer, less: bool) -> dict[str, Any]:
    return {"revision_id": one.revision_id, "label": one.label, "verdict": verdict_out(one.verdict, less)}


def _certificate(one: CertificateAnswer, less: bool) -> dict[str, Any]:
    same = ("certificate_id", "person_id", "person_name", "label", "procedure")
    return {name: getattr(one, name) for name in same} | {"verdict": verdict_out(one.verdict, less)}
