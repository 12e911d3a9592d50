"""Metrics: off unless somebody may read them, refused to all others, and right."""

import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.db import OperationalError, connection
from django.test import Client
from prometheus_client.parser import text_string_to_metric_families

from register.background.board import WORKER, board
from register.metrics import gauges
from register.metrics.files import clear_counts
from tests.register.background import kinds

TOKEN = {"Authorization": "Bearer a token for tests"}


@pytest.fixture
def on(settings: Any, db: None) -> None:
    settings.METRICS_TOKEN = "a token for tests"


def figures(client: Client) -> dict[str, float]:
    """Every sample that Prometheus would read, with its labels in the name."""
    answer = client.get("/metrics/", headers=TOKEN)
    assert answer.status_code == 200 and answer.headers["Content-Type"].startswith("text/plain")
    found: dict[str, float] = {}
    for family in text_string_to_metric_families(answer.content.decode()):
        for sample in family.samples:
            labels = ",".join(f"{key}={value}" for key, value in sorted(sample.labels.items()))
            found[f"{sample.name}{{{labels}}}" if labels else sample.name] = sample.value
    return found


def test_off_unless_somebody_may_read_them(client: Client, db: None) -> None:
    assert client.get("/metrics/", headers=TOKEN).status_code == 404


@pytest.mark.parametrize("header", ["", "Bearer", "Bearer ", "Bearer another", "Basic a token for tests", "Bearer ä"])
def test_no_token_no_metrics(header: str, client: Client, on: None) -> None:
    headers = {"Authorization": header} if header else {}
    assert client.get("/metrics/", headers=headers).status_code == 403
    assert client.post("/metrics/", headers=TOKEN).status_code == 405


@pytest.mark.parametrize(
    ("allowed", "address", "forwarded", "proxies", "status"),
    [
        (["10.0.0.0/30"], "10.0.0.3", "", 0, 200),
        (["10.0.0.0/30"], "10.0.0.4", "", 0, 403),
        (["10.0.0.7"], "10.0.0.7", "", 0, 200),
        (["::1"], "::1", "", 0, 200),
        (["127.0.0.1"], "", "", 0, 403),  # a socket file: nothing is known
        (["127.0.0.1"], "127.0.0.1", "203.0.113.9", 0, 403),  # a proxy that nobody told us of
        (["127.0.0.1"], "127.0.0.1", "203.0.113.9", 1, 403),
        (["203.0.113.9"], "127.0.0.1", "203.0.113.9", 1, 200),
        (["203.0.113.9"], "127.0.0.1", "203.0.113.9, 198.51.100.1", 1, 403),  # invented by whoever asks
    ],
)
def test_by_address(
    allowed: list[str], address: str, forwarded: str, proxies: int, status: int, settings: Any, db: None
) -> None:
    settings.METRICS_FROM, settings.PROXIES = allowed, proxies
    headers = {"X-Forwarded-For": forwarded} if forwarded else {}
    assert Client(REMOTE_ADDR=address).get("/metrics/", headers=headers).status_code == status


def test_requests_are_counted_by_view_and_no_address_shows(client: Client, on: None) -> None:
    count, time = "register_requests_total", "register_request_seconds"
    before = figures(client)
    client.get("/joints/4711/")
    client.get("/nowhere/4711/")
    client.generic("BREW", "/health/")
    after = figures(client)
    for labels in ("method=GET,status=302,view=joints:joint", "method=GET,status=404,view=none",
                   "method=other,status=200,view=health"):  # fmt: skip
        assert after[f"{count}{{{labels}}}"] == before.get(f"{count}{{{labels}}}", 0) + 1
    one = f"{time}_count{{method=GET,view=joints:joint}}"
    assert after[one] == before.get(one, 0) + 1
    assert after[f"{time}_bucket{{le=+Inf,method=GET,view=joints:joint}}"] == after[one]
    assert not any("4711" in name for name in after)


def test_how_things_stand(client: Client, on: None, qa: User) -> None:
    hold = board().hold(WORKER)
    kinds.count.start(qa, "sheep", to=1)
    found = figures(client)
    hold.release()
    assert found["register_work{state=waiting}"] == 1 and found["register_work{state=done}"] == 0
    assert 0 <= found["register_work_oldest_seconds"] < 60
    assert found["register_workers"] == 1
    assert found["register_database_up"] == 1 and 0 < found["register_database_seconds"] < 5
    assert found["register_trail_entries"] == 0
    if connection.vendor == "postgresql":
        assert found["register_database_bytes"] > 1_000_000


def test_a_database_that_is_away_is_a_figure(client: Client, on: None, monkeypatch: Any) -> None:
    def away() -> Any:
        raise OperationalError("host 10.0.0.7 does not answer")

    monkeypatch.setattr(gauges, "queue", away)
    found = figures(client)
    assert found["register_database_up"] == 0 and "register_workers" not in found


def test_counts_of_processes_that_are_gone_are_cleared_away(settings: Any, tmp_path: Path) -> None:
    settings.METRICS_DIR = tmp_path
    gone = subprocess.Popen([sys.executable, "-c", ""])
    gone.wait()
    mine = int(re.findall(r"\d+", Path("/proc/self/stat").read_text())[0])
    for pid in (gone.pid, mine):
        (tmp_path / f"counter_{pid}.db").touch()
    clear_counts()
    assert [path.name for path in tmp_path.iterdir()] == [f"counter_{mine}.db"]
