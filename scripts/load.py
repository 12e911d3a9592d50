"""Fifty people at once: sign in, open the pages of their role, save now and then. Errors, waiting times, throughput.

    make load                               5 minutes on SQLite, then on PostgreSQL
    .venv/bin/python scripts/load.py --only sqlite --seconds 30 --people 50 --pause 3

Each person waits a moment between two pages (on average --pause seconds). With --pause 0 nobody does: that measures
what the machine can answer at most. The people are threads of this process and share the machine with the register.
Last figures: docs/measured.md.
"""

import argparse
import http.client
import os
import random
import statistics
import subprocess
import sys
import tempfile
import threading
import time
from collections import defaultdict
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

from scripts.drill import people, postgres
from scripts.drill.client import Client, Reply
from scripts.drill.shop import Shop

JOINTS = 2000
"""Joints on file beside those of the demonstration."""


class Figures:
    """How long each answer took [s], and what went wrong."""

    def __init__(self) -> None:
        self.taken: dict[str, list[float]] = defaultdict(list)
        self.wrong: list[str] = []
        self._lock = threading.Lock()

    def timed(self, name: str, ask: Callable[..., Reply], *arguments: object) -> Reply:
        """Ask, and note how long it took; an answer of 4xx or 5xx is an error."""
        began = time.monotonic()
        try:
            reply = ask(*arguments)
        except (OSError, http.client.HTTPException) as fault:
            reply = Reply(0, "", repr(fault).encode())
        seconds = time.monotonic() - began
        with self._lock:
            self.taken[name].append(seconds)
            if not 200 <= reply.status < 400:
                self.wrong.append(f"{name} {arguments[0] if arguments else ''}: {reply.status} {reply.body[-200:]!r}")
        return reply


class Person(threading.Thread):
    """One person: signs in, then opens one page after another until told to stop."""

    def __init__(self, name: str, shop: Shop, found: dict[str, list[str]], figures: Figures, pause: float) -> None:
        super().__init__(name=name, daemon=True)
        self.client, self.found, self.figures, self.pause = Client(shop.port), found, figures, pause
        self.chance = random.Random(name)
        self.over = threading.Event()

    def run(self) -> None:
        from register.demo import PASSWORD

        word = {"username": self.name, "password": PASSWORD}
        self.figures.timed("sign-in page", self.client.get, "/accounts/login/")
        self.figures.timed("signing in", self.client.post, "/accounts/login/", word)
        for name, url in people.round_of(self.name.rstrip("0123456789"), self.found, self.chance):
            if self.over.wait(self.chance.uniform(0.2, 1.8) * self.pause):
                return
            page = self.figures.timed(name, self.client.get, url)
            if name == "joint_edit" and page.status == 200:
                people.write_a_remark(self.client, url, page, f"looked at by {self.name}", self.figures.timed)


def run(shop: Shop, given: argparse.Namespace) -> int:
    """Load one shop, print the figures, and return the number of errors."""
    names = people.make_people()[: given.people]
    fill()
    shop.start_web(given.processes, given.threads)
    shop.start_worker()
    figures, found = Figures(), people.addresses()
    crowd = [Person(name, shop, found, figures, given.pause) for name in names]
    for person in crowd:  # they arrive within half a minute, as at the start of a shift
        person.start()
        time.sleep(min(30.0, given.seconds / 4) / len(crowd))
    began, cpu = time.monotonic(), shop.web_cpu()
    arrived = {name: len(taken) for name, taken in figures.taken.items()}
    time.sleep(given.seconds)
    seconds, cpu = time.monotonic() - began, shop.web_cpu() - cpu
    counted = sum(map(len, figures.taken.values())) - sum(arrived.values())
    for person in crowd:
        person.over.set()
    for person in crowd:
        person.join(timeout=60)
    report(given, figures, counted / seconds, cpu / max(1, counted))
    return len(figures.wrong)


def fill() -> None:
    """More joints than the demonstration has."""
    from django.contrib.auth.models import User

    from joints.imports.batch import confirm, take_in
    from joints.models import Job
    from scripts.drill.acts import list_of

    marta = User.objects.get(username="marta")
    for number in range(4):
        job = Job.objects.create(number=f"LOAD {number}", title="Hall")
        confirm(take_in(job, "list.csv", list_of(f"L{number}", JOINTS // 4), {}, marta).pk, marta)


def report(given: argparse.Namespace, figures: Figures, rate: float, cpu: float) -> None:
    """The figures as a table, the slowest pages first."""
    every = sorted(one for taken in figures.taken.values() for one in taken)
    print(
        f"{given.only}: {given.people} people, pause {given.pause:g} s, {given.seconds:g} s, gunicorn "
        f"{given.processes} x {given.threads}: {len(every)} answers, {len(figures.wrong)} errors, {rate:.1f} a second, "
        f"median {statistics.median(every) * 1000:.0f} ms, p95 {share(every, 95) * 1000:.0f} ms, slowest "
        f"{every[-1]:.2f} s, processor time {cpu * 1000:.0f} ms an answer, load average {os.getloadavg()[0]:.1f}",
        flush=True,
    )
    print(f"  {'page':<16} {'answers':>8} {'median ms':>10} {'p95 ms':>8}")
    rows = [(name, sorted(taken)) for name, taken in figures.taken.items()]
    for name, taken in sorted(rows, key=lambda row: -share(row[1], 95)):
        print(f"  {name:<16} {len(taken):>8} {statistics.median(taken) * 1000:>10.0f} {share(taken, 95) * 1000:>8.0f}")
    for text in figures.wrong[:20]:
        print(f"  {text}")


def share(taken: list[float], percent: int) -> float:
    """The value that so many in 100 stay at or below, by nearest rank. The list is sorted."""
    return taken[max(0, -(-len(taken) * percent // 100) - 1)]


def main() -> int:
    """0 where nothing went wrong, 1 otherwise."""
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("--only", choices=("sqlite", "postgres"), help="one database only")
    asked.add_argument("--seconds", type=float, default=300, help="how long (300)")
    asked.add_argument("--people", type=int, default=50, help="how many, at most 50 (50)")
    asked.add_argument("--pause", type=float, default=3, help="mean seconds between two pages of one person (3)")
    asked.add_argument("--processes", type=int, default=2, help="processes of gunicorn (2)")
    asked.add_argument("--threads", type=int, default=4, help="threads of each (4)")
    given = asked.parse_args()
    if given.only is None:
        # Django settles on its database once, so each gets a process of its own.
        ends = [subprocess.call([*sys.orig_argv, "--only", one]) for one in ("sqlite", "postgres")]
        return int(any(ends))
    if given.only == "postgres" and postgres.programs() is None:
        print("PostgreSQL is not installed: left out. Debian: apt-get install postgresql")
        return 0
    server = postgres.Server() if given.only == "postgres" else None
    shop = Shop(Path(tempfile.mkdtemp(prefix="load-shop-")), server.url if server else "")
    try:
        shop.manage("setup", "--demo", "--one-plant")
        shop.use_here()
        return int(run(shop, given) > 0)
    finally:
        shop.close()
        if server:
            server.close()


if __name__ == "__main__":
    sys.exit(main())
