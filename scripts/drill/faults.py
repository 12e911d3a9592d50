"""The faults: processes killed, the disk full, the database cut off. Each returns what went wrong, and figures."""

import random
import shutil
import subprocess
import time
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

from scripts.drill.acts import Acts, Round, problems
from scripts.drill.postgres import Server
from scripts.drill.shop import PATIENCE, Shop

AFTER = {"web": 1.2, "worker": 2.5, "both": 1.8}
"""The latest moment after the first request at which something is killed [s]: while most of it is under way."""

LEFT_KB = (64, 500, 2000, 20_000)
"""What is left to PostgreSQL when its disk runs full; its log grows by files of 16 MB."""


@dataclass
class Found:
    """What a series of rounds showed."""

    rounds: int = 0
    answered: int = 0
    faults: Counter[str] = field(default_factory=Counter)
    """What was answered by a fault, with its status: a busy database (503) is one."""
    unanswered: int = 0
    taken_over: int = 0
    slowest: float = 0.0
    problems: list[str] = field(default_factory=list)

    def count(self, this: Round, seconds: float) -> None:
        """Add a round that is over."""
        self.rounds += 1
        self.answered += sum(one.reply is not None for one in this.asked)
        for one in this.asked:
            if one.reply is not None and one.reply.status >= 500:
                self.faults[f"{one.what} {one.reply.status}"] += 1
        self.unanswered += sum(one.reply is None for one in this.asked)
        self.slowest = max(self.slowest, seconds)
        self.problems += problems(this)


def kills(shop: Shop, acts: Acts, rounds: int, seed: int, say: Callable[[str], None]) -> Found:
    """Kill web, worker or both in the middle of imports, an approval and a batch of sheets, again and again."""
    chance, found = random.Random(seed), Found()
    for number in range(rounds):
        target = ("web", "worker", "both")[number % 3]
        this = acts.ready(number, sheets=True)
        threads = acts.act(this)
        time.sleep(chance.uniform(0.02, AFTER[target]))
        if target != "worker":
            shop.kill_web()
        if target != "web":
            shop.kill_workers()
        for thread in threads:
            thread.join()
        back = time.monotonic()
        if target != "web":
            shop.start_worker()
        if target != "worker":
            shop.start_web()
        wait_until_done()
        known = len(found.problems)
        found.count(this, time.monotonic() - back)
        for text in found.problems[known:]:
            say(f"  {text}")
        if (number + 1) % 10 == 0:
            say(f"  {number + 1} of {rounds} rounds, {len(found.problems)} problems")
    finish(found)
    return found


def wait_until_done() -> None:
    """Wait until no work is left. Raises RuntimeError where it takes too long."""
    from register.background.models import UNFINISHED, Work

    until = time.monotonic() + 4 * PATIENCE  # a first batch renders the sheets of all procedures
    while Work.objects.filter(state__in=UNFINISHED).exists():
        if time.monotonic() > until:
            raise RuntimeError(f"Never done: {list(Work.objects.filter(state__in=UNFINISHED).values())}")
        time.sleep(0.1)


def finish(found: Found) -> None:
    """After all rounds: how often work was taken over, and whether the trail is whole and on file is what it says."""
    from register.background.models import Work
    from register.trail.verify import verify

    found.taken_over = Work.objects.filter(tries__gt=1).count()
    trail = verify()
    if not trail.whole:
        found.problems.append(f"the trail: {trail.problem or trail.differs}")


def cut_database(shop: Shop, server: Server, acts: Acts, rounds: int, seed: int) -> Found:
    """Stop PostgreSQL as by a power cut in the middle, and start it again. Web and worker run on."""
    from django.db import connections

    chance, found = random.Random(seed), Found()
    for number in range(rounds):
        this = acts.ready(1000 + number)
        threads = acts.act(this)
        time.sleep(chance.uniform(0.02, 2.0))
        server.cut()
        time.sleep(chance.uniform(0.0, 1.5))
        back = time.monotonic()
        server.start()
        for thread in threads:
            thread.join()
        connections.close_all()
        wait_until_done()
        found.count(this, time.monotonic() - back)
        if shop.web is None or shop.web.poll() is not None or any(one.poll() is not None for one in shop.workers):
            found.problems.append(f"round {number}: a process ended when the database did")
    finish(found)
    return found


class SmallDisk:
    """A file system in memory with a size of its own, on a folder. Needs root."""

    def __init__(self, folder: Path, mb: int) -> None:
        self.folder = folder
        self._call("mount", "-t", "tmpfs", "-o", f"size={mb}m", "tmpfs", str(self.folder))

    def resize(self, kb: int) -> None:
        """Give it another size."""
        self._call("mount", "-o", f"remount,size={kb}k", str(self.folder))

    def used_kb(self) -> int:
        """How much of it is used."""
        return shutil.disk_usage(self.folder).used // 1024

    def free(self) -> None:
        """Take it away, and the folder that it lay on, which nothing is in any more."""
        self._call("umount", "-l", str(self.folder))
        self.folder.rmdir()

    def _call(self, *command: str) -> None:
        subprocess.run(command, check=True, capture_output=True)


def full_disk(disk: SmallDisk, acts: Acts, rounds: int, seed: int, server: Server | None = None) -> Found:
    """Let the disk run full in the middle of imports, an approval and background work; then free space.

    `server`: the database whose disk it is; it ends by itself where it cannot write its log, and is started again.
    """
    from django.db import connections

    chance, found = random.Random(seed), Found()
    for number in range(rounds):
        this = acts.ready(2000 + number)
        # Some rounds run full at the first page, some in the middle of the large list.
        disk.resize(disk.used_kb() + chance.choice((8, 64, 300, 900) if server is None else LEFT_KB))
        threads = acts.act(this)
        for thread in threads:
            thread.join()
        time.sleep(2.0)
        disk.resize(disk.used_kb() + 200_000)
        back = time.monotonic()
        if server is not None:
            server.start_again()
            connections.close_all()
        wait_until_done()
        found.count(this, time.monotonic() - back)
    finish(found)
    return found
