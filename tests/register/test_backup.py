"""The drill: back up while in use, lose everything, restore, and get the same answers. And backups that are no good.

Commands run in processes of their own on databases of their own, as in the shop.
"""

import hashlib
import io
import json
import os
import shutil
import subprocess
import sys
import tarfile
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from django.db import connection

from register.backup import archive
from register.backup.archive import BadBackup

TOP = Path(__file__).resolve().parents[2]
ANSWERS = """
import django, hashlib, re; django.setup()
from django.contrib.auth.models import User
from django.test import Client
from joints.models import Job, Joint
from qualifications.models import Certificate
from wps.models import ProcedureRevision
client = Client()
client.force_login(User.objects.get(username="ines"))
things = [Job.objects.first(), Joint.objects.first(), Joint.objects.last(), Certificate.objects.last()]
things += [ProcedureRevision.objects.last()]
for address in ["/", "/people/due/?on=2026-12-01", *(thing.get_absolute_url() for thing in things)]:
    page = client.get(address)
    assert page.status_code == 200, (address, page.status_code)
    text = re.sub('"[A-Za-z0-9]{64}"', "", page.content.decode())  # tokens against forged requests
    print(address, hashlib.sha256(text.encode()).hexdigest())
"""
ADD = """
import django; django.setup()
from register.audit import record_act
record_act(None, "{act}")
"""

SHOW = """
import django; django.setup()
from register.models import AuditEntry
print(*AuditEntry.objects.values_list("act", flat=True))
"""


class Shop:
    """One installation: a folder of its own, and a database of its own."""

    def __init__(self, folder: Path, database_url: str) -> None:
        self.folder = folder
        kept = {name: value for name, value in os.environ.items() if name != "DATABASE_URL"}
        own = {"VAR_DIR": str(folder), "DJANGO_SETTINGS_MODULE": "tests.settings", "DATABASE_URL": database_url}
        self.environment = {**kept, **own}

    def run(self, *arguments: str, fails: bool = False) -> str:
        done = subprocess.run(
            [sys.executable, *arguments], cwd=TOP, env=self.environment, capture_output=True, text=True, check=False
        )
        assert (done.returncode != 0) is fails, done.stderr[-2000:]
        return (done.stderr if fails else done.stdout).strip()

    def manage(self, command: str, *arguments: str, fails: bool = False) -> str:
        """A command without Django's own checks of the code, which other tests ask for."""
        plain = () if command == "restore" else ("--skip-checks",)  # which does without them anyway
        return self.run("manage.py", command, *plain, *arguments, fails=fails)

    def answers(self) -> str:
        return self.run("-c", ANSWERS)


NewShop = Callable[..., Shop]
FILE = "register.sqlite3"


@pytest.fixture(scope="module")
def new_shop(tmp_path_factory: pytest.TempPathFactory, django_db_setup: None) -> Iterator[NewShop]:
    """A fresh installation on the kind of database that is under test."""
    made: list[str] = []

    def make(like: Shop | None = None) -> Shop:
        """With an empty database, or one like that of another shop in which nobody works."""
        folder = tmp_path_factory.mktemp("shop")
        if connection.vendor == "sqlite":
            if like:
                shutil.copyfile(like.folder / FILE, folder / FILE)
            return Shop(folder, "")
        name = f"drill_{os.getpid()}_{len(made)}"
        source = like.environment["DATABASE_URL"].rpartition("/")[2] if like else "template1"
        _on_postgres(f"CREATE DATABASE {name} TEMPLATE {source}")
        made.append(name)
        at = connection.settings_dict
        login = f"{at['USER']}:{at['PASSWORD']}" if at["PASSWORD"] else at["USER"]
        return Shop(folder, f"postgres://{login}@{at['HOST']}:{at['PORT']}/{name}")

    yield make
    for name in made:
        _on_postgres(f"DROP DATABASE {name} WITH (FORCE)")


def _on_postgres(statement: str) -> None:
    import psycopg

    at = connection.settings_dict
    with psycopg.connect(
        host=at["HOST"], port=at["PORT"], user=at["USER"], password=at["PASSWORD"], dbname="postgres", autocommit=True
    ) as server:
        server.execute(statement)


@pytest.fixture(scope="module")
def empty_shop(new_shop: NewShop) -> Shop:
    """Set up and empty."""
    made = new_shop()
    made.manage("setup")
    return made


@pytest.fixture(scope="module")
def shop(new_shop: NewShop, empty_shop: Shop) -> Shop:
    """A shop with the invented data and two files of evidence."""
    made = new_shop(empty_shop)
    made.manage("setup", "--demo")
    evidence = made.folder / "evidence" / "ab"
    evidence.mkdir(parents=True)
    (evidence / "report.pdf").write_bytes(b"%PDF-1.7 of a test")
    (evidence.parent / "é.txt").write_text("text")
    return made


@pytest.fixture(scope="module")
def backed_up(shop: Shop) -> tuple[Path, str]:
    target = shop.folder / "backup.tar.gz"
    said = shop.manage("backup", str(target))
    assert "database and 2 files" in said
    assert f"SHA-256 {hashlib.sha256(target.read_bytes()).hexdigest()}" in said
    assert target.stat().st_mode & 0o777 == 0o600
    return target, said


@pytest.fixture(scope="module")
def restored(backed_up: tuple[Path, str], new_shop: NewShop) -> Shop:
    fresh = new_shop()
    assert "database and 2 files" in fresh.manage("restore", str(backed_up[0]))
    return fresh


