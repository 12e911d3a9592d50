"""What a coverage report is made from: each joint asked once, and what its procedures and people are on file as.

Words and facts are both made from it, and the words in either system of units: no joint is asked twice.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from codes.verdict import Finding, Verdict
from joints.answers import JointAnswer, PhaseAnswer, ProcedureAnswer
from joints.day import ASKED, Day
from joints.margins import is_measured
from joints.models import Assembly, Joint
from qualifications.offers import CertificateOffer
from wps.models import ProcedureRevision


@dataclass(frozen=True, slots=True)
class Rests:
    """A revision, and what it rests on: test records, or the code that prequalifies it."""

    number: str
    letter: str
    prequalified_by: str
    records: tuple[str, ...]

    @property
    def words(self) -> str:
        """As the report says it."""
        if self.prequalified_by:
            return f"prequalified by {self.prequalified_by}"
        return ", ".join(self.records) or "no record"


@dataclass(frozen=True, slots=True)
class Explained:
    """The joints of an assembly on a day: those that state the same, with their one answer."""

    assembly: Assembly
    on: date
    groups: tuple[tuple[tuple[Joint, ...], JointAnswer], ...]
    rests: Mapping[int, Rests] = field(default_factory=dict)
    certificates: Mapping[int, CertificateOffer] = field(default_factory=dict)


def explained(assembly: Assembly, day: Day) -> Explained:
    """Ask the joints of an assembly."""
    found: dict[tuple[Any, ...], list[Joint]] = {}
    around = ("assembly__job", "final_workstation", "tack_workstation")
    joints = Joint.objects.filter(assembly=assembly).select_related(*around)
    for joint in joints.order_by("order_key", "pk"):
        found.setdefault(tuple(getattr(joint, name) for name in ASKED if "__" not in name), []).append(joint)
    groups = tuple((tuple(alike), day.explain(alike[0], assembly.job)) for alike in found.values())
    phases = [phase for _, answer in groups for phase in answer.phases]
    wanted = {one.certificate_id for phase in phases for one in (*phase.people, phase.nearest_certificate) if one}
    here = day.at(assembly.job.plant_id).certificates
    offers = {one.certificate_id: one for one in here if one.certificate_id in wanted}
    revisions = {one.revision_id for phase in phases for one in shown_procedures(phase)}
    return Explained(assembly, day.on, groups, rests_of(revisions), offers)


def rests_of(revisions: Iterable[int]) -> dict[int, Rests]:
    """Revision -> what it rests on."""
    rows = ProcedureRevision.objects.filter(pk__in=set(revisions)).select_related("procedure")
    return {one.pk: _rests(one) for one in rows.prefetch_related("records")}


def _rests(one: ProcedureRevision) -> Rests:
    by = one.code if one.is_prequalified else ""
    return Rests(one.procedure.number, one.letter, by, () if by else tuple(r.number for r in one.records.all()))


def shown_procedures(answer: PhaseAnswer) -> tuple[ProcedureAnswer, ...]:
    """Those that cover the phase, or the one that comes nearest."""
    return answer.covering or answer.procedures[:1]


def verdicts_of(answer: PhaseAnswer) -> Iterator[Verdict]:
    """Of the procedure that covers first, or comes nearest, and of a person; what the place asks where it refuses."""
    if answer.place is not None and answer.place.worst:
        yield answer.place
    if answer.nearest_procedure is not None:
        yield answer.nearest_procedure.verdict
    person = answer.people[0] if answer.people else answer.nearest_certificate
    if person is not None:
        yield person.verdict


def shown_findings(verdicts: Sequence[Verdict]) -> Iterator[Finding]:
    """All that refuses; else of each variable that has a margin the tightest, and until when the person is valid."""
    refused = [finding for verdict in verdicts for finding in verdict.worst]
    if refused:
        yield from refused
        return
    for verdict in verdicts:
        tightest: dict[str, Finding] = {}
        for finding in verdict.findings:
            if finding.variable != "on" and not is_measured(finding):
                continue
            known = tightest.setdefault(finding.variable, finding)
            if finding.margin is not None and known.margin is not None and finding.margin < known.margin:
                tightest[finding.variable] = finding
        yield from tightest.values()
