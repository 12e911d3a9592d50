"""A version or a row that was changed past the register is found by its seal, and the seals by the trail."""

import io
from datetime import date
from decimal import Decimal
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.core.management import CommandError, call_command
from django.db import IntegrityError, connection, transaction
from simple_history.utils import bulk_create_with_history

from joints.models import Job, WeldDataChange, WeldRunFinding, Workstation
from qualifications.models import Certificate, Person, WeldLogEntry
from register.audit import record_act
from register.models import AuditEntry, AuditHead, VersionSeal
from register.trail import sealed
from register.trail.seal import plain, read, row_digest, seal_hash, written
from register.trail.sealing import gathered, keep_rows
from register.trail.verify import verify
from tests.conftest import dropped_triggers
from tests.joints.makers import make_job
from wps.models import MaterialCertificate, Procedure, TestRecord

pytestmark = pytest.mark.django_db
ON = date(2026, 1, 5)


@pytest.fixture
def shop(coordinator: User) -> dict[str, Any]:
    """One row of each kind that is rested on, and an act after them."""
    found: dict[str, Any] = {"testrecord": TestRecord.objects.create(number="WPQR 1", code="X", welded_on=ON)}
    heat: dict[str, Any] = {"grade": "S355J2+N", "heat_number": "H1", "document_reference": "3.1/7"}
    found["materialcertificate"] = MaterialCertificate.objects.create(**heat, analysis={"C": "0.16"})
    found["procedure"] = Procedure.objects.create(number="WPS 1", title="Fillet")
    found["person"] = Person.objects.create(name="Edda Borg", identification="B1")
    found["certificate"] = Certificate.objects.create(
        person=found["person"], code="X", kind="welder", number="1", welded_on=ON
    )
    found["workstation"] = Workstation.objects.create(name="Bay 9")
    found["job"] = Job.objects.create(number="26-900", title="Frames")
    record_act(coordinator, "looked over", found["job"])
    assert verify().whole
    return found


def _behind(statement: str, *values: Any) -> str:
    """What is named first after a change by somebody who may drop triggers."""
    with dropped_triggers(connection), connection.cursor() as cursor:
        cursor.execute(statement, values)
        assert cursor.rowcount > 0
    found = verify()
    assert not found.problem
    return found.differs


CHANGES = [
    ("wps", "testrecord", "welded_on = '2020-01-01'", "welded on"),
    ("wps", "testrecord", "pieces = '[1]'", "test pieces"),
    ("wps", "materialcertificate", "analysis = '{}'", "analysis"),
    ("wps", "testrecord", "number = 'WPQR 2'", "number"),
    ("wps", "procedure", "title = 'x'", "title"),
    ("qualifications", "person", "name = 'x'", "name"),
    ("qualifications", "certificate", "welded_on = '2020-01-01'", "welded"),
    ("joints", "workstation", "name = 'x'", "name"),
    ("joints", "job", "title = 'x'", "title"),
]  # fmt: skip


@pytest.mark.parametrize(("app", "name", "change", "names"), CHANGES)
def test_a_row_changed_behind_its_versions_is_named(
    shop: dict[str, Any], app: str, name: str, change: str, names: str
) -> None:
    said = _behind(f"UPDATE {app}_{name} SET {change} WHERE id = %s", shop[name].pk)
    assert "is not as its last version has it" in said and names in said


@pytest.mark.parametrize(("app", "name", "change", "names"), CHANGES)
def test_a_version_written_anew_with_its_row_is_named(
    shop: dict[str, Any], app: str, name: str, change: str, names: str
) -> None:
    with connection.cursor() as cursor:
        cursor.execute(f"UPDATE {app}_{name} SET {change} WHERE id = %s", [shop[name].pk])
    said = _behind(f"UPDATE {app}_historical{name} SET {change} WHERE id = %s", shop[name].pk)
    assert "The version of " in said and "was changed after it was sealed" in said


