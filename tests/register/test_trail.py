"""The trail is chained: whoever changes it behind the register's back is found out."""

import io
import threading
from collections.abc import Callable
from datetime import UTC, datetime, timedelta

import pytest
from django.contrib.auth.models import User
from django.core.management import CommandError, call_command
from django.db import connection, transaction
from django.test import Client
from django.utils import timezone

from register.audit import record_act
from register.models import AuditEntry, AuditHead
from register.trail.chain import START, canonical, entry_hash, fields_of
from register.trail.pages import TrailTable
from register.trail.verify import verify
from register.trail.words import said

TABLE = "register_auditentry"


def without_refusal(statement: str, *arguments: object) -> None:
    """Run SQL as an intruder would who may drop triggers."""
    with connection.cursor() as cursor:
        for event in ("update", "delete"):
            on = f" ON {TABLE}" if connection.vendor == "postgresql" else ""
            cursor.execute(f"DROP TRIGGER IF EXISTS {TABLE}_refuse_{event}{on}")
        cursor.execute(statement, arguments)


@pytest.fixture
def acts(coordinator: User) -> list[AuditEntry]:
    given = {"text": "é", "whole": 2.0, "part": 0.1, "tiny": 1e-7, "big": 1e16, "list": (1, None, True)}
    return [record_act(coordinator, f"act {n}", coordinator, before=None, after=given, note="why") for n in range(5)]


def test_each_holds_the_hash_of_the_one_before(acts: list[AuditEntry]) -> None:
    assert [entry.number for entry in acts] == [1, 2, 3, 4, 5]
    assert acts[0].previous_hash == START
    assert [entry.previous_hash for entry in acts[1:]] == [entry.hash for entry in acts[:-1]]
    assert str(AuditHead.objects.get()) == f"5:{acts[-1].hash}"
    assert verify().whole
    assert verify().entries == 5


def test_the_hash_can_be_worked_out_by_hand() -> None:
    values = {
        "at": datetime(2026, 3, 1, 13, 5, tzinfo=UTC),
        "before": None,
        "after": {"b": 1.0, "a": ["x"]},
        **dict.fromkeys(("subject_type", "subject_id", "subject"), ""),
        "user_name": "marta",
        "act": "approved",
        "note": "ä",
    }
    text = canonical(values, 1, START)
    assert text == (
        '{"act":"approved","after":{"a":["x"],"b":1},"at":"2026-03-01T13:05:00.000000+00:00","before":null,'
        f'"note":"\\u00e4","number":1,"previous_hash":"{START}","subject":"","subject_id":"","subject_type":"",'
        '"user_name":"marta"}'
    )
    assert entry_hash(values, 1, START) != entry_hash(values, 2, START)


@pytest.mark.parametrize("column", ["user_name", "act", "subject_type", "subject_id", "subject", "note"])
def test_a_changed_word_is_found(acts: list[AuditEntry], column: str) -> None:
    without_refusal(f"UPDATE {TABLE} SET {column} = 'x' WHERE number = 3")
    assert verify().problem.startswith("entry 3 was changed after it was written")


@pytest.mark.parametrize("column", ["before", "after"])
def test_a_changed_value_is_found(acts: list[AuditEntry], column: str) -> None:
    without_refusal(f"UPDATE {TABLE} SET {column} = %s WHERE number = 2", '{"whole": 3}')
    assert verify().problem.startswith("entry 2 was changed")


def test_a_changed_instant_is_found(acts: list[AuditEntry]) -> None:
    without_refusal(f"UPDATE {TABLE} SET at = %s WHERE number = 2", acts[1].at + timedelta(microseconds=1))
    assert verify().problem.startswith("entry 2 was changed")


def test_a_deleted_entry_is_found(acts: list[AuditEntry]) -> None:
    without_refusal(f"DELETE FROM {TABLE} WHERE number = 3")
    assert verify().problem == "entry 3 missing: entry 2 is followed by entry 4."
    assert verify().entries == 2


def test_the_first_and_the_last_deleted_are_found(acts: list[AuditEntry]) -> None:
    with transaction.atomic():
        without_refusal(f"DELETE FROM {TABLE} WHERE number = 5")
        assert verify().problem == "entries 5 to 5 are missing at the end."
        transaction.set_rollback(True)
    without_refusal(f"DELETE FROM {TABLE} WHERE number < 3")
    assert verify().problem == "entries 1 to 2 missing: entry none is followed by entry 3."


