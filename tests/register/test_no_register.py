"""Where no register stands, no server answers or the tables are old, a command says so in a sentence and exits 3."""

import importlib
import pkgutil
import subprocess
import sys
from pathlib import Path

import pytest
from django.core.management import call_command, get_commands
from django.core.management.base import CommandError
from django.db import OperationalError, ProgrammingError

from register.management import base
from register.management.base import NO_REGISTER, RegisterCommand
from register.management.commands import verify_audit

TOP = Path(__file__).resolve().parents[2]
OWN = ("register", "wps", "qualifications", "joints")


def run(path: Path, *words: str) -> subprocess.CompletedProcess[str]:
    """A command on a database file of its own."""
    said = {
        "DATABASE_URL": f"sqlite:///{path}",
        "SECRET_KEY": "x" * 50,
        "VAR_DIR": str(path.parents[1]),
        "PATH": "/usr/bin",
    }
    return subprocess.run(
        [sys.executable, "manage.py", *words], cwd=TOP, env=said, capture_output=True, text=True, check=False
    )


def test_no_register_stands_yet(tmp_path: Path) -> None:
    (tmp_path / "empty").mkdir()
    done = run(tmp_path / "empty" / "none.sqlite3", "verify_audit")
    assert (done.returncode, done.stdout) == (NO_REGISTER, "")
    assert done.stderr.startswith("CommandError: No register stands here yet: run `manage.py setup`")
    assert "Traceback" not in done.stderr


def test_no_database_answers(tmp_path: Path) -> None:
    done = run(tmp_path / "nowhere" / "none.sqlite3", "due")
    assert done.returncode == NO_REGISTER
    assert done.stderr.startswith("CommandError: The database does not answer.")


@pytest.mark.parametrize(
    ("fault", "waiting", "words"),
    [
        (ProgrammingError("no such column"), "3 migrations wait", "of an earlier version than the program"),
        (OperationalError("database is locked"), None, "Somebody else is saving something large"),
    ],
)
def test_what_keeps_a_register_from_answering(
    fault: Exception, waiting: str | None, words: str, db: None, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(expected: str) -> None:
        raise fault

    monkeypatch.setattr(base, "not_ready", lambda: waiting)
    monkeypatch.setattr(verify_audit, "verify", broken)
    with pytest.raises(CommandError, match=words) as said:
        call_command("verify_audit")
    assert said.value.returncode == NO_REGISTER


def test_a_fault_of_our_own_is_not_covered_up(db: None, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(expected: str) -> None:
        raise ProgrammingError("syntax error")

    monkeypatch.setattr(verify_audit, "verify", broken)
    with pytest.raises(ProgrammingError, match="syntax error"):
        call_command("verify_audit")


def test_every_command_that_asks_the_register_does_so() -> None:
    names = {name for name, app in get_commands().items() if app in OWN} - {"texts"}
    assert len(names) > 12
    for app in OWN:
        package = importlib.import_module(f"{app}.management.commands")
        for module in pkgutil.iter_modules(package.__path__):
            if module.name in names:
                command = importlib.import_module(f"{package.__name__}.{module.name}").Command
                assert issubclass(command, RegisterCommand), module.name