@pytest.mark.parametrize(
    "change",
    ["history_date = '2020-01-01 00:00:00'", "history_user_name = 'x'", "history_change_reason = 'x'"],
)
def test_a_version_dated_back_or_in_another_name_is_named(shop: dict[str, Any], change: str) -> None:
    said = _behind(f"UPDATE wps_historicaltestrecord SET {change} WHERE id = %s", shop["testrecord"].pk)
    assert "WPQR 1" in said and "was changed after it was sealed" in said


def test_a_version_taken_away_is_named(shop: dict[str, Any]) -> None:
    shop["job"].title = "Frames and bracing"
    shop["job"].save()
    assert verify().whole
    first = Job.history.earliest("history_id").pk
    said = _behind("DELETE FROM joints_historicaljob WHERE history_id = %s", first)
    assert f"Job {first} was sealed, and is gone" in said


def test_a_version_slipped_in_is_named(shop: dict[str, Any]) -> None:
    known = Job.history.get()
    known.pk, known.history_date = None, known.history_date.replace(year=2020)
    type(known)._base_manager.bulk_create([known])
    assert "no seal holds it" in verify().differs


def test_a_row_put_in_or_taken_away_past_the_register_is_named(shop: dict[str, Any]) -> None:
    Workstation.objects.bulk_create([Workstation(name="Bay 10")])
    assert "Bay 10 is on file, and has no version" in verify().differs
    Workstation.objects.get(name="Bay 10").save()
    assert "is gone, and no version says" in _behind("DELETE FROM joints_workstation WHERE name = 'Bay 9'")


def test_what_the_register_deletes_and_what_it_writes_at_once_is_in_order(shop: dict[str, Any]) -> None:
    shop["workstation"].delete()
    welds = [WeldLogEntry(person=shop["person"], on=date(2026, 2, day), process="135") for day in (1, 2, 3)]
    bulk_create_with_history(welds, WeldLogEntry)
    assert verify().whole
    seal = VersionSeal.objects.last()
    assert (seal.kind, len(seal.rows.splitlines())) == ("qualifications.historicalweldlogentry", 3)


def test_an_account_that_is_deleted_breaks_no_seal(shop: dict[str, Any], qa: User) -> None:
    shop["job"]._history_user = qa
    shop["job"].save()
    qa.delete()
    assert verify().whole


def test_a_change_of_weld_data_is_sealed(coordinator: User) -> None:
    job = make_job()
    row = WeldDataChange(
        joint_id=1, job=job, assembly_mark="B1", joint_number="1", rule="x", field="a_mm", before="3", after="4",
        reason="x", clause="x", mark="x", by_name="coordinator",
    )  # fmt: skip
    keep_rows(WeldDataChange, [row])
    for change in ("after = '5'", "at = '2020-01-01 00:00:00'"):
        with transaction.atomic():
            assert "a_mm of joint 1" in _behind(f"UPDATE joints_welddatachange SET {change}")
            transaction.set_rollback(True)
    assert "was sealed, and is gone" in _behind("DELETE FROM joints_welddatachange")


def test_work_on_many_rows_has_one_seal_that_its_act_notes(coordinator: User) -> None:
    before = VersionSeal.objects.count()  # of the accounts
    with gathered():
        jobs = [Job.objects.create(number=f"26-{n}", title="x") for n in (901, 902, 903)]
        assert VersionSeal.objects.count() == before
        act = record_act(coordinator, "took in", jobs[0])
    assert VersionSeal.objects.count() == before + 1
    assert act.versions == str(VersionSeal.objects.last()) == AuditHead.objects.get(pk=1).versions


def test_work_that_fails_leaves_no_seal(coordinator: User) -> None:
    before = VersionSeal.objects.count()
    with pytest.raises(KeyError), gathered():
        Job.objects.create(number="26-901", title="x")
        raise KeyError
    Job.objects.create(number="26-902", title="x")
    assert VersionSeal.objects.count() == before + 1 and verify().whole


