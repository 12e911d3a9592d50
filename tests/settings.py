"""Settings for tests: the register's own, with quick passwords and unhashed static files."""

import os
from pathlib import Path
from tempfile import TemporaryDirectory

# A settings module is a namespace; taking all names over is what Django's own convention asks for.
from register.settings import *  # noqa: F403
from register.settings import DATABASES, STORAGES

DEBUG = False
_evidence = TemporaryDirectory(prefix="evidence-")
EVIDENCE_DIR = _evidence.name
_background = TemporaryDirectory(prefix="background-")
BACKGROUND_DIR = _background.name
# Read by the library of the metrics when it is imported.
METRICS_DIR = Path(_background.name) / "metrics"
METRICS_DIR.mkdir()
os.environ["PROMETHEUS_MULTIPROC_DIR"] = str(METRICS_DIR)
_made = TemporaryDirectory(prefix="made-")
MADE_DIR = _made.name
# Most tests run in a transaction that no other session of the database sees; tests of the other board name it.
BACKGROUND_BOARD = "register.background.board_file.FileBoard"
ALLOWED_HOSTS = ["testserver", "localhost", "127.0.0.1"]
PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
# Hashed names need `collectstatic` first.
STORAGES = STORAGES | {"staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"}}
if DATABASES["default"]["ENGINE"].endswith("sqlite3"):
    DATABASES["default"]["OPTIONS"] = DATABASES["default"]["OPTIONS"] | {
        "init_command": "PRAGMA journal_mode=WAL; PRAGMA synchronous=OFF; PRAGMA foreign_keys=ON;"
    }
