"""Exports that are damaged, cut off, or made to do harm: refused in words, nothing saved, no file left."""

import json
import zipfile
from collections.abc import Callable, Iterator
from datetime import date
from hashlib import sha256
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from django.contrib.auth.models import Group, User
from django.core.management import CommandError, call_command
from django.db import transaction
from django.test import override_settings

from qualifications.models import CertificateEvent, Person
from register.audit import record_act
from register.evidence import store
from register.evidence.acts import attach
from register.exchange.archive import BadExport, Reader
from register.exchange.take_in import take_in
from register.exchange.take_out import take_out
from register.models import AuditEntry
from tests.qualifications.make import certificate
from tests.wps.factory import approved
from tests.wps.iso import iso_draft, iso_record

Parts = dict[str, bytes]
Change = Callable[[Parts], object]
PDF = b"%PDF-1.7\nstartxref\n9\n%%EOF\n"
USERS, PEOPLE, TRAIL = "data/auth.user.jsonl", "data/qualifications.person.jsonl", "data/register.auditentry.jsonl"
REVISIONS, RUNS = "data/wps.procedurerevision.jsonl", "data/wps.procedurerun.jsonl"


@pytest.fixture(scope="module")
def parts(django_db_setup: None, django_db_blocker: Any, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Parts]:
    """The parts of a small register: an approved procedure, a certificate, a scan, a trail."""
    folder = tmp_path_factory.mktemp("hostile")
    with django_db_blocker.unblock(), transaction.atomic(), override_settings(EVIDENCE_DIR=str(folder / "evidence")):
        users = [User.objects.create_user(name, first_name=name) for name in ("marta", "henrik")]
        for user in users:
            user.groups.add(Group.objects.get(name="coordinator"))
            record_act(None, "made the account", user)
        approved(iso_draft(users[0], [iso_record()]), users[1], date(2026, 3, 2))
        attach(certificate(), "scan.pdf", PDF, "", users[0])
        take_out(folder / "small.zip")
        transaction.set_rollback(True)
    with zipfile.ZipFile(folder / "small.zip") as archive:
        yield {name: archive.read(name) for name in archive.namelist()}


def packed(parts: Parts, folder: Path, put_right: bool = True) -> Path:
    """The parts as a file; `put_right`: sizes and hashes of the manifest are made to fit."""
    parts = dict(parts)
    if put_right:
        manifest = json.loads(parts["manifest.json"])
        manifest["parts"] = {
            name: {"sha256": sha256(data).hexdigest(), "size": len(data)}
            for name, data in parts.items()
            if name != "manifest.json"
        }
        parts["manifest.json"] = json.dumps(manifest).encode()
    path = folder / "made.zip"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in parts.items():
            archive.writestr(name, data)
    return path


def rows(part: str, change: Callable[[list[dict[str, Any]]], object]) -> Change:
    """Change the rows of a kind."""

    def changed(parts: Parts) -> None:
        found = [json.loads(line) for line in parts.get(part, b"").splitlines()]
        change(found)
        parts[part] = "".join(json.dumps(row) + "\n" for row in found).encode()

    return changed


def first(part: str, **values: Any) -> Change:
    return rows(part, lambda found: found[0].update(values))


def manifest(**values: Any) -> Change:
    def changed(parts: Parts) -> None:
        said = json.loads(parts["manifest.json"]) | values
        parts["manifest.json"] = json.dumps(said).encode()

    return changed


def a_scan(parts: Parts) -> str:
    return next(name for name in parts if name.startswith("files/"))