def test_a_changed_entry_with_a_hash_made_anew_breaks_the_next(acts: list[AuditEntry]) -> None:
    forged = AuditEntry.objects.get(number=3)
    forged.note = "never happened"
    digest = entry_hash(fields_of(forged), 3, forged.previous_hash)
    without_refusal(f"UPDATE {TABLE} SET note = %s, hash = %s WHERE number = 3", forged.note, digest)
    assert verify().problem.startswith("entry 4 does not hold the hash of the entry before it")


def test_a_chain_written_anew_is_found_by_an_end_noted_outside(acts: list[AuditEntry]) -> None:
    noted = f"3:{acts[2].hash}"
    last = AuditEntry.objects.get(number=5)
    last.note = "never happened"
    digest = entry_hash(fields_of(last), 5, last.previous_hash)
    without_refusal(f"UPDATE {TABLE} SET note = %s, hash = %s WHERE number = 5", last.note, digest)
    assert verify().problem.startswith("entry 5 is not the one that was noted")
    AuditHead.objects.update(hash=digest)
    assert verify().whole
    assert verify(noted).whole
    assert verify(f"5:{acts[4].hash}").problem.startswith("entry 5 is not the one that was noted")
    assert verify(f"9:{START}").problem == "entries 6 to 9 are missing at the end."


def test_an_entry_slipped_in_after_the_end_is_found(acts: list[AuditEntry]) -> None:
    AuditHead.objects.update(number=4, hash=acts[3].hash)
    assert verify().problem == "entry 5 stands after the noted end of the chain."


def test_the_command(acts: list[AuditEntry]) -> None:
    out = io.StringIO()
    call_command("verify_audit", stdout=out)
    assert out.getvalue().strip() == f"The trail is whole: 5 entries, ending 5:{acts[-1].hash}"
    with pytest.raises(CommandError) as odd:
        call_command("verify_audit", expect="five")
    assert odd.value.returncode == 2
    without_refusal(f"DELETE FROM {TABLE} WHERE number = 2")
    with pytest.raises(CommandError, match="broken after 1 entries: entry 2 missing") as broken:
        call_command("verify_audit")
    assert broken.value.returncode == 1


def test_what_is_rolled_back_leaves_no_gap(acts: list[AuditEntry], coordinator: User) -> None:
    with transaction.atomic():
        record_act(coordinator, "undone")
        transaction.set_rollback(True)
    assert record_act(coordinator, "done").number == 6
    assert verify().whole


def test_many_at_once_are_chained_too(acts: list[AuditEntry]) -> None:
    AuditEntry.objects.bulk_create([AuditEntry(act="one"), AuditEntry(act="two")])
    assert verify().whole
    assert verify().entries == 7


def test_an_empty_trail_is_whole(db: None) -> None:
    assert verify() == type(verify())(0, f"0:{START}")


@pytest.mark.django_db(transaction=True)
def test_writers_side_by_side_keep_the_chain() -> None:
    """Threads on PostgreSQL; for SQLite processes on a file, in test_two_writers."""
    if connection.vendor == "sqlite":
        pytest.skip("SQLite in memory is locked as a whole")

    def write(name: str) -> None:
        try:
            for n in range(10):
                with transaction.atomic():
                    record_act(None, f"{name} {n}")
        finally:
            connection.close()

    writers = [threading.Thread(target=write, args=(name,)) for name in ("left", "right", "middle")]
    for writer in writers:
        writer.start()
    for writer in writers:
        writer.join()
    assert verify().whole
    assert verify().entries == 30


def test_the_focus_goes_down_the_filter_of_a_list(acts: list[AuditEntry], client_of: Callable[[str], Client]) -> None:
    page = client_of("auditor").get("/trail/").content.decode()
    form = page[page.index('<form class="filters"') : page.index('<div id="list">')]
    fold = form.index("<details")
    assert form.index('name="q"') < form.index('type="submit"') < fold
    assert fold < form.rindex('type="submit"') < form.index("</details>")
    assert form.count('type="submit"') == 2


