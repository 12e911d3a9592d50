"""What the calls about jobs and joints answer."""

from datetime import date, datetime
from typing import Any

from ninja import Schema

from register.api.entries import Figure
from register.api.verdicts import VerdictOut


class JobOut(Schema):
    """A job: what its joints must satisfy, and when it is welded."""

    id: int
    number: str
    title: str
    client: str
    application_standard: str
    execution_class: str
    procedure_code: str
    level: int | None
    impact_required: bool
    impact_temperature_c: Figure
    hardness_required: bool
    pwht_required: bool
    starts_on: date | None
    ends_on: date | None
    changed_at: datetime


class Jobs(Schema):
    """A page of jobs."""

    items: list[JobOut]
    next: str | None


class StationOut(Schema):
    """A workstation: what it can run."""

    id: int
    name: str
    kind: str
    processes: list[str]
    mechanisation: str
    unit: str
    changed_at: datetime


class Stations(Schema):
    """A page of workstations."""

    items: list[StationOut]
    next: str | None


class JointOut(Schema):
    """A joint as it is on file. What is "" or null is not stated. Sizes in mm."""

    id: int
    job_id: int
    assembly_id: int
    assembly: str
    number: str
    weld_type: str
    joint_type: str
    product: str
    grade_1: str
    grade_2: str
    t1_mm: Figure
    t2_mm: Figure
    throat_mm: Figure
    leg_mm: Figure
    penetration_mm: Figure
    length_mm: Figure
    diameter_mm: Figure
    branch_angle_deg: Figure
    rotated: str
    position: str
    weld_detail: str
    gouging: str
    preparation: str
    final_process: str
    final_workstation: str
    tack_process: str
    tack_workstation: str
    tack_length_mm: Figure
    tack_throat_mm: Figure
    tack_spacing_mm: Figure
    heat_1: str
    heat_2: str
    intermittent: str
    element_length_mm: Figure
    element_gap_mm: Figure
    model_id: str
    weld_date: date | None
    remarks: str
    changed_at: datetime


class Joints(Schema):
    """A page of joints."""

    items: list[JointOut]
    next: str | None


class ProcedureAnswerOut(Schema):
    """What one procedure says to one phase."""

    revision_id: int
    label: str
    verdict: VerdictOut


class CertificateAnswerOut(Schema):
    """What one certificate says to one phase, as welded to the procedure named."""

    certificate_id: int
    person_id: int
    person_name: str
    label: str
    procedure: str
    verdict: VerdictOut


class PhaseOut(Schema):
    """One phase: the procedures that cover it, or the one that comes nearest; who may weld it, or who comes nearest.

    `place`: what the workstation and the gates of the application standard say. `reasons`: why not, as keys.
    """

    phase: str
    outcome: str
    sentence: str
    reasons: list[str]
    notes: list[str]
    procedures: list[ProcedureAnswerOut]
    people: list[CertificateAnswerOut]
    nearest_certificate: CertificateAnswerOut | None
    place: VerdictOut | None


class AnswerOut(Schema):
    """The answer to one joint on a day: the worse of its phases."""

    on: date
    joint: str
    outcome: str
    sentence: str
    reasons: list[str]
    final: PhaseOut
    tack: PhaseOut


class JointLine(Schema):
    """One joint of many, without its findings; ask the joint itself for them."""

    id: int
    assembly: str
    number: str
    outcome: str
    sentence: str
    reasons: list[str]
    procedures_final: list[str]
    procedures_tack: list[str]


class JobAnswers(Schema):
    """Joints of a job on a day. `counts` are those of this page."""

    on: date
    counts: dict[str, int]
    items: list[JointLine]
    next: str | None


class ListProblem(Schema):
    """What is wrong in one cell. A note keeps nothing from being taken in."""

    row: int
    column: str
    message: str
    is_note: bool


class ListOut(Schema):
    """A list of joints that was sent in. It counts for nothing until a person takes it in on the page `look_at`."""

    id: int
    job_id: int
    file_name: str
    sha256: str
    status: str
    rows: int
    errors: int
    problems: list[ListProblem]
    uploaded_by: str
    uploaded_at: datetime
    confirmed_by: str
    confirmed_at: datetime | None
    look_at: str


class RunFindingOut(Schema):
    """One run of a log against the procedure. `details`: window, times, and what left it, by how much and how long."""

    id: int
    joint_id: int | None
    joint: str
    run: str
    outcome: str
    samples: int
    arc_seconds: Figure
    details: dict[str, Any]


class LogJudged(Schema):
    """A log of weld values that was judged; only the findings are kept."""

    sha256: str
    revision: str
    outside: int
    not_stated: int
    runs: list[RunFindingOut]
    look_at: str
