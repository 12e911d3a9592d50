"""Scans of a test record: attached by whoever enters records, listed, withdrawn with a reason, refused where bad."""

from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from register.evidence.models import EvidenceFile
from tests.wps.iso import iso_record
from wps.models import TestRecord

PDF = b"%PDF-1.7\n1 0 obj<<>>endobj\ntrailer<<>>\nstartxref\n0\n%%EOF\n"


@pytest.fixture
def record(db: None) -> TestRecord:
    return iso_record()


def _attach(client: Any, record: TestRecord, data: bytes, name: str = "form.pdf") -> Any:
    sent = {"file": SimpleUploadedFile(name, data), "note": "signed form"}
    return client.post(reverse("wps:record_scan", args=[record.pk]), sent)


def test_attach_and_list(record: TestRecord, client_of: Any) -> None:
    answer = _attach(client_of("coordinator"), record, PDF)
    assert answer["Location"] == record.get_absolute_url()
    page = client_of("auditor").get(record.get_absolute_url()).content.decode()
    assert "form.pdf" in page
    assert "signed form" in page
    assert "Withdraw form.pdf" not in page
    given = client_of("auditor").get(EvidenceFile.objects.get().get_absolute_url())
    assert b"".join(given.streaming_content if given.streaming else [given.content]) == PDF


def test_withdraw_with_a_reason(record: TestRecord, client_of: Any) -> None:
    client = client_of("coordinator")
    _attach(client, record, PDF)
    url = reverse("wps:record_scan_withdraw", args=[EvidenceFile.objects.get().pk])
    assert client.post(url, {"because": ""}).status_code == 409
    assert client.post(url, {"because": "another record's form"}).status_code == 302
    assert "another record&#x27;s form" in client.get(record.get_absolute_url()).content.decode()


def test_what_is_no_scan_is_refused(record: TestRecord, client_of: Any) -> None:
    answer = _attach(client_of("coordinator"), record, b"<html></html>")
    assert answer.status_code == 422
    assert "none of PDF, JPEG and PNG" in answer.content.decode()
    assert not EvidenceFile.objects.exists()


@pytest.mark.parametrize("person", ["qa", "supervisor", "auditor"])
def test_only_who_enters_records_attaches(record: TestRecord, client_of: Any, person: str) -> None:
    assert _attach(client_of(person), record, PDF).status_code == 403
    assert (
        reverse("wps:record_scan", args=[record.pk])
        not in client_of(person).get(record.get_absolute_url()).content.decode()
    )


def test_scans_of_other_things_are_not_withdrawn_here(record: TestRecord, client_of: Any) -> None:
    _attach(client_of("coordinator"), record, PDF)
    other = EvidenceFile.objects.create(
        subject_type="qualifications.certificate", subject_id="1", file_name="a.pdf", kind="pdf", sha256="1" * 64,
        size=1, added_by="x",
    )  # fmt: skip
    assert client_of("coordinator").get(reverse("wps:record_scan_withdraw", args=[other.pk])).status_code == 404