def test_the_page_filters(acts: list[AuditEntry], client_of: Callable[[str], Client], qa: User) -> None:
    record_act(qa, "signed", qa, note="odd one")
    page = client_of("auditor").get("/trail/?user_name=qa").content.decode()
    assert "odd one" in page
    assert "act 3" not in page
    day = f"{acts[0].at:%Y-%m-%d}"
    assert "act 3" in client_of("auditor").get(f"/trail/?act=act&subject=coord&day_from={day}").content.decode()
    unread = client_of("auditor").get("/trail/?day_from=2026-13-40").content.decode()
    assert "This is not a date: write year-month-day, such as 2026-03-01." in unread
    assert "Nothing on file matches" in client_of("auditor").get("/trail/?day_to=2000-01-01").content.decode()
    taken = client_of("auditor").get("/trail/?export=csv").getvalue().decode()
    assert '""text"": ""é""' in taken


@pytest.mark.parametrize(("name", "status"), [("auditor", 200), ("coordinator", 200), ("qa", 403), ("supervisor", 403)])
def test_who_may_read_it(name: str, status: int, client_of: Callable[[str], Client]) -> None:
    assert client_of(name).get("/trail/").status_code == status
    assert client_of(name).get("/trail/verify/").status_code == status


def test_the_page_names_the_break(acts: list[AuditEntry], client_of: Callable[[str], Client]) -> None:
    assert "The trail is whole: 5 entries" in client_of("auditor").get("/trail/verify/").content.decode()
    without_refusal(f"UPDATE {TABLE} SET note = 'x' WHERE number = 4")
    broken = client_of("auditor").get("/trail/verify/").content.decode()
    assert "Entry 4 was changed" in broken
    # The moment as the list of the trail has it, and no end to note while it is broken.
    at = timezone.localtime(acts[3].at)
    assert f"{at:%Y-%m-%d %H:%M}" in broken
    assert "What is in order ends at" in broken and "Note this end" not in broken


@pytest.mark.parametrize("typed", ["x", "5", "5:abc", "5:" + "g" * 64, ":" + "0" * 64, "5:" + "0" * 65])
def test_a_mistyped_end_is_refused_at_its_field(
    acts: list[AuditEntry], client_of: Callable[[str], Client], typed: str
) -> None:
    page = " ".join(client_of("auditor").get("/trail/verify/", {"expect": typed}).content.decode().split())
    assert "The trail is whole: 5 entries" in page and "broken" not in page
    assert f"“{typed}” is none; copy it whole from where it was noted." in page
    assert 'id="id_expect_error"' in page and 'aria-invalid="true"' in page


def test_an_end_that_is_not_in_a_whole_trail_is_said_beside_it(
    acts: list[AuditEntry], client_of: Callable[[str], Client]
) -> None:
    def said(typed: str) -> str:
        return " ".join(client_of("auditor").get("/trail/verify/", {"expect": typed}).content.decode().split())

    other = f"3:{acts[3].hash}"
    for typed, why in (
        (other, "Entry 3 of the trail has another hash than the end noted."),
        (f"9:{START}", "The end noted is of entry 9, and the trail ends with entry 5."),
    ):
        page = said(typed)
        assert why in page and "Compare what you entered with the note" in page
        assert "The trail is whole: 5 entries" in page and "broken" not in page
    assert "The end noted earlier is in it." in said(f" 3:{acts[2].hash.upper()} ")
    without_refusal(f"UPDATE {TABLE} SET note = 'x' WHERE number = 4")
    assert "The trail is broken. Entry 4 was changed" in said(other.replace("3:", "5:"))


def test_values_in_words() -> None:
    assert said({"ended_on": "2026-01-01", "roles": ["qa", None]}) == "ended on: 2026-01-01; roles: qa, none"
    assert len(said("x" * 500)) == 160
    assert said({"sha256": "0123456789abcdef" * 4}) == "SHA-256: 0123456789ab…"


def test_the_page_has_one_column_for_what_was_written_and_the_files_have_three(coordinator: User) -> None:
    held = {"mechanisation": "partly_mechanised"}
    act = AuditEntry(number=7, act="changed", at=timezone.now(), before=held, after={}, note="by mistake")
    table = TrailTable([act])
    assert [head.text for head in table.heads][-2:] == ["To what", "What was written"]
    assert "Before: mechanisation: partly mechanised</div>" in table.body
    assert "Note: by mistake</div>" in table.body
    assert next(iter(table.as_values()))[-3:] == ["Before", "After", "Note"]
