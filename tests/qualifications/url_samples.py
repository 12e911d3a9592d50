"""What the access test puts into the addresses of people and certificates."""

from datetime import date

from django.contrib.auth.models import User

from qualifications.models import CalendarFeed, Certificate, CertificateEvent, Loan, Person, WeldLogBatch, WeldLogEntry
from register.evidence.models import EvidenceFile
from register.models import Plant
from tests.qualifications.make import certificate, event, logged, person


def _held() -> Certificate:
    """A certificate of somebody who reports to the supervisor of the tests, valid for a long while."""
    supervisor = User.objects.filter(username="supervisor").first()
    return certificate(person(supervisor=supervisor), code="EN 287-1:2004", pieces=[], option="b")


def _person() -> dict[str, object]:
    holder: Person = _held().person
    return {"pk": holder.pk}


def _holder() -> dict[str, object]:
    return {"person": _held().person_id}


def _certificate() -> dict[str, object]:
    return {"pk": _held().pk}


def _event() -> dict[str, object]:
    made: CertificateEvent = event(_held(), date(2025, 7, 1))
    return {"pk": made.pk}


def _entry() -> dict[str, object]:
    made: WeldLogEntry = logged(_held().person, date(2025, 7, 1))
    return {"pk": made.pk}


def _log_file() -> dict[str, object]:
    return {"pk": WeldLogBatch.objects.create(file_name="cell.csv", sha256="0" * 64).pk}


def _feed() -> dict[str, object]:
    owner = User.objects.filter(username="supervisor").first() or User.objects.create_user("owner")
    return {"pk": CalendarFeed.objects.create(owner=owner, token_sha256="0" * 64).pk}


def _scan() -> dict[str, object]:
    facts = {"subject_type": "qualifications.certificate", "subject_id": str(_held().pk), "file_name": "scan.pdf"}
    return {"pk": EvidenceFile.objects.create(kind="pdf", sha256="0" * 64, size=1, added_by="qa", **facts).pk}


def _loan() -> dict[str, object]:
    holder = _held().person
    plant, _ = Plant.objects.get_or_create(name="Plant of the loan")
    return {"pk": Loan.objects.create(person=holder, plant=plant, from_on=date(2026, 3, 2), by_name="qa").pk}


SAMPLES = {
    "qualifications:lend": _holder,
    "qualifications:loan_end": _loan,
    "qualifications:certificate_scan": _certificate,
    "qualifications:event_scan": _event,
    "qualifications:scan_withdraw": _scan,
    "qualifications:calendar_revoke": _feed,
    "qualifications:calendar_feed": lambda: {"token": "unknown"},
    "qualifications:pocket_card": _person,
    "qualifications:certificate_sheet": _certificate,
    "qualifications:weld_log_file": _log_file,
    "qualifications:weld_log_take_in": _log_file,
    "qualifications:person": _person,
    "qualifications:person_edit": _person,
    "qualifications:certificate_new": _holder,
    "qualifications:certificate": _certificate,
    "qualifications:certificate_edit": _certificate,
    "qualifications:confirm": _certificate,
    "qualifications:prolong": _certificate,
    "qualifications:revoke": _certificate,
    "qualifications:renew": _certificate,
    "qualifications:correct": _event,
    "qualifications:weld_log_strike": _entry,
}
