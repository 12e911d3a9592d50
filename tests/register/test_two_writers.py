"""Several people saving at once on SQLite: nobody is refused, nothing is lost.

Processes of their own on a file, with the settings that the shop runs: a test in one process proves nothing.
"""

import os
import subprocess
import sys
from pathlib import Path

from tests import database_image

TOP = Path(__file__).resolve().parents[2]
WRITERS, ROUNDS = 3, 40

PREPARE = """
import django; django.setup()
from django.contrib.auth.models import User
User.objects.create_user("counter", last_name="0")
"""
WRITE = f"""
import django; django.setup()
from django.contrib.auth.models import User
from django.db import transaction
for _ in range({ROUNDS}):
    with transaction.atomic():
        user = User.objects.get(username="counter")
        user.last_name = str(int(user.last_name) + 1)
        user.save()
"""
RECORD = f"""
import os, django; django.setup()
from django.db import transaction
from register.audit import record_act
for n in range({ROUNDS}):
    with transaction.atomic():
        record_act(None, f"{{os.getpid()}} {{n}}")
"""
READ = """
import django; django.setup()
from django.contrib.auth.models import User
from django.db import connection
print(User.objects.get().last_name, connection.cursor().execute("PRAGMA journal_mode").fetchone()[0])
"""


def start(code: str, folder: Path) -> subprocess.Popen[str]:
    kept = {name: value for name, value in os.environ.items() if name != "DATABASE_URL"}
    return subprocess.Popen(
        [sys.executable, "-c", code],
        cwd=TOP,
        env={**kept, "VAR_DIR": str(folder), "DJANGO_SETTINGS_MODULE": "register.settings"},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )


def finish(process: subprocess.Popen[str]) -> str:
    out, errors = process.communicate(timeout=120)
    assert process.returncode == 0, errors
    return out.strip()


def test_no_save_is_refused_and_none_is_lost(tmp_path: Path) -> None:
    database_image.lay_out(tmp_path)
    finish(start(PREPARE, tmp_path))
    for writer in [start(WRITE, tmp_path) for _ in range(WRITERS)]:
        finish(writer)
    assert finish(start(READ, tmp_path)) == f"{WRITERS * ROUNDS} wal"


def test_acts_written_side_by_side_stay_one_chain(tmp_path: Path) -> None:
    database_image.lay_out(tmp_path)
    for writer in [start(RECORD, tmp_path) for _ in range(WRITERS)]:
        finish(writer)
    verify = "import django; django.setup(); from register.trail.verify import verify; print(verify())"
    found = finish(start(verify, tmp_path))
    assert found.startswith(f"Result(entries={WRITERS * ROUNDS}, ") and "problem=''" in found
