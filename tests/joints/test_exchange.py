"""Out in the open form and into an empty register: the same verdicts, states, sheets and scans, and the same trail."""

import json
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.db import transaction
from django.test import override_settings

from codes.units import System
from joints.day import Day
from joints.demo.load import load
from joints.imports.batch import take_in as take_list
from joints.models import ImportBatch, Job, Joint
from qualifications.due import falls_due
from qualifications.models import CalendarFeed, Certificate, Person
from qualifications.offers import certificate_offers
from qualifications.periods import validity
from register.evidence import store
from register.evidence.acts import attach, withdraw
from register.evidence.models import EvidenceFile
from register.exchange.kinds import kinds, undecided
from register.exchange.take_in import NotEmpty, take_in
from register.exchange.take_out import take_out
from register.held.firm import set_reading
from register.models import AuditEntry
from register.papers.kept import bytes_of
from register.papers.models import PrintedPaper
from register.papers.printing import PaperChoice, printed
from register.papers.standing import paper_standing
from register.systems import acts
from register.trail.verify import verify
from register.users.accounts import roles_of
from wps import issued, record_paper, workflow
from wps.judgement import judge
from wps.models import IssuedSheet, ProcedureRevision, Status
from wps.sheets import Choice

TODAY = date(2026, 11, 25)
DAYS = (TODAY, date(2026, 2, 28), date(2027, 3, 1))
PDF = b"%PDF-1.7\n1 0 obj\n<<>>\nendobj\nstartxref\n9\n%%EOF\n"
pytestmark = pytest.mark.django_db
LIST = b"Assembly;Joint number;Weld type;Thickness 1 [mm]\nNew 1;1;fillet;12\n"
SECRETS = ("password", "digest", "token_sha256", "session_data")


@dataclass(frozen=True)
class Moved:
    """A register before and after, its file, and where the scans went."""

    before: dict[str, Any]
    after: dict[str, Any]
    file: Path
    again: Path
    trail_end: str
    secrets: tuple[str, ...]


def answers() -> dict[str, Any]:
    """Everything that people ask of a register."""
    found: dict[str, Any] = {}
    for on in DAYS:
        for one in Day(on).answers(Joint.objects.order_by("pk")):
            result = one.result
            found[f"joint {one.pk} {on}"] = (result.outcome, result.sentence, result.reasons, result.final.person_ids)
        found[f"due {on}"] = [(i.certificate_id, i.act, i.by, i.because) for i in falls_due(certificate_offers(), on)]
        for one in ProcedureRevision.objects.all():
            found[f"revision {one.pk} {on}"] = judge(one, on).sentence
    certificates = Certificate.objects.select_related("person").prefetch_related("events")
    found["periods"] = {one.pk: validity(one).periods for one in certificates}
    found["roles"] = {user.username: roles_of(user) for user in User.objects.all()}
    found["versions"] = [(h.pk, h.history_date, h.history_user_name) for h in Joint.history.order_by("history_id")]
    found["jobs"] = [(job.number, job.changed_at) for job in Job.objects.all()]
    found["sheets"] = [bytes(sheet.pdf) for sheet in IssuedSheet.objects.order_by("pk")]
    papers = PrintedPaper.everything.order_by("pk")
    found["papers"] = [(one.title, bytes_of(one), paper_standing(one.check_code)) for one in papers]
    found["scans"] = [(e.file_name, e.withdrawn_because, store.read(e.sha256)) for e in EvidenceFile.objects.all()]
    found["lists"] = [store.read(batch.sha256) for batch in ImportBatch.objects.order_by("pk")]
    return found


def make() -> tuple[str, ...]:
    """The demonstration, and what it does not hold: sheets, scans, a withdrawn revision; and secrets that must stay."""
    load(TODAY)
    marta = User.objects.get(username="marta")
    in_force = ProcedureRevision.objects.filter(status=Status.APPROVED).order_by("pk")
    issued.issue(in_force[0], Choice(), marta, "")
    printed(record_paper.draft(in_force[0].records.all()[0], TODAY, System.SI), PaperChoice(), marta, "")
    workflow.withdraw(in_force[1], marta, TODAY, "the wire is no longer made")
    holder = Person.objects.order_by("pk")[0]
    attach(holder, "../../photo “1”.pdf", PDF, "both sides", marta)
    take_list(Job.objects.order_by("pk")[0], "list.csv", LIST, {}, marta)
    withdraw(attach(holder, "blank.pdf", PDF + b"\n", "", marta), "empty page", marta)
    set_reading(marta, "iso_9606_1_mode_136", "strict", "safe side")
    token, secret = acts.make(marta, "Cell 3", ["read:due"], TODAY + timedelta(days=700))
    CalendarFeed.objects.create(owner=marta, token_sha256="c" * 64)
    return secret, token.digest, "c" * 64, marta.password