HARM: dict[str, tuple[Change, str]] = {
    "a path up": (lambda p: p.update({"../../evil.py": b"x"}), "no part of an export"),
    "a path from the top": (lambda p: p.update({"/etc/cron.d/x": b"x"}), "no part of an export"),
    "a path within": (lambda p: p.update({"data/../../x.jsonl": b"{}\n"}), "no part of an export"),
    "a backslash": (lambda p: p.update({"data\\wps.procedure.jsonl": b""}), "no part of an export"),
    "a folder": (lambda p: p.update({"files/": b""}), "no part of an export"),
    "a file under another hash": (lambda p: p.update({"files/" + "0" * 64: b"x"}), "not the file of that hash"),
    "a bomb": (lambda p: p.update({"files/" + "0" * 64: b"\0" * 8_000_000}), "far more than it can hold"),
    "tokens of systems": (lambda p: p.update({"data/register.systemtoken.jsonl": b"{}\n"}), "register.systemtoken"),
    "sessions": (lambda p: p.update({"data/sessions.session.jsonl": b"{}\n"}), "sessions.session"),
    "a password": (first(USERS, password="md5$x$y"), "'password', which auth.user does not know"),
    "an unknown column": (first(PEOPLE, salary=1), "'salary'"),
    "a column too few": (rows(PEOPLE, lambda f: f[0].pop("name")), "lacks 'name'"),
    "a text too long": (first(PEOPLE, name="x" * 121), "too long"),
    "a sign that is no text": (first(PEOPLE, name="A\x00"), "no text"),
    "another kind of value": (first(PEOPLE, name=["A"]), "no single value"),
    "yes for a key": (first(PEOPLE, id=True), "another kind"),
    "a key too big": (first(PEOPLE, id=2**70), "too big"),
    "no day": (first(PEOPLE, born_on="2026-02-30"), "born_on cannot be read"),
    "no JSON": (lambda p: p.update({PEOPLE: b"{'name': 1}\n"}), "line 1: is no JSON"),
    "a list for a row": (lambda p: p.update({PEOPLE: b"[]\n"}), "no JSON object"),
    "deep JSON": (lambda p: p.update({PEOPLE: b'{"a":' + b"[" * 200_000 + b"\n"}), "is no JSON"),
    "not a number": (lambda p: p.update({PEOPLE: b'{"id": NaN}\n'}), "no figure"),
    "no UTF-8": (lambda p: p.update({PEOPLE: b'{"name": "\xff"}\n'}), "is no JSON"),
    "cut within a line": (lambda p: p.update({PEOPLE: p[PEOPLE][:-5]}), "cut off"),
    "the same key twice": (rows(PEOPLE, lambda f: f.append(f[0])), "database refuses"),
    "nobody's certificate": (lambda p: p.update({PEOPLE: b""}), "database refuses"),
    "no scan": (lambda p: p.pop(a_scan(p)), "is not in the export"),
    "a scan that is not stored": (manifest(stored=[]), "lacks the scan"),
    "a store that is no list": (manifest(stored=7), "lacks the scan"),
    "a path for a store": (manifest(stored=["../x"]), "lacks the scan"),
    "a revision that changed": (first(REVISIONS, notes="bent"), "not as it was approved"),
    "a revision never approved": (rows(TRAIL, lambda f: f.pop()), "missing at the end"),
    "a run that changed": (first(RUNS, current_max_a="400.0"), "not as it was approved"),
    "an approval of the own work": (
        rows(REVISIONS, lambda f: f[0].update(approved_by_id=f[0]["author_id"])),
        "refuses",
    ),
    "an unknown state": (first(REVISIONS, status="blessed"), "refuses"),
    "an act that changed": (first(TRAIL, act="nothing happened"), "changed after it was written"),
    "acts in another order": (rows(TRAIL, lambda f: f.reverse()), ""),
    "another shape of an act": (first(TRAIL, after=["x"]), "does not verify"),
    "another end of the trail": (manifest(trail_end=f"1:{'0' * 64}"), "not the one that was noted"),
    "no end of the trail": (manifest(trail_end="end"), "cannot be verified"),
    "another format": (manifest(format="backup"), "not weld-register-export 1"),
    "a later format": (manifest(format_version=2), "not weld-register-export 1"),
}


@pytest.fixture
def evidence(tmp_path: Path, settings: Any) -> Path:
    settings.EVIDENCE_DIR = str(tmp_path / "evidence")
    return tmp_path / "evidence"


def left(folder: Path) -> list[Path]:
    return [path for path in folder.rglob("*") if path.is_file()]


def nothing_saved(folder: Path) -> None:
    assert not User.objects.exists() and not AuditEntry.objects.exists() and not CertificateEvent.objects.exists()
    assert not left(folder)


@pytest.mark.parametrize("name", [name for name in HARM if HARM[name][1]])
def test_harm_is_refused_and_nothing_is_saved(
    name: str, parts: Parts, tmp_path: Path, evidence: Path, db: None
) -> None:
    change, said = HARM[name]
    changed = dict(parts)
    change(changed)
    with pytest.raises(BadExport, match=said):
        take_in(packed(changed, tmp_path))
    nothing_saved(evidence)


def test_the_untouched_one_is_taken_in(parts: Parts, tmp_path: Path, evidence: Path, db: None) -> None:
    """Or nothing above would show anything."""
    take_in(packed(parts, tmp_path))
    assert User.objects.count() == 2
    assert [path.read_bytes() for path in left(evidence)] == [PDF]
    assert store.read(sha256(PDF).hexdigest()) == PDF


def test_the_order_of_rows_does_not_matter(parts: Parts, tmp_path: Path, evidence: Path, db: None) -> None:
    changed = dict(parts)
    HARM["acts in another order"][0](changed)
    take_in(packed(changed, tmp_path))
    assert User.objects.count() == 2


def test_a_hash_or_a_size_that_does_not_fit(parts: Parts, tmp_path: Path, evidence: Path, db: None) -> None:
    for change in ({PEOPLE: parts[PEOPLE].replace(b"Ada", b"Eda")}, {a_scan(parts): PDF + b" "}):
        with pytest.raises(BadExport, match="damaged"):
            take_in(packed(parts | change, tmp_path, put_right=False))
    nothing_saved(evidence)