SEAL = "register_versionseal"


def _anew(seal: VersionSeal) -> None:
    """The chain of seals from this one on, written anew by somebody who can."""
    previous = seal.previous_hash
    with dropped_triggers(connection):
        for one in VersionSeal.objects.filter(number__gte=seal.number).order_by("number"):
            digest = seal_hash(one.number, one.at, one.kind, one.fields, one.rows, previous)
            VersionSeal.objects.filter(pk=one.pk).update(previous_hash=previous, hash=digest)
            previous = digest
        AuditHead.objects.update(versions=str(VersionSeal.objects.last()))


def test_a_seal_changed_removed_or_written_anew_is_named(shop: dict[str, Any]) -> None:
    last = VersionSeal.objects.last()
    for statement, said in (
        (f"UPDATE {SEAL} SET rows = '1 00' WHERE number = 1", "seal 1 of"),
        (f"UPDATE {SEAL} SET at = '2020-01-01 00:00:00' WHERE number = 1", "was changed after it was written"),
        (f"DELETE FROM {SEAL} WHERE number = 1", "seal 1 is missing"),
        (f"DELETE FROM {SEAL} WHERE number = {last.number}", f"seals {last.number} to {last.number} are missing"),
    ):
        with transaction.atomic():
            assert said in _behind(statement)
            transaction.set_rollback(True)
    with dropped_triggers(connection):
        VersionSeal.objects.filter(pk=last.pk).update(rows=last.rows[:-1] + ("0" if last.rows[-1] != "0" else "1"))
    _anew(VersionSeal.objects.get(pk=last.pk))
    assert "is not the one that the trail notes" in verify().differs
    with pytest.raises(CommandError, match="the trail notes"):
        call_command("verify_audit", stdout=io.StringIO())


def test_an_act_that_notes_another_seal_breaks_the_chain(shop: dict[str, Any]) -> None:
    with dropped_triggers(connection):
        AuditEntry.objects.update(versions=None)
    assert "was changed after it was written" in verify().problem


@pytest.mark.parametrize("statement", [f"UPDATE {SEAL} SET rows = ''", f"DELETE FROM {SEAL}"])
def test_the_database_keeps_the_seals(shop: dict[str, Any], statement: str) -> None:
    with pytest.raises(IntegrityError, match="seal of versions"), transaction.atomic(), connection.cursor() as cursor:
        cursor.execute(statement)


