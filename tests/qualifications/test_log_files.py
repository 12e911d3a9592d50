"""Log files from a cell's controller: read, refused cell by cell, taken in whole or not at all, never signing."""

from collections.abc import Callable
from datetime import UTC, date, datetime
from decimal import Decimal as D
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import IntegrityError
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from qualifications.models import CertificateEvent, Person, WeldLogBatch, WeldLogEntry
from qualifications.weld_log import files
from qualifications.weld_log.cells import BadCell, moment
from qualifications.weld_log.files import confirm, take_in
from register.lists.table import Refusal
from tests.conftest import SIGNED
from tests.qualifications.make import certificate, logged, person

pytestmark = pytest.mark.django_db
SignIn = Callable[[str], Client]
NOW = datetime(2026, 11, 25, 12, 0, tzinfo=UTC)
HEAD = "Time stamp;Person;Process;Mechanisation;Workstation;Procedure;Joint;Current [A];Voltage [V];Travel speed"
GOOD = "2026-11-24 14:03:22;W07;135;automatic;Cell R1;WPS 001;B12/3;210;26,500;400"


@pytest.fixture
def ada(people: dict[str, Any]) -> Person:
    return person("Ada Krol", identification="W07", supervisor=people["supervisor"])


def sent(by: Any, *rows: str, head: str = HEAD) -> WeldLogBatch:
    return take_in("cell.csv", "\n".join([head, *rows]).encode(), by, NOW)


def errors(batch: WeldLogBatch) -> list[tuple[int, str, str]]:
    return [(p["row"], p["column"], p["message"]) for p in batch.problems if not p["is_note"]]


def notes(batch: WeldLogBatch) -> str:
    return " ".join(p["message"] for p in batch.problems if p["is_note"])


def test_a_good_file_is_shown_first_and_written_on_somebodys_word(ada: Person, supervisor: Any) -> None:
    batch = sent(supervisor, GOOD)
    assert not errors(batch)
    assert not WeldLogEntry.objects.exists()
    assert confirm(batch.pk, supervisor) == 1
    entry = WeldLogEntry.objects.get()
    assert (entry.person, entry.on, entry.process, entry.joint) == (ada, date(2026, 11, 24), "135", "B12/3")
    assert timezone.localtime(entry.at).strftime("%H:%M:%S") == "14:03:22"
    assert (entry.current_a, entry.voltage_v, entry.travel_mm_min) == (D(210), D("26.5"), D(400))
    assert entry.text == "2026-11-24: 135 · GMAW, joint B12/3, WPS 001"
    assert entry.figures == "210 A, 26.5 V, 400 mm/min"
    assert (entry.source, entry.source_row) == (batch, 2)
    assert entry.history.get().history_user_name == "supervisor"
    assert not CertificateEvent.objects.exists()


@pytest.mark.parametrize(
    ("row", "column", "says"),
    [
        ("yesterday;W07;135;automatic", "Time stamp", "write it as 2026-11-24 14:03:22"),
        ("11/12/2026;W07;135;automatic", "Time stamp", "cannot be read as a moment"),
        ("2026-11-25 13:00:01;W07;135;automatic", "Time stamp", "later than now"),
        ("2026-11-26;W07;135;automatic", "Time stamp", "later than now"),
        ("1970-01-01 00:00;W07;135;automatic", "Time stamp", "clock may be wrong"),
        (";W07;135;automatic", "Time stamp", "is empty"),
        ("2026-11-24;W08;135;automatic", "Person", "nearest: Ada Krol (W07)"),
        ("2026-11-24;;135;automatic", "Person", "is empty"),
        ("2026-11-24;W07;99;automatic", "Process", "99"),
        ("2026-11-24;W07;135;by magic", "Mechanisation", "by magic"),
        ("2026-11-24;W07;135;automatic;=1+1", "Workstation", "is a formula"),
        ("2026-11-24;W07;135;automatic;;;;0", "Current [A]", "no figure of a weld"),
        ("2026-11-24;W07;135;automatic;;;;;26.555", "Voltage [V]", "two ways"),
        ("2026-11-24;W07;135;automatic;;;;;0,000", "Voltage [V]", "no figure of a weld"),
        ("2026-11-24;W07;135;automatic;;;;;;100000", "Travel speed", "no figure of a weld"),
    ],
)
def test_each_bad_cell_has_a_message_and_nothing_is_written(
    ada: Person, coordinator: Any, row: str, column: str, says: str
) -> None:
    batch = sent(coordinator, GOOD, row)
    (found,) = errors(batch)
    assert found[:2] == (3, column)
    assert says in found[2]
    with pytest.raises(Refusal, match="Correct the file"):
        confirm(batch.pk, coordinator)
    assert not WeldLogEntry.objects.exists()


