"""What a watchman sees."""

from typing import Any

from django.db import OperationalError
from django.test import Client

from register import health


def test_alive_needs_no_database(client: Client) -> None:
    assert client.get("/health/").json() == {"alive": True}


def test_ready_when_migrated(client: Client, db: None) -> None:
    response = client.get("/ready/")
    assert (response.status_code, response.json()) == (200, {"ready": True, "reason": None})


def test_not_ready_while_migrations_wait(client: Client, db: None, monkeypatch: Any) -> None:
    monkeypatch.setattr(health.MigrationExecutor, "migration_plan", lambda *_: ["one", "two"])
    response = client.get("/ready/")
    assert response.status_code == 503
    assert response.json()["reason"] == "2 migrations wait: run manage.py migrate."


def test_not_ready_without_a_database_and_no_secret_said(client: Client, db: None, monkeypatch: Any) -> None:
    def broken(*_: Any) -> None:
        raise OperationalError("could not connect to server at 10.0.0.7 as weld")

    monkeypatch.setattr(health, "MigrationExecutor", broken)
    response = client.get("/ready/")
    assert response.status_code == 503
    assert response.json()["reason"] == "The database does not answer."