def test_the_drill(shop: Shop, backed_up: tuple[Path, str], restored: Shop) -> None:
    end = backed_up[1].split("trail")[-1].strip()
    assert restored.answers() == shop.answers()
    assert (restored.folder / "evidence" / "ab" / "report.pdf").read_bytes() == b"%PDF-1.7 of a test"
    assert "The trail is whole" in restored.manage("verify_audit", "--expect", end)


def test_what_is_there_is_lost_only_on_demand(backed_up: tuple[Path, str], empty_shop: Shop, new_shop: NewShop) -> None:
    target, fresh = backed_up[0], new_shop(empty_shop)
    fresh.run("-c", ADD.format(act="in the way"))
    (fresh.folder / "evidence").mkdir()
    (fresh.folder / "evidence" / "other.pdf").write_bytes(b"other")
    refused = fresh.manage("restore", str(target), fails=True)
    assert "holds data (register_auditentry" in refused
    assert "1 entries" in fresh.manage("verify_audit")
    fresh.manage("restore", str(target), "--replace")
    acts = fresh.run("-c", SHOW)
    assert "in the way" not in acts
    assert acts.startswith("restored the register")
    (aside,) = fresh.folder.glob("evidence.before-restore-*")
    assert (aside / "other.pdf").read_bytes() == b"other"
    assert "of a test" in (fresh.folder / "evidence" / "ab" / "report.pdf").read_text()


def test_rows_stay_frozen_after_a_restore(restored: Shop) -> None:
    change = "import django; django.setup(); from register.models import AuditEntry as A; A.objects.update(act='x')"
    assert "never changed" in restored.run("-c", change, fails=True)


def test_a_backup_is_never_overwritten(shop: Shop, backed_up: tuple[Path, str]) -> None:
    assert "never overwrites" in shop.manage("backup", str(backed_up[0]), fails=True)
    assert not [path for path in shop.folder.iterdir() if path.name.startswith((".backup", "backup-"))]


def altered(source: Path, target: Path, change: Callable[[tarfile.TarInfo, bytes], tuple[str, bytes] | None]) -> Path:
    """The archive with each member changed, renamed, or left out."""
    with tarfile.open(source) as old, tarfile.open(target, "w:gz") as new:
        for member in old:
            content = old.extractfile(member).read()  # type: ignore[union-attr]
            kept = change(member, content)
            if kept is not None:
                info = tarfile.TarInfo(kept[0])
                info.size = len(kept[1])
                new.addfile(info, io.BytesIO(kept[1]))
    return target


def _without_evidence(member: tarfile.TarInfo, content: bytes) -> tuple[str, bytes] | None:
    return None if "report" in member.name else (member.name, content)


def _bit_flipped(member: tarfile.TarInfo, content: bytes) -> tuple[str, bytes]:
    flipped = content[:-1] + bytes([content[-1] ^ 1]) if member.name.startswith("database") else content
    return member.name, flipped


def _no_manifest(member: tarfile.TarInfo, content: bytes) -> tuple[str, bytes] | None:
    return None if member.name == "manifest.json" else (member.name, content)


def _out_of_the_folder(member: tarfile.TarInfo, content: bytes) -> tuple[str, bytes]:
    return member.name.replace("files/evidence/ab/", "files/../../../"), content


def _of_the_future(member: tarfile.TarInfo, content: bytes) -> tuple[str, bytes]:
    if member.name != "manifest.json":
        return member.name, content
    said = json.loads(content)
    said["migrations"].append(["wps", "0999_later"])
    return member.name, json.dumps(said).encode()


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (_without_evidence, "lacks files/evidence/ab/report.pdf"),
        (_bit_flipped, "is damaged"),
        (_no_manifest, "holds no manifest"),
        (_out_of_the_folder, "no plain file below it"),
    ],
)
def test_a_backup_that_is_no_good_is_refused_whole(
    backed_up: tuple[Path, str], tmp_path: Path, change: Callable[..., tuple[str, bytes] | None], said: str
) -> None:
    bad = altered(backed_up[0], tmp_path / "bad.tar.gz", change)
    (tmp_path / "into").mkdir()
    with pytest.raises(BadBackup, match=said):
        archive.unpack(bad, tmp_path / "into")


def test_a_cut_off_backup_and_one_of_the_future_touch_nothing(
    backed_up: tuple[Path, str], tmp_path: Path, new_shop: NewShop
) -> None:
    fresh = new_shop()
    cut = tmp_path / "cut.tar.gz"
    cut.write_bytes(backed_up[0].read_bytes()[:-5000])
    assert "cannot be read as a backup" in fresh.manage("restore", str(cut), fails=True)
    future = altered(backed_up[0], tmp_path / "future.tar.gz", _of_the_future)
    assert "knows wps.0999_later" in fresh.manage("restore", str(future), fails=True)
    assert not (fresh.folder / "evidence").exists()
    assert "No register stands here yet" in fresh.manage("verify_audit", fails=True)


def test_links_and_devices_are_refused(tmp_path: Path) -> None:
    bad = tmp_path / "bad.tar.gz"
    with tarfile.open(bad, "w:gz") as tar:
        link = tarfile.TarInfo("files/evidence/link")
        link.type, link.linkname = tarfile.SYMTYPE, "../../secret_key"
        tar.addfile(link)
    (tmp_path / "into").mkdir()
    with pytest.raises(BadBackup, match="no plain file"):
        archive.unpack(bad, tmp_path / "into")