def test_a_cell_that_could_not_be_read_is_shown_as_it_stands(ada: Person, coordinator: Any, client: Client) -> None:
    batch = sent(coordinator, GOOD, "2026-11-24;W07;135;by magic")
    assert [row["unread"] for row in batch.rows] == [{}, {"mechanisation": "by magic"}]
    client.force_login(coordinator)
    assert "“by magic”, not read" in client.get(batch.get_absolute_url()).content.decode()


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("2026-11-24 14:03:22", 24),
        ("2026-11-24T23:30:00Z", 25),
        ("2026-11-24T23:30:00+02:00", 24),
        ("24.11.2026 14:03", 24),
        ("2026-11-24", 24),
    ],
)
def test_the_day_is_the_one_of_the_shop(text: str, day: int) -> None:
    assert moment(text, NOW)[0] == date(2026, 11, day)


def test_now_itself_is_not_too_late() -> None:
    assert moment("2026-11-25 12:00:00+00:00", NOW)[1] == NOW
    with pytest.raises(BadCell):
        moment("2026-11-25 12:00:01+00:00", NOW)


@pytest.mark.parametrize(
    ("head", "says"),
    [
        ("Time stamp;Person;Process", "“Mechanisation” is missing"),
        ("When;Person;Way", "“Time stamp”, “Process”, “Mechanisation” are missing"),
        ("Time stamp;Time;Person;Process;Mechanisation", "Two columns say the same"),
    ],
)
def test_headings_that_do_not_do(ada: Person, coordinator: Any, head: str, says: str) -> None:
    with pytest.raises(Refusal, match=says):
        sent(coordinator, "2026-11-24;W07;135", head=head)
    assert not WeldLogBatch.objects.exists()


@pytest.mark.parametrize(("data", "says"), [(b"", "is empty"), (b"PK\x03\x04...", "workbook"), (b"\x00\x01", "list")])
def test_files_that_are_none(coordinator: Any, data: bytes, says: str) -> None:
    with pytest.raises(Refusal, match=says):
        take_in("cell.csv", data, coordinator, NOW)


def test_what_makes_no_evidence_is_said(ada: Person, coordinator: Any) -> None:
    batch = sent(coordinator, "2026-11-24;W07;135;automatic;7", head="Time;Operator ID;Process;Mode;Gas")
    assert not errors(batch)
    assert "No column “Workstation”, “Procedure”, “Joint”" in notes(batch)
    assert "Not read: “Gas”" in notes(batch)


def test_the_same_file_twice_is_refused(ada: Person, coordinator: Any) -> None:
    confirm(sent(coordinator, GOOD).pk, coordinator)
    with pytest.raises(Refusal, match=r"taken in already, as cell\.csv by coordinator"):
        sent(coordinator, GOOD)
    assert WeldLogEntry.objects.count() == 1


def test_two_looks_at_one_file_write_it_once(ada: Person, coordinator: Any) -> None:
    first, second = sent(coordinator, GOOD), sent(coordinator, GOOD)
    confirm(first.pk, coordinator)
    for batch in (first, second):
        with pytest.raises(Refusal, match="taken in already"):
            confirm(batch.pk, coordinator)
    second.status = WeldLogBatch.CONFIRMED
    with pytest.raises(IntegrityError):
        second.save()


def test_overlapping_files_add_only_what_is_new(ada: Person, coordinator: Any) -> None:
    confirm(sent(coordinator, GOOD).pk, coordinator)
    later = GOOD.replace("14:03:22", "15:00:00")
    batch = sent(coordinator, GOOD, later)
    assert "Row 2 is on file already and left out." in notes(batch)
    assert confirm(batch.pk, coordinator) == 1
    again = sent(coordinator, later, GOOD)
    with pytest.raises(Refusal, match="Every weld of this file is on file"):
        confirm(again.pk, coordinator)


def test_the_same_weld_twice_in_one_file(ada: Person, coordinator: Any) -> None:
    ((row, _, message),) = errors(sent(coordinator, GOOD, GOOD))
    assert row == 3
    assert message == "row 2 states the same weld: delete one of the two, or give each its own time or joint."


