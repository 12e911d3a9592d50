"""The people of the invented shop with their certificates and what happened to them, from people.csv and
certificates.csv. The ranges come from designation lines, as a person would type them.
"""

from collections.abc import Iterator
from datetime import UTC, date, datetime, time
from typing import Any

from django.contrib.auth.models import User

from codes.dates import add_years
from joints.demo.firm import EXAMINER, FIRM, SITE, TEST_HOUSE, Calendar
from joints.demo.operators import operator_piece
from joints.demo.tables import Row, pairs, rows
from qualifications.designations import WELDER, read_designation
from qualifications.models import Certificate, CertificateEvent, Person
from qualifications.witness import note

OPERATOR = "ISO 14732:2013"
STEP = 165
"""Days between two confirmations on file: always less than six months."""
RESULTS_AFTER, WELD_BEFORE = 6, 9
"""Days from the test piece to its results, and from the weld of the log to the signature that rests on it."""
OPTION_C = {"same_manufacturer": "yes", "iso_3834": "2", "quality_documented": "yes"}
RESULTS = {
    "butt_cjp": {"vt": "accepted", "rt": "accepted", "bend": "accepted", "bend_root": "2", "bend_face": "2"},
    "fillet": {"vt": "accepted", "fracture": "accepted"},
}
SIGNERS = ("Tomás Arrieta", "welding supervisor")


def load_people(
    days: Calendar,
    users: dict[str, User],
    tables: str = "",
    site: str = SITE,
    signer: tuple[str, str] = SIGNERS,
) -> dict[str, Person]:
    """All people by stamp, with certificates and events; `tables`: what the names of their tables begin with."""
    people = {row["stamp"]: _person(row, days, users, site) for row in rows(f"{tables}people")}
    for row in rows(f"{tables}certificates"):
        certificate = _certificate(row, people[row["stamp"]], days)
        events = sorted(
            (*_confirmations(row, certificate, days), *_endings(row, certificate, days)), key=lambda e: e.on
        )
        for event in events:
            event.by_name, event.by_role = signer
            event.save()
            note(event, None)
    return people


def _person(row: Row, days: Calendar, users: dict[str, User], site: str) -> Person:
    left = days.day(int(row["left"])) if row["left"] else None
    return Person.objects.create(
        name=row["name"],
        identification=row["stamp"],
        born_on=date.fromisoformat(row["born"]),
        born_in=row["born_in"],
        employer=FIRM,
        site=site,
        supervisor=users.get(row["supervisor"]),
        active=left is None,
        left_on=left,
        notes=row["notes"],
    )


def _certificate(row: Row, person: Person, days: Calendar) -> Certificate:
    welded = days.day(int(row["welded"]))
    kind, code, designation, pieces = _tested(row)
    butt = bool(pieces) and pieces[0].get("weld_type") == "butt_cjp"
    certificate = Certificate(
        person=person,
        code=code,
        kind=kind,
        number=row["number"],
        designation=designation,
        pieces=pieces,
        wps=row["wps"],
        examiner=EXAMINER,
        examining_body=TEST_HOUSE,
        employer_then=FIRM,
        welded_on=welded,
        results_on=days.day(int(row["welded"]) + RESULTS_AFTER),
        issued_on=days.day(int(row["welded"]) + 9),
        option=row["option"],
        printed_until=_printed(row, kind, welded),
        job_knowledge="accepted",
        facts=OPTION_C if row["option"] == "c" else {},
        results=RESULTS["butt_cjp" if butt else "fillet"] if pieces and code == WELDER else {},
        notes=row["notes"],
    )
    certificate.full_clean()
    certificate.save()
    return certificate


def _tested(row: Row) -> tuple[str, str, str, list[dict[str, Any]]]:
    """Kind, standard, designation and test pieces of a certificate. A line of an older standard gives no pieces."""
    line = row["line"]
    if line.startswith("EN 287-1"):
        return "welder", line, "", []
    if line.startswith(("robot", "saw")):
        return "operator", OPERATOR, "", [operator_piece(line) | pairs(row["more"])]
    found = read_designation(f"ISO 9606-1 {line}")
    if found.problem:
        raise ValueError(f"{row['number']}: {found.problem}")
    return "welder", WELDER, found.text, [found.pieces[0] | pairs(row["more"])]


def _printed(row: Row, kind: str, welded: date) -> date | None:
    """What the certificate prints as its end; under option c nothing."""
    years = {"welder": {"a": 3, "b": 2}, "operator": {"a": 6, "b": 3}}[kind].get(row["option"])
    return add_years(welded, years) if years else None


def _confirmations(row: Row, certificate: Certificate, days: Calendar) -> Iterator[CertificateEvent]:
    """Signatures counted back from the last one; the weld that the first rests on is made after the results."""
    if not row["confirmed"]:
        return
    on = int(row["confirmed"])
    while on - WELD_BEFORE >= int(row["welded"]) + RESULTS_AFTER:
        evidence = _evidence(certificate, days.day(on - WELD_BEFORE))
        yield _event(certificate, "confirmation", days.day(on), evidence=evidence)
        on -= STEP


def _evidence(certificate: Certificate, welded: date) -> str:
    return f"{welded.isoformat()}: seam welded to {certificate.wps or 'the WPS of the job'}, inspected and accepted"


def _endings(row: Row, certificate: Certificate, days: Calendar) -> Iterator[CertificateEvent]:
    for kind, offset in pairs(row["events"]).items():
        reason = "Lack of fusion in three pipe butts of one shift; to be trained and tested anew."
        yield _event(certificate, kind, days.day(int(offset)), reason=reason)


def _event(certificate: Certificate, kind: str, on: date, evidence: str = "", reason: str = "") -> CertificateEvent:
    return CertificateEvent(
        certificate=certificate,
        kind=kind,
        on=on,
        evidence=evidence,
        reason=reason,
        # As if it had been entered on the day of the signature.
        recorded_at=datetime.combine(on, time(15, 30), tzinfo=UTC),
    )