@pytest.fixture(scope="module")
def moved(django_db_setup: None, django_db_blocker: Any, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Moved]:
    """Taken out, forgotten, taken in, and taken out again."""
    folder = tmp_path_factory.mktemp("exchange")
    with django_db_blocker.unblock():
        with transaction.atomic(), override_settings(EVIDENCE_DIR=str(folder / "one")):
            secrets = make()
            before, done = answers(), take_out(folder / "register.zip")
            transaction.set_rollback(True)
        with transaction.atomic(), override_settings(EVIDENCE_DIR=str(folder / "two")):
            assert not User.objects.exists()
            taken = take_in(folder / "register.zip")
            assert (taken.rows, taken.files) == (done.rows, done.files)
            after = answers()
            take_out(folder / "again.zip")
            yield Moved(before, after, folder / "register.zip", folder / "again.zip", done.trail_end, secrets)
            transaction.set_rollback(True)


def test_the_answers_are_the_same(moved: Moved) -> None:
    assert len(moved.before) > 1000
    assert moved.after.keys() == moved.before.keys()
    ((_, _, standing),) = moved.after["papers"]
    assert standing.word == "Current"
    differ = [name for name in moved.before if moved.after[name] != moved.before[name]]
    assert not differ, [(name, moved.before[name], moved.after[name]) for name in differ[:3]]


def test_the_answers_hold_every_outcome(moved: Moved) -> None:
    """Or the comparison would show little."""
    outcomes = {value[0].value for name, value in moved.before.items() if name.startswith("joint")}
    assert outcomes == {"covered", "outside", "not stated"}
    assert LIST in moved.before["lists"]
    assert moved.before["sheets"][0].startswith(b"%PDF") and len(moved.before["scans"]) == 2
    states = set(ProcedureRevision.objects.values_list("status", flat=True))
    assert {"draft", "approved", "superseded", "withdrawn"} <= states


def test_the_chain_goes_along_and_still_verifies(moved: Moved) -> None:
    found = verify(moved.trail_end)
    assert found.whole
    last = AuditEntry.objects.order_by("-number").first()
    assert last is not None
    assert (last.act, last.after["trail_end"]) == ("took in an export", moved.trail_end)
    assert found.entries == int(moved.trail_end.partition(":")[0]) + 1


def test_every_row_comes_out_again_as_it_went_in(moved: Moved) -> None:
    """Byte for byte, but for the trail, which says so, and the accounts, which have no password there yet."""
    with zipfile.ZipFile(moved.file) as one, zipfile.ZipFile(moved.again) as two:
        assert one.namelist() == two.namelist()
        differ = {name for name in one.namelist() if one.read(name) != two.read(name)}
        longer = {f"data/register.{name}.jsonl" for name in ("accountstate", "auditentry", "versionseal")}
        assert differ == {*longer, "manifest.json"}
        assert all(two.read(name).startswith(one.read(name)) for name in longer)


def test_it_is_what_docs_say(moved: Moved) -> None:
    with zipfile.ZipFile(moved.file) as archive:
        manifest = json.loads(archive.read("manifest.json"))
        assert (manifest["format"], manifest["format_version"]) == ("weld-register-export", 1)
        assert set(manifest["parts"]) == set(archive.namelist()) - {"manifest.json"}
        assert manifest["rows"].keys() == kinds().keys()
        rows = [json.loads(line) for line in archive.read("data/wps.procedure.jsonl").splitlines()]
    assert len(rows) == manifest["rows"]["wps.procedure"]
    assert rows[0]["number"].startswith("WPS")
    assert moved.file.stat().st_mode & 0o777 == 0o600


def test_no_secret_goes_along(moved: Moved) -> None:
    with zipfile.ZipFile(moved.file) as archive:
        for name in archive.namelist():
            data = archive.read(name)
            assert not [secret for secret in moved.secrets if secret.encode() in data], name
    columns = {field.attname for model in kinds().values() for field in model._meta.concrete_fields}
    assert columns & set(SECRETS) == {"password"}, "which register.exchange.values leaves out"
    assert not any(user.has_usable_password() for user in User.objects.all())


def test_every_table_is_decided_about() -> None:
    assert not undecided(), "name these in register.exchange.kinds: does a new table hold a secret?"


def test_new_rows_get_keys_after_those_that_came(moved: Moved) -> None:
    last = Person.objects.order_by("-pk")[0].pk
    with transaction.atomic():
        assert Person.objects.create(name="Late Comer", identification="L-1").pk == last + 1
        transaction.set_rollback(True)


def test_frozen_rows_are_frozen_here_too(moved: Moved) -> None:
    from django.db import IntegrityError

    with pytest.raises(IntegrityError), transaction.atomic():
        ProcedureRevision.objects.filter(status=Status.APPROVED).update(notes="changed")


def test_only_an_empty_register_takes_it(moved: Moved) -> None:
    people = Person.objects.count()
    with pytest.raises(NotEmpty, match="auth_user"):
        take_in(moved.file)
    assert Person.objects.count() == people


def test_an_export_overwrites_nothing(moved: Moved) -> None:
    size = moved.file.stat().st_size
    with pytest.raises(FileExistsError):
        take_out(moved.file)
    assert moved.file.stat().st_size == size
    assert not [path for path in moved.file.parent.iterdir() if path.name.startswith(".")]
