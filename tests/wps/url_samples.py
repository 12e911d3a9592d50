"""Things for the addresses of the wps app, for the access test."""

from datetime import date
from hashlib import sha256
from itertools import count

from django.contrib.auth.models import User

from register.evidence.models import EvidenceFile
from register.models import Plant
from tests.wps.factory import KNOWN_CODE, make_record
from wps import workflow
from wps.models import IssuedSheet, MaterialCertificate, Procedure, ProcedureRelease, ProcedureRevision, TestRecord

_numbers = count(1)


def _draft() -> ProcedureRevision:
    """A draft to a real code: the access test does not know the made-up one."""
    author, _ = User.objects.get_or_create(username="coordinator")
    return workflow.start_procedure(f"WPS sample {next(_numbers)}", "Sample", KNOWN_CODE, author)


def _revision() -> dict[str, object]:
    return {"pk": _draft().pk}


def _procedure() -> dict[str, object]:
    return {"pk": _draft().procedure_id}


def _record() -> dict[str, object]:
    return {"pk": make_record(f"WPQR sample {next(_numbers)}", code=KNOWN_CODE).pk}


def _scan() -> dict[str, object]:
    """A scan of a record; its bytes are not asked for."""
    record = TestRecord.objects.get(pk=_record()["pk"])
    facts = {"file_name": "form.pdf", "kind": "pdf", "sha256": "0" * 64, "size": 9, "added_by": "Marta Kowalczyk"}
    file = EvidenceFile.objects.create(subject_type="wps.testrecord", subject_id=str(record.pk), **facts)
    return {"pk": file.pk}


def _sheet() -> IssuedSheet:
    """An issued sheet of an approved revision; its bytes stand for a PDF."""
    author, _ = User.objects.get_or_create(username="coordinator")
    approver, _ = User.objects.get_or_create(username="second_coordinator")
    day = date(2026, 3, 2)
    approved = {"status": "approved", "approved_by": approver, "approved_name": "Ines Duarte", "approved_on": day}
    procedure = Procedure.objects.create(number=f"WPS sample {next(_numbers)}", title="Sample")
    revision = ProcedureRevision.objects.create(
        procedure=procedure, letter="A", code=KNOWN_CODE, author=author, author_name="Marta Kowalczyk"
    )
    # The database lets a revision pass from draft to checked to approved, and begin as nothing else.
    checked = {"status": "checked", "checked_by": approver, "checked_name": "Ines Duarte", "checked_on": day}
    for step in (checked, approved):
        ProcedureRevision.objects.filter(pk=revision.pk).update(**step)
    revision.refresh_from_db()
    facts = {"kind": "cell", "paper": "a4", "units": "si", "state": "approved", "check_code": "ABCDEFGHIJ"}
    pdf = b"%PDF-1.7"
    return IssuedSheet.objects.create(revision=revision, sha256=sha256(pdf).hexdigest(), sides=1, pdf=pdf, **facts)


def _issued_revision() -> dict[str, object]:
    """With a sheet on file, which whoever looks may read without writing anything."""
    return {"pk": _sheet().revision_id}


def _material() -> dict[str, object]:
    number = f"sample {next(_numbers)}"
    return {"pk": MaterialCertificate.objects.create(grade="S355J2+N", heat_number=number, document_reference="1").pk}


def _material_scan() -> dict[str, object]:
    """A scan of a material certificate; its bytes are not asked for."""
    subject = {"subject_type": "wps.materialcertificate", "subject_id": str(_material()["pk"])}
    facts = {
        "file_name": "certificate.pdf",
        "kind": "pdf",
        "sha256": "0" * 64,
        "size": 9,
        "added_by": "Marta Kowalczyk",
    }
    return {"pk": EvidenceFile.objects.create(**subject, **facts).pk}


def _release() -> dict[str, object]:
    procedure = _draft().procedure
    plant, _ = Plant.objects.get_or_create(name="Plant of the release")
    facts = {"from_on": date(2026, 3, 2), "ground": "one technical control", "by_name": "Marta Kowalczyk"}
    return {"pk": ProcedureRelease.objects.create(procedure=procedure, plant=plant, **facts).pk}


SAMPLES = {
    "wps:release": _procedure,
    "wps:release_take_back": _release,
    "wps:material_scan": _material,
    "wps:material_scan_withdraw": _material_scan,
    "wps:material": _material,
    "wps:material_edit": _material,
    "wps:procedure": _procedure,
    "wps:revision_new": _procedure,
    "wps:revision": _revision,
    "wps:revision_edit": _revision,
    "wps:revision_live": _revision,
    "wps:revision_sketch": _revision,
    "wps:revision_check": _revision,
    "wps:revision_approve": _revision,
    "wps:revision_withdraw": _revision,
    "wps:revision_sheet": _issued_revision,
    "wps:sheet_status": lambda: {"code": _sheet().check_code},
    "wps:record": _record,
    "wps:record_edit": _record,
    "wps:record_sheet": _record,
    "wps:record_scan": _record,
    "wps:record_scan_withdraw": _scan,
}
HARMLESS_POSTS = {
    "wps:revision_live": "judges what is typed and saves nothing",
    "wps:revision_sketch": "draws what is typed and saves nothing",
}
