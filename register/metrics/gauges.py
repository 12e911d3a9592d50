"""How things stand at the moment of asking: the queue, the workers, the database, the trail."""

import os
import time
from collections.abc import Iterator
from typing import Any

from django.conf import settings
from django.db import Error, connection
from django.db.models import Count, Min
from django.utils import timezone
from prometheus_client.core import GaugeMetricFamily, InfoMetricFamily

from register.background.board import board
from register.background.models import State, Work
from register.models import AuditHead


class Standing:
    """A collector that asks the database when it is asked itself. A database that is away is a figure too."""

    def collect(self) -> Iterator[Any]:
        yield InfoMetricFamily("register", "The register", {"version": settings.VERSION})
        began = time.perf_counter()
        try:
            with connection.cursor() as cursor:
                cursor.execute("SELECT 1")
            seconds = time.perf_counter() - began
            found = [*queue(), *data()]
        except Error:
            yield GaugeMetricFamily("register_database_up", "1 if the database answers", 0)
            return
        yield GaugeMetricFamily("register_database_up", "1 if the database answers", 1)
        yield GaugeMetricFamily("register_database_seconds", "Time to answer the smallest question [s]", seconds)
        yield from found


def queue() -> Iterator[Any]:
    """Work in the background."""
    counted = dict(Work.everything.order_by().values_list("state").annotate(Count("pk")))
    work = GaugeMetricFamily("register_work", "Pieces of work in the background", labels=["state"])
    for state in State:
        work.add_metric([state.value], counted.get(state.value, 0))
    yield work
    oldest = Work.everything.filter(state=State.WAITING).aggregate(at=Min("asked_at"))["at"]
    waited = max(0.0, (timezone.now() - oldest).total_seconds()) if oldest else 0.0
    yield GaugeMetricFamily("register_work_oldest_seconds", "How long the oldest waiting work has waited [s]", waited)
    yield GaugeMetricFamily("register_workers", "Workers that live", board().workers())


def data() -> Iterator[Any]:
    """The database and the trail in it."""
    yield GaugeMetricFamily("register_database_bytes", "Size of the database", database_bytes())
    head = AuditHead.objects.filter(pk=1).first()
    yield GaugeMetricFamily("register_trail_entries", "Entries of the audit trail", head.number if head else 0)


def database_bytes() -> int:
    """The size of the database, the log of SQLite included."""
    if connection.vendor == "postgresql":
        with connection.cursor() as cursor:
            cursor.execute("SELECT pg_database_size(current_database())")
            return int(cursor.fetchone()[0])
    name = str(connection.settings_dict["NAME"])
    return sum(os.path.getsize(path) for path in (name, f"{name}-wal") if os.path.exists(path))
