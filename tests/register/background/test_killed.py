"""A worker in a process of its own, killed in the middle of its work: the next one finds it and does it whole."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

from tests import database_image

TOP = Path(__file__).resolve().parents[3]
START = """
import django; django.setup()
from django.contrib.auth.models import Group, User
user = User.objects.create_user("petra")
user.groups.set([Group.objects.get(name="qa")])
from tests.register.background import kinds
print(kinds.count.start(user, "sheep", to=4000).pk)
"""
LOOK = """
import django; django.setup()
from django.contrib.auth.models import User
from register.background.board import board
from register.background.models import Work
work = Work.objects.get()
counted = User.objects.filter(username__startswith="counted").count()
print(work.state, work.tries, counted, board().workers(), work.message)
"""


class Place:
    """A register of its own on a SQLite file, as the shop runs it."""

    def __init__(self, folder: Path) -> None:
        kept = {name: value for name, value in os.environ.items() if name != "DATABASE_URL"}
        self.folder = folder
        self.environment = {**kept, "VAR_DIR": str(folder), "DJANGO_SETTINGS_MODULE": "register.settings"}

    def said(self, code: str) -> str:
        done = subprocess.run(
            [sys.executable, "-c", code], cwd=TOP, env=self.environment, capture_output=True, text=True, timeout=120
        )
        assert done.returncode == 0, done.stderr
        return done.stdout.strip()

    def worker(self, *arguments: str) -> subprocess.Popen[bytes]:
        command = [sys.executable, "manage.py", "worker", "--skip-checks", "--interval", "0.05", *arguments]
        return subprocess.Popen(command, cwd=TOP, env=self.environment, stderr=subprocess.DEVNULL)

    def wait_under_way(self, work: str) -> None:
        """Until the worker has said that it counts."""
        until = time.monotonic() + 60
        while not (self.folder / "background" / f"{work}.said").exists():
            assert time.monotonic() < until, "the worker never began"
            time.sleep(0.02)


def test_stopped_in_the_middle(tmp_path: Path) -> None:
    """Told to stop, a worker gives its work back; killed, it leaves it to be found."""
    database_image.lay_out(tmp_path)
    place = Place(tmp_path)
    work = place.said(START)
    for how in (signal.SIGTERM, signal.SIGKILL):
        worker = place.worker()
        place.wait_under_way(work)
        worker.send_signal(how)
        worker.wait(timeout=60)
        found = place.said(LOOK).split()[:4]
        if how is signal.SIGTERM:
            assert found == ["waiting", "0", "0", "0"] and worker.returncode == 0
        else:
            assert found == ["running", "1", "0", "0"]
        (tmp_path / "background" / f"{work}.said").unlink(missing_ok=True)
    assert place.worker("--until-empty").wait(timeout=120) == 0
    assert place.said(LOOK) == "done 2 4000 0 Counted to 4000."
