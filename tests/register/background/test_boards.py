"""Both boards: who lives, what is said past an open transaction, and what a dead process leaves behind."""

import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.db import OperationalError, connection, transaction

from register.background.board import REQUEST, WORKER, Board, Said, board, key_of
from register.background.board_database import DatabaseBoard
from register.background.board_file import FileBoard
from register.background.models import State, Work

TOP = Path(__file__).resolve().parents[3]
HOLD = """
import sys, django; django.setup()
from register.background.board import _made
hold = _made(sys.argv[1]).hold("worker")
print(hold.name, flush=True)
sys.stdin.read()
"""


@pytest.fixture(params=["file", "database"])
def each_board(request: pytest.FixtureRequest, settings: Any, tmp_path: Path) -> Iterator[Board]:
    if request.param == "database" and connection.vendor != "postgresql":
        pytest.skip("advisory locks are PostgreSQL's")
    settings.BACKGROUND_DIR = tmp_path
    yield FileBoard() if request.param == "file" else DatabaseBoard()


def work() -> Work:
    user = User.objects.create_user("teller")
    return Work.objects.create(label="x", title="x", function="x", asked_by=user, state=State.RUNNING)


def is_gone(board: Board, name: str) -> bool:
    """True once the holder is seen no more; a server lets go of a closed session a moment later."""
    for _ in range(50):
        if key_of(name) not in board.alive():
            return True
        time.sleep(0.1)
    return False


@pytest.mark.django_db(transaction=True)
def test_a_holder_lives_until_released(each_board: Board) -> None:
    first, second = each_board.hold(WORKER), each_board.hold(REQUEST)
    try:
        assert {key_of(first.name), key_of(second.name)} <= each_board.alive()
        assert first.name != second.name and first.alive() and each_board.workers() == 1
        first.release()
        assert is_gone(each_board, first.name) and not first.alive()
        assert key_of(second.name) in each_board.alive() and each_board.workers() == 0
    finally:
        first.release()
        second.release()


@pytest.mark.django_db(transaction=True)
def test_a_killed_holder_is_dead_at_once(each_board: Board, settings: Any) -> None:
    environment = os.environ | {"DJANGO_SETTINGS_MODULE": "tests.settings", "VAR_DIR": str(settings.BACKGROUND_DIR)}
    if connection.vendor == "postgresql":
        known = connection.settings_dict
        environment["DATABASE_URL"] = "postgres://{USER}:{PASSWORD}@{HOST}:{PORT}/{NAME}".format(**known)
    path = f"{type(each_board).__module__}.{type(each_board).__name__}"
    code = HOLD.replace("django.setup()", "django.setup(); from django.conf import settings; "
                        f"settings.BACKGROUND_DIR = {str(settings.BACKGROUND_DIR)!r}")  # fmt: skip
    process = subprocess.Popen(
        [sys.executable, "-c", code, path], cwd=TOP, env=environment, stdin=subprocess.PIPE, stdout=subprocess.PIPE
    )
    assert process.stdout is not None and process.stdin is not None
    name = process.stdout.readline().decode().strip()
    assert key_of(name) in each_board.alive() and each_board.workers() == 1
    process.send_signal(signal.SIGKILL)
    process.wait(timeout=20)
    process.stdin.close()
    process.stdout.close()
    assert is_gone(each_board, name) and each_board.workers() == 0


@pytest.mark.django_db(transaction=True)
def test_what_is_said_is_read_past_an_open_transaction(each_board: Board) -> None:
    one = work()
    with transaction.atomic():
        User.objects.update(last_name="the database is being written to")
        each_board.tell(one.pk, Said(3, 9, "Writing"))
        each_board.ask_cancel(one.pk, "marta")
        assert each_board.cancel_asked(one.pk) == "marta"
        transaction.set_rollback(True)
    own = Work.objects.get()
    assert (each_board.told(one.pk) or Said(own.done, own.total, own.message)) == Said(3, 9, "Writing")
    each_board.forget(one.pk)
    assert each_board.told(one.pk) is None
    if isinstance(each_board, FileBoard):
        assert each_board.cancel_asked(one.pk) == ""


@pytest.mark.django_db(transaction=True)
def test_after_a_restart_of_the_server_a_new_session_is_opened(each_board: Board) -> None:
    if isinstance(each_board, FileBoard):
        pytest.skip("files need no server")
    one, hold = work(), each_board.hold(WORKER)
    each_board.tell(one.pk, Said(1, 9, "a"))
    with connection.cursor() as cursor:
        cursor.execute(
            "SELECT pg_terminate_backend(pid) FROM pg_stat_activity "
            "WHERE datname = current_database() AND pid <> pg_backend_pid()"
        )
    each_board.tell(one.pk, Said(2, 9, "b"))
    assert Work.objects.get().done == 2
    assert not hold.alive() and each_board.workers() == 0


@pytest.mark.django_db(transaction=True)
def test_a_server_that_is_away_is_an_error_that_the_worker_waits_out(each_board: Board, monkeypatch: Any) -> None:
    if isinstance(each_board, FileBoard):
        pytest.skip("files need no server")
    nowhere = connection.get_connection_params() | {"host": "127.0.0.1", "port": 1}
    monkeypatch.setattr(connection, "get_connection_params", lambda: nowhere)
    with pytest.raises(OperationalError):
        each_board.hold(WORKER)


def test_a_full_disk_does_not_end_the_work(settings: Any, tmp_path: Path) -> None:
    settings.BACKGROUND_DIR = tmp_path
    one = FileBoard()
    one.tell(7, Said(1, 2, "a"))
    # A name too long for the file system fails like a full disk: OSError on writing.
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Path, "write_text", _full)
        one.tell(7, Said(2, 2, "b"))
    assert one.told(7) == Said(1, 2, "a")


def _full(*args: Any, **kwargs: Any) -> int:
    raise OSError(28, "No space left on device")


def test_the_board_follows_the_database(settings: Any, db: None) -> None:
    settings.BACKGROUND_BOARD = ""
    wanted = DatabaseBoard if connection.vendor == "postgresql" else FileBoard
    assert isinstance(board(), wanted)
