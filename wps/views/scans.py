"""Scans of test records: the signed form, the laboratory's reports."""

from django.db.models import Model
from django.shortcuts import get_object_or_404

from register.evidence.acts import attached_to
from register.evidence.models import EvidenceFile
from register.evidence.views import AddEvidence, WithdrawEvidence
from register.roles import Capability
from wps.models import TestRecord


class RecordScan(AddEvidence):
    """Attach a scan to a test record."""

    required_capability = Capability.EDIT_RECORD

    def find_subject(self) -> Model:
        return get_object_or_404(TestRecord, pk=self.kwargs["pk"])


class RecordScanWithdraw(WithdrawEvidence):
    """Withdraw a scan of a test record; it stays on file."""

    required_capability = Capability.EDIT_RECORD
    subjects = (TestRecord,)


def scans_of(record: TestRecord) -> list[tuple[EvidenceFile, str]]:
    """The scans of a record, each with what it is attached to in words. One query."""
    return [(file, "the record") for file in attached_to(record)]
