"""Settings as they come from the environment: each case in a process of its own."""

import json
import os
import stat
import subprocess
import sys
from pathlib import Path

import pytest
from django.db import connection

from register.secret import kept_secret

TOP = Path(__file__).resolve().parents[2]
ASK = """
import json, register.settings as s
print(json.dumps({k: str(getattr(s, k)) for k in dir(s) if k.isupper()}))
"""


def settings_with(tmp_path: Path, **environment: str) -> dict[str, str]:
    """The settings as text, read with a bare environment and a folder of their own."""
    kept = {name: os.environ[name] for name in ("PATH", "HOME") if name in os.environ}
    answer = subprocess.run(
        [sys.executable, "-c", ASK],
        cwd=TOP,
        env={**kept, "VAR_DIR": str(tmp_path / "var"), **environment},
        capture_output=True,
        text=True,
        check=True,
    )
    found: dict[str, str] = json.loads(answer.stdout)
    return found


def test_defaults_are_safe(tmp_path: Path) -> None:
    found = settings_with(tmp_path)
    assert found["DEBUG"] == "False"
    assert found["TIME_ZONE"] == "Europe/Berlin"
    assert found["USE_TZ"] == "True"
    assert len(found["SECRET_KEY"]) >= 50
    assert "*" not in found["ALLOWED_HOSTS"]
    assert "'transaction_mode': 'IMMEDIATE'" in found["DATABASES"]
    assert "synchronous=FULL" in found["DATABASES"]


def test_the_environment_wins(tmp_path: Path) -> None:
    found = settings_with(
        tmp_path,
        SECRET_KEY="of my own",
        TIME_ZONE="Europe/Oslo",
        ALLOWED_HOSTS="welds.example,10.0.0.5",
        DATABASE_URL="postgres://weld:pw@db.example:5433/register",
        HTTPS="1",
    )
    assert found["SECRET_KEY"] == "of my own"
    assert found["TIME_ZONE"] == "Europe/Oslo"
    assert found["ALLOWED_HOSTS"] == "['welds.example', '10.0.0.5']"
    assert "postgresql" in found["DATABASES"]
    assert "init_command" not in found["DATABASES"]
    assert found["SESSION_COOKIE_SECURE"] == found["CSRF_COOKIE_SECURE"] == "True"
    assert not (tmp_path / "var" / "secret_key").exists()


def test_https_makes_the_deployment_check_clean(tmp_path: Path) -> None:
    """Every check of Django's, warnings counted as faults. The silenced one is explained in the settings."""
    kept = {name: os.environ[name] for name in ("PATH", "HOME") if name in os.environ}
    own = {"VAR_DIR": str(tmp_path / "var"), "HTTPS": "1", "ALLOWED_HOSTS": "welds.example"}
    command = [sys.executable, "manage.py", "check", "--deploy", "--fail-level", "WARNING"]
    done = subprocess.run(command, cwd=TOP, env={**kept, **own}, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    assert "no issues (1 silenced)" in done.stdout


def test_https_binds_cookies_to_the_host_and_spares_the_watchman(tmp_path: Path) -> None:
    found = settings_with(tmp_path, HTTPS="1", HSTS_DAYS="30")
    assert found["SESSION_COOKIE_NAME"].startswith("__Host-")
    assert found["CSRF_COOKIE_NAME"].startswith("__Host-")
    assert found["SECURE_HSTS_SECONDS"] == str(30 * 24 * 60 * 60)
    assert "health" in found["SECURE_REDIRECT_EXEMPT"]


def test_lines_are_json_on_demand(tmp_path: Path) -> None:
    assert "JsonLines" in settings_with(tmp_path, LOG_FORMAT="json")["LOGGING"]


def test_the_version_is_stated_once() -> None:
    from django.conf import settings

    assert f'version = "{settings.VERSION}"' in (TOP / "pyproject.toml").read_text()


def test_one_key_per_installation(tmp_path: Path) -> None:
    first = settings_with(tmp_path)["SECRET_KEY"]
    assert settings_with(tmp_path)["SECRET_KEY"] == first
    path = tmp_path / "var" / "secret_key"
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert [file.name for file in path.parent.iterdir() if "secret" in file.name] == ["secret_key"]


def test_the_first_of_two_keys_wins(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Another process makes its key between our look and our writing."""
    path = tmp_path / "secret_key"
    path.write_text("theirs")
    monkeypatch.setattr(Path, "exists", lambda self: False)
    assert kept_secret(path) == "theirs"


@pytest.mark.django_db(transaction=True)
def test_sqlite_is_set_as_measured() -> None:
    if connection.vendor != "sqlite":
        pytest.skip("about SQLite")
    with connection.cursor() as cursor:
        pragmas = {name: cursor.execute(f"PRAGMA {name}").fetchone()[0] for name in ("foreign_keys", "busy_timeout")}
    assert pragmas == {"foreign_keys": 1, "busy_timeout": 20_000}
    assert connection.settings_dict["OPTIONS"]["transaction_mode"] == "IMMEDIATE"
