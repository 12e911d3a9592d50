"""A database that a benchmark may fill and throw away, and a stopwatch."""

import os
import statistics
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any


@contextmanager
def scratch_database() -> Iterator[None]:
    """Django set up on an empty, migrated database of its own, deleted afterwards; SQLite as the shop runs it.

    With BENCH_DATABASE_URL the benchmark runs on that server instead, in a test database that is made and dropped.
    Import models inside the block, never above it.
    """
    with tempfile.TemporaryDirectory(prefix="register-bench-") as folder:
        os.environ["VAR_DIR"] = folder
        os.mkdir(os.path.join(folder, "static"))  # where whitenoise looks
        os.environ["DATABASE_URL"] = os.environ.get("BENCH_DATABASE_URL", "")
        os.environ.setdefault("DJANGO_SETTINGS_MODULE", "register.settings")
        import django
        from django.db import connection

        django.setup()
        if connection.vendor == "sqlite":
            # In memory is what Django would take; a file is what the shop has.
            connection.settings_dict["TEST"]["NAME"] = os.path.join(folder, "bench.sqlite3")
        kept = connection.settings_dict["NAME"]
        connection.creation.create_test_db(verbosity=0, autoclobber=True, serialize=False)
        try:
            yield
        finally:
            connection.creation.destroy_test_db(kept, verbosity=0)


def times_ms(act: Callable[[], Any], repeats: int = 50, warm_up: int = 3) -> list[float]:
    """How long each of the repeats took [ms], after some that do not count."""
    for _ in range(warm_up):
        act()
    taken = []
    for _ in range(repeats):
        start = time.perf_counter()
        act()
        taken.append((time.perf_counter() - start) * 1000)
    return taken


def p50(taken: list[float]) -> float:
    return statistics.median(taken)


def p95(taken: list[float]) -> float:
    """The value that 95 in 100 stay at or below, by nearest rank."""
    return sorted(taken)[max(0, -(-len(taken) * 95 // 100) - 1)]