def test_a_column_that_comes_later_or_goes_breaks_no_seal(
    shop: dict[str, Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    """The seal names the columns that it is over; where one of them is gone, a version cannot be compared."""
    own = sealed.sealed_fields
    with connection.cursor() as cursor:
        cursor.execute("UPDATE joints_historicaljob SET history_change_reason = 'x'")
    for now in (lambda model: ["pk", *reversed(own(model))], lambda model: own(model)[1:]):
        monkeypatch.setattr(sealed, "sealed_fields", now)
        gone = {one.kind: frozenset(one.fields.split()[:1]) for one in VersionSeal.objects.all()}
        monkeypatch.setattr(sealed, "DROPPED", gone)
        kept = {one.kind: one for one in VersionSeal.objects.all()}
        assert set(kept["joints.historicaljob"].fields.split()) == set(own(Job.history.model))
        found = list(sealed.unlike())
        assert [sentence for sentence in found if "26-900" in sentence] == found
        assert len(found) == ("pk" in now(Job.history.model))


def test_figures_are_the_same_from_either_database() -> None:
    assert plain(Decimal("8.00")) == plain(Decimal(8)) == "8" and plain(Decimal("-0.0")) == "0"
    assert plain(Decimal("1E+3")) == "1000" and plain({"b": 2.0, "a": [Decimal("0.50")]}) == {"b": 2, "a": ["0.5"]}
    assert row_digest(1, ["a", None]) != row_digest(1, ["a", ""]) != row_digest(2, ["a", ""])
    assert dict(read(written([(7, b"\x01\x02")]))) == {7: b"\x01\x02"}
    with pytest.raises(TypeError):
        plain(object())


def test_a_finding_on_weld_values_is_sealed(coordinator: User) -> None:
    """No trigger keeps it, so its seal must tell."""
    revision = Procedure.objects.create(number="WPS 1", title="Fillet").revisions.create(
        letter="A", code="X", author=coordinator, author_name="x"
    )
    row = WeldRunFinding(
        job=make_job(), revision=revision, outcome="outside", samples=3, arc_seconds=Decimal("4.5"), order=0,
        file_name="x.csv", sha256="0" * 64, uploaded_by="x",
    )  # fmt: skip
    keep_rows(WeldRunFinding, [row])
    assert verify().whole
    assert "was changed after it was sealed" in _behind("UPDATE joints_weldrunfinding SET outcome = 'inside'")


def test_a_finding_given_to_another_joint_is_named(coordinator: User) -> None:
    """The joint may be deleted, so no seal holds the column; its key is among what is sealed."""
    job = make_job()
    mark = job.assemblies.create(mark="B1")
    one, other = (mark.joints.create(number=number) for number in ("1", "2"))
    revision = Procedure.objects.create(number="WPS 1", title="Fillet").revisions.create(
        letter="A", code="X", author=coordinator, author_name="x"
    )
    row = WeldRunFinding(
        job=job, revision=revision, joint=one, outcome="outside", samples=3, arc_seconds=Decimal("4.5"), order=0,
        file_name="x.csv", sha256="0" * 64, uploaded_by="x", details={"joint": one.pk},
    )  # fmt: skip
    keep_rows(WeldRunFinding, [row])
    assert verify().whole
    for joint in (other.pk, None):
        with transaction.atomic():
            assert "stands with another joint" in _behind("UPDATE joints_weldrunfinding SET joint_id = %s", joint)
            transaction.set_rollback(True)
    one.delete()
    assert verify().whole


@pytest.mark.parametrize("fields", ["nothing", "number"])
def test_a_seal_over_fewer_columns_or_over_none_that_there_are_is_named(shop: dict[str, Any], fields: str) -> None:
    """It would let the rest of a version be changed ever after."""
    last = VersionSeal.objects.filter(kind="joints.historicaljob").last()
    facts = {"at": last.at, "kind": last.kind, "fields": fields if fields == "number" else f"{last.fields} {fields}"}
    number, previous = VersionSeal.objects.count() + 1, VersionSeal.objects.last().hash
    digest = seal_hash(number, rows="77 00", previous_hash=previous, **facts)
    made = VersionSeal.objects.create(number=number, rows="77 00", previous_hash=previous, hash=digest, **facts)
    AuditHead.objects.update(versions=str(made))
    said = verify().differs
    assert f"seal {number} of" in said and ("leaves out" in said if fields == "number" else "never had" in said)


@pytest.mark.skipif(connection.vendor != "sqlite", reason="PostgreSQL takes no such day")
@pytest.mark.parametrize("table", ["wps_testrecord", "wps_historicaltestrecord"])
def test_a_day_that_is_none_is_named(shop: dict[str, Any], table: str) -> None:
    assert "cannot be read" in _behind(f"UPDATE {table} SET welded_on = '2020-13-45'")


@pytest.mark.skipif(connection.vendor != "sqlite", reason="PostgreSQL takes no such moment")
def test_an_entry_of_a_day_that_is_none_is_named(shop: dict[str, Any]) -> None:
    with dropped_triggers(connection), connection.cursor() as cursor:
        cursor.execute("UPDATE register_auditentry SET at = '2020-13-45 00:00:00'")
    assert "cannot be read" in verify().problem