def test_a_part_more_or_less_than_the_manifest_names(parts: Parts, tmp_path: Path, evidence: Path, db: None) -> None:
    with pytest.raises(BadExport, match="does not name"):
        take_in(packed(parts | {"data/joints.other.jsonl": b""}, tmp_path, put_right=False))
    fewer = {name: data for name, data in parts.items() if name != PEOPLE}
    with pytest.raises(BadExport, match="lacks"):
        take_in(packed(fewer, tmp_path, put_right=False))
    with pytest.raises(BadExport, match="no manifest"):
        take_in(packed({PEOPLE: parts[PEOPLE]}, tmp_path, put_right=False))
    nothing_saved(evidence)


@pytest.mark.parametrize(
    "said",
    [b"[]", b"{}", b"\xff", b'{"format": "weld-register-export", "format_version": 1, "parts": []}', b"[" * 10**5],
)
def test_a_manifest_that_is_none(said: bytes, parts: Parts, tmp_path: Path, evidence: Path, db: None) -> None:
    with pytest.raises(BadExport):
        take_in(packed(parts | {"manifest.json": said}, tmp_path, put_right=False))
    nothing_saved(evidence)


def test_a_name_twice(parts: Parts, tmp_path: Path, evidence: Path, db: None) -> None:
    path = packed(parts, tmp_path)
    with zipfile.ZipFile(path, "a") as archive, pytest.warns(UserWarning, match="Duplicate"):
        archive.writestr(PEOPLE, b"")
    with pytest.raises(BadExport, match="twice"):
        take_in(path)


@pytest.mark.parametrize("keep", [0, 1, 100, 2000, -1, -30])
def test_a_file_cut_off(keep: int, parts: Parts, tmp_path: Path, evidence: Path, db: None) -> None:
    path = packed(parts, tmp_path)
    path.write_bytes(path.read_bytes()[:keep])
    with pytest.raises(BadExport, match="cannot be read"):
        take_in(path)
    nothing_saved(evidence)


def test_a_bent_byte_is_refused_wherever_it_stands(parts: Parts, tmp_path: Path, evidence: Path, db: None) -> None:
    """In the packed rows, in the names, in the list of contents; a few bytes that mean nothing may be bent."""
    whole = packed(parts, tmp_path).read_bytes()
    refused = 0
    for at in range(0, len(whole), max(1, len(whole) // 60)):
        bent = bytearray(whole)
        bent[at] ^= 0x5A
        path = tmp_path / "bent.zip"
        path.write_bytes(bent)
        try:
            with Reader(path) as reader:
                reader.check()
        except BadExport:
            refused += 1
    assert refused >= 48


def test_a_locked_part(parts: Parts, tmp_path: Path, evidence: Path, db: None) -> None:
    data = bytearray(packed(parts, tmp_path).read_bytes())
    at = BytesIO(data).getvalue().rindex(b"PK\x01\x02")
    data[at + 8] |= 1
    path = tmp_path / "locked.zip"
    path.write_bytes(data)
    with pytest.raises(BadExport, match="password"):
        take_in(path)


def test_a_scan_that_was_there_before_stays(parts: Parts, tmp_path: Path, evidence: Path, db: None) -> None:
    store.keep(PDF)
    changed = dict(parts)
    HARM["an act that changed"][0](changed)
    with pytest.raises(BadExport):
        take_in(packed(changed, tmp_path))
    assert store.read(sha256(PDF).hexdigest()) == PDF


def test_the_command_says_so_in_a_line(parts: Parts, tmp_path: Path, evidence: Path, db: None) -> None:
    path = tmp_path / "text.zip"
    path.write_text("no archive")
    with pytest.raises(CommandError, match=r"cannot be read as an export.*Nothing was taken in\."):
        call_command("import_register", str(path))
    with pytest.raises(CommandError, match="There is no file"):
        call_command("import_register", str(tmp_path / "none.zip"))
    with pytest.raises(CommandError, match="There is no folder"):
        call_command("export_register", str(tmp_path / "none" / "x.zip"))


def test_a_missing_scan_stops_the_export(tmp_path: Path, evidence: Path, people: dict[str, Any]) -> None:
    attach(certificate(), "scan.pdf", PDF, "", people["qa"])
    store.path_of(sha256(PDF).hexdigest()).unlink()
    with pytest.raises(CommandError, match="is missing"):
        call_command("export_register", str(tmp_path / "x.zip"))
    assert [path for path in tmp_path.iterdir() if path.suffix == ".zip"] == []


@pytest.mark.django_db(transaction=True)
def test_it_is_taken_out_as_of_one_moment_and_writing_goes_on(tmp_path: Path) -> None:
    """Outside of a transaction, as the command runs: what is read is one state, and afterwards all is as before."""
    Person.objects.create(name="Ada Krol", identification="K-1")
    done = take_out(tmp_path / "register.zip")
    assert done.rows >= 2, "the person and her history"
    Person.objects.create(name="Bo Lind", identification="K-2")
    assert Person.objects.count() == 2
    with zipfile.ZipFile(tmp_path / "register.zip") as archive:
        assert b"Ada Krol" in archive.read(PEOPLE) and b"Bo Lind" not in archive.read(PEOPLE)
