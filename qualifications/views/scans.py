"""Scans of certificates and of their events."""

from django.db.models import Model
from django.shortcuts import get_object_or_404
from django.utils.translation import gettext

from qualifications.models import Certificate, CertificateEvent
from register.evidence.acts import attached_to, attached_to_each
from register.evidence.models import EvidenceFile
from register.evidence.views import AddEvidence, WithdrawEvidence
from register.roles import Capability


def _page_of(subject: Model) -> str:
    held = subject.certificate if isinstance(subject, CertificateEvent) else subject
    return held.get_absolute_url()  # type: ignore[attr-defined, no-any-return]


class CertificateScan(AddEvidence):
    """Attach a scan to a certificate."""

    required_capability = Capability.RECORD_CONFIRMATION

    def find_subject(self) -> Model:
        return get_object_or_404(Certificate, pk=self.kwargs["pk"])


class EventScan(AddEvidence):
    """Attach a scan to an event of a certificate."""

    required_capability = Capability.RECORD_CONFIRMATION

    def find_subject(self) -> CertificateEvent:
        return get_object_or_404(CertificateEvent.objects.select_related("certificate"), pk=self.kwargs["pk"])

    def get_lead(self) -> str:
        event = self.find_subject()
        return gettext("To the %(event)s, certificate %(number)s") % {
            "event": event,
            "number": event.certificate.number,
        }

    def back_url(self, subject: Model) -> str:
        return _page_of(subject)


class ScanWithdraw(WithdrawEvidence):
    """Withdraw a scan of a certificate or of an event."""

    required_capability = Capability.RECORD_CONFIRMATION
    subjects = (Certificate, CertificateEvent)

    def back_url(self, subject: Model) -> str:
        return _page_of(subject)


def scans_of(certificate: Certificate) -> list[tuple[EvidenceFile, str]]:
    """The scans of a certificate and of its events, each with what it is attached to in words. Two queries."""
    events = {str(event.pk): event for event in certificate.events.all()}
    own = [(file, "the certificate") for file in attached_to(certificate)]
    found = attached_to_each(CertificateEvent, events) if events else ()
    return own + [(file, _words(events[file.subject_id])) for file in found]


def _words(event: CertificateEvent) -> str:
    return f"{event.get_kind_display()} of {event.on.isoformat()}"
