"""A test record on paper (WPQR, PQR): what was tested, what was found, what it earned, clause by clause."""

from collections.abc import Sequence
from datetime import date
from typing import Any

from django.core.exceptions import BadRequest
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.views.decorators.http import require_safe

from codes.parse import BadField
from codes.units import System
from codes.values import Value
from codes.variables import label_of
from register.base.asof import asked_date
from register.evidence.models import EvidenceFile
from register.held.firm import firm_settings
from register.languages import in_own_language
from register.papers.kinds import Kind, register
from register.papers.names import plain
from register.papers.printing import Draft, PaperChoice, PaperError, respond
from register.plants.reach import of_plant, within
from register.roles import Capability, requires
from wps.limits_view import RecordView, record_view
from wps.models import ProcedureRevision, TestRecord
from wps.record_facts import record_facts
from wps.record_ranges import ranges, rows
from wps.sheet_figures import said_in

TITLES = ("Procedure qualification record (PQR)", "Welding procedure qualification record (WPQR)")
"""What the paper is called by the codes of AWS and ASME, and by the standards of ISO."""


@in_own_language
def content(subject_id: str, on: date) -> dict[str, Any] | None:
    """What the paper states; the day matters only for whether the record is still used."""
    record = TestRecord.objects.filter(pk=subject_id).first()
    return None if record is None else _content(record, on, record_view(record, firm_settings()), scans_of(record))


def facts_today(subject_id: str, on: date) -> dict[str, Any] | None:
    """What that says, whatever the words."""
    record = TestRecord.objects.filter(pk=subject_id).first()
    if record is None:
        return None
    return record_facts(record, on, record_view(record, firm_settings()), scans_of(record), supports_of(record))


def _content(record: TestRecord, on: date, seen: RecordView, scans: Sequence[EvidenceFile]) -> dict[str, Any]:
    """As JSON values, in SI figures."""
    return {
        "number": record.number,
        "code": record.code,
        "level": record.level,
        "route": record.route,
        "facts": facts(record),
        "used": in_use(record, on),
        "pieces": record.pieces,
        "runs": record.runs,
        "results": record.results,
        "notes": record.notes,
        "earned": [{"label": one.label, "lines": list(rows(one))} for one in seen.earned],
        "problem": seen.problem,
        "scans": [[scan.file_name, scan.sha256] for scan in scans],
    }


def in_use(record: TestRecord, on: date) -> bool:
    """False from the day on which somebody took it out of use."""
    return record.withdrawn_on is None or record.withdrawn_on > on


def facts(record: TestRecord) -> list[tuple[str, str]]:
    """Who made and witnessed the test, and when."""
    found = (
        ("Manufacturer", record.manufacturer),
        ("Examiner or examining body", record.examiner),
        ("Route of qualification", record.get_route_display() if record.code.startswith("ISO") else ""),
        ("Test piece welded on", record.welded_on.isoformat()),
        ("Issued on", record.issued_on.isoformat() if record.issued_on else ""),
        ("Last used in production", record.last_used_on.isoformat() if record.last_used_on else ""),
    )
    return [(label, said) for label, said in found if said]


def scans_of(record: TestRecord) -> list[EvidenceFile]:
    """The scans attached, those withdrawn left out."""
    kept = EvidenceFile.objects.filter(subject_type=record._meta.label_lower, subject_id=str(record.pk))
    return list(kept.filter(withdrawn_at__isnull=True))


def supports_of(record: TestRecord) -> list[ProcedureRevision]:
    """The revisions in force that rest on it, as its own plant sees them: whoever prints, the paper is the same."""
    with within(of_plant(record.plant_id)):
        return list(record.supports.filter(status="approved").select_related("procedure"))


def pieces_in(record: TestRecord, system: System) -> list[list[tuple[str, str]]]:
    """The test pieces as (label, value) in the reader's units; as they stand where they cannot be read."""
    try:
        tested = record.tested()
    except (BadField, LookupError):
        return [[(label_of(name), str(value)) for name, value in piece.items()] for piece in record.pieces]
    return [[(label_of(name), _value(name, value, system)) for name, value in piece.items()] for piece in tested]


def _value(name: str, value: Value, system: System) -> str:
    said = said_in(name, value, system)
    # A tested temperature is no limit.
    return said.removeprefix("min ").removeprefix("max ")


KIND = register(Kind("record", "test record", content, facts_today))


@in_own_language
def draft(record: TestRecord, on: date, system: System) -> Draft:
    """The paper before it is printed."""
    settings = firm_settings()
    known, scans, supports = record_view(record, settings), scans_of(record), supports_of(record)

    def context() -> dict[str, Any]:
        seen = known if system is System.SI else record_view(record, settings, system)
        level = f", level {record.level}" if record.level else ""
        return {
            "what": TITLES["ISO" in record.code],
            "lead": f"{record.code}{level}",
            "record": record,
            "system": system,
            "seen": seen,
            "used": in_use(record, on),
            "facts": facts(record),
            "pieces": pieces_in(record, system),
            "earned": ranges(seen.earned, len(record.pieces)),
            "scans": scans,
            "signers": (
                ("For the manufacturer", record.manufacturer),
                ("Examiner or examining body", record.examiner),
            ),
            "supports": supports,
        }

    mark = "" if in_use(record, on) else "WITHDRAWN"
    stem = plain("record", record.number)
    said, facts_said = _content(record, on, known, scans), record_facts(record, on, known, scans, supports)
    template = "wps/record_sheet.html"
    return Draft(KIND, record, record.number, stem, on, said, template, context, mark=mark, facts=facts_said)


@requires(Capability.VIEW)
@require_safe
def record_sheet(request: HttpRequest, pk: int) -> HttpResponse:
    """A test record as PDF (?paper=a4|letter, units=si|us), on the date asked about."""
    record = get_object_or_404(TestRecord, pk=pk)
    try:
        return respond(request, draft(record, asked_date(request), PaperChoice.of(request).system))
    except PaperError as refusal:
        raise BadRequest(str(refusal)) from None