def test_a_supervisor_takes_in_own_people_only(ada: Person, supervisor: Any, coordinator: Any) -> None:
    person("Bo Lang", identification="W09")
    other = GOOD.replace("W07", "W09")
    ((_, column, message),) = errors(sent(supervisor, other))
    assert (column, message) == ("Person", "Bo Lang does not report to you; a coordinator can take this file in.")
    batch = sent(coordinator, other)
    with pytest.raises(Refusal, match="does not report to you"):
        confirm(batch.pk, supervisor)
    assert confirm(batch.pk, coordinator) == 1


def test_a_name_of_two_people_needs_the_stamp(coordinator: Any) -> None:
    person("Jo Ray", identification="W1"), person("Jo Ray", identification="W2")
    ((_, _, message),) = errors(sent(coordinator, GOOD.replace("W07", "jo ray")))
    assert "write the stamp: W1, W2" in message


@pytest.mark.parametrize(("left", "taken"), [(date(2026, 11, 24), True), (date(2026, 11, 23), False)])
def test_nobody_welds_after_the_last_day_of_work(coordinator: Any, left: date, taken: bool) -> None:
    person("Ada Krol", identification="W07", active=False, left_on=left)
    assert (not errors(sent(coordinator, GOOD))) is taken


def test_a_crash_half_way_writes_nothing(ada: Person, coordinator: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    batch = sent(coordinator, GOOD, GOOD.replace("14:03:22", "15:00:00"))

    def broken(*args: object, **kwargs: object) -> None:
        raise RuntimeError("the disk is full")

    monkeypatch.setattr(files, "record_act", broken)
    with pytest.raises(RuntimeError):
        confirm(batch.pk, coordinator)
    batch.refresh_from_db()
    assert batch.status == WeldLogBatch.UPLOADED
    assert not WeldLogEntry.objects.exists()


def test_from_the_file_to_the_signature(client_of: SignIn, ada: Person) -> None:
    """Sent in, looked at, taken in, proposed, signed: the log proposes and the supervisor signs."""
    today = timezone.localdate()
    held = certificate(ada, welded_on=date.fromordinal(today.toordinal() - 163))
    other = certificate(ada, number="W-2", welded_on=today, pieces=[])
    browser = client_of("supervisor")
    rows = f"{HEAD}\n{today.isoformat()};W07;135;partly mechanised;Bay 2;WPS 014;B12/3"
    upload = {"file": SimpleUploadedFile("bay.csv", rows.encode())}
    page = browser.post(reverse("qualifications:weld_log_upload"), upload, follow=True)
    assert "All 1 rows can be taken in" in page.content.decode()
    batch = WeldLogBatch.objects.get()
    done = browser.post(reverse("qualifications:weld_log_take_in", args=[batch.pk]), follow=True).content.decode()
    assert "1 weld of this file is in the log" in done
    assert not CertificateEvent.objects.exists()
    listed = browser.get(reverse("qualifications:confirm_many"), {"file": batch.pk}).content.decode()
    assert held.number in listed
    assert other.number not in listed
    weld = WeldLogEntry.objects.get()
    signing = {"certificate": [held.pk], f"weld_{held.pk}": [weld.pk], "step": "sign", "agree": "yes"}
    assert browser.post(reverse("qualifications:confirm_many"), SIGNED | signing).status_code == 302
    assert CertificateEvent.objects.get().evidence == weld.text


def test_a_file_with_errors_is_shown_with_them(client_of: SignIn, ada: Person) -> None:
    browser = client_of("coordinator")
    upload = {"file": SimpleUploadedFile("bay.csv", f"{HEAD}\n2026-11-24;W99;135;automatic".encode())}
    page = browser.post(reverse("qualifications:weld_log_upload"), upload, follow=True).content.decode()
    assert "1 cell cannot be taken" in page
    assert "W99" in page
    batch = WeldLogBatch.objects.get()
    assert browser.post(reverse("qualifications:weld_log_take_in", args=[batch.pk])).status_code == 409
    empty = {"file": SimpleUploadedFile("bay.csv", b"x")}
    assert browser.post(reverse("qualifications:weld_log_upload"), empty).status_code == 422


def test_the_example_file_is_read_by_its_own_reader(client_of: SignIn, ada: Person, coordinator: Any) -> None:
    response = client_of("auditor").get(reverse("qualifications:weld_log_template"))
    data = b"".join(response.streaming_content)
    assert not errors(take_in("example.csv", data, coordinator, NOW))


def test_a_struck_out_weld_may_come_again(ada: Person, coordinator: Any) -> None:
    logged(ada, date(2026, 11, 24), joint="B12/3", wps="WPS 001", struck_out="wrong", mechanisation="automatic")
    batch = sent(coordinator, GOOD.replace(" 14:03:22", ""))
    assert confirm(batch.pk, coordinator) == 1
