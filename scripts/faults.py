"""Break a shop on purpose, again and again, and look whether anything was lost or left half done.

    make faults                          100 rounds of kills on each database, the rest 20
    .venv/bin/python scripts/faults.py --kills 10 --others 3 --only sqlite

A shop of its own with the demonstration's data is made, broken, and thrown away. Last figures: docs/measured.md.
"""

import argparse
import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

from scripts.drill import postgres
from scripts.drill.shop import Shop

ROOM_MB, ROUND_MB = 1024, 60
"""So much room for the shop itself, and for what a round leaves on file: the batch of all sheets (13 MB), the lists
with their versions and differences, the trail, the database's own log. A hundred rounds took more than 4 GB."""


def say(text: str) -> None:
    print(text, flush=True)


def room(*rounds: int) -> int:
    """The size of the disk that the shop lies on [MB]. It lies in memory, which holds only what is written."""
    return ROOM_MB + ROUND_MB * sum(rounds)


def on_sqlite(kills: int, others: int, seed: int) -> int:
    """All that can befall a shop on SQLite. Returns the number of problems."""
    shop = Shop(Path(tempfile.mkdtemp(prefix="drill-shop-")))
    from scripts.drill import faults

    disk = faults.SmallDisk(shop.folder, room(kills, others)) if os.getuid() == 0 else None
    try:
        acts = stand_up(shop)
        bad = report("SQLite, kill -9", faults.kills(shop, acts, kills, seed, say))
        if disk is None:
            say("Disk full: left out, it needs root to make a small file system.")
        else:
            bad += report("SQLite, disk full", faults.full_disk(disk, acts, others, seed))
        return bad
    finally:
        shop.kill_web()
        shop.kill_workers()
        if disk is not None:
            disk.free()
        shop.close()


def on_postgres(kills: int, others: int, seed: int) -> int:
    """All that can befall a shop on PostgreSQL. Returns the number of problems."""
    from scripts.drill import faults

    disks: list[faults.SmallDisk] = []
    as_root, room_mb = os.getuid() == 0, room(kills, 2 * others)
    server = postgres.Server((lambda folder: disks.append(faults.SmallDisk(folder, room_mb))) if as_root else None)
    shop = Shop(Path(tempfile.mkdtemp(prefix="drill-shop-")), server.url)
    try:
        acts = stand_up(shop)
        bad = report("PostgreSQL, kill -9", faults.kills(shop, acts, kills, seed, say))
        bad += report("PostgreSQL, server cut off", faults.cut_database(shop, server, acts, others, seed))
        if not disks:
            say("PostgreSQL, disk full: left out, it needs root to make a small file system.")
        for disk in disks:
            bad += report("PostgreSQL, disk full", faults.full_disk(disk, acts, others, seed, server))
        return bad
    finally:
        shop.close()
        server.close()
        for disk in disks:
            disk.free()


def stand_up(shop: Shop):  # type: ignore[no-untyped-def]
    """A shop with data, web and worker running, and somebody signed in."""
    from scripts.drill.acts import Acts

    shop.manage("setup", "--demo", "--one-plant")
    shop.use_here()
    shop.start_web()
    shop.start_worker()
    acts = Acts(shop)
    acts.sign_in()
    return acts


def report(what: str, found) -> int:  # type: ignore[no-untyped-def]
    """Print the figures of a series, and what went wrong."""
    kinds = "".join(f", {number} {kind}" for kind, number in found.faults.most_common())
    say(
        f"{what}: {found.rounds} rounds, {found.answered} requests answered "
        f"({found.faults.total()} by a fault{kinds}), "
        f"{found.unanswered} cut off, "
        f"{found.taken_over} pieces of work taken over, slowest recovery {found.slowest:.1f} s, "
        f"{len(found.problems)} problems"
    )
    for problem in found.problems:
        say(f"  {problem}")
    return len(found.problems)


def main() -> int:
    """0 where nothing was lost or half done, 1 otherwise."""
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("--kills", type=int, default=100, help="rounds of kill -9 (100)")
    asked.add_argument("--others", type=int, default=20, help="rounds of the other faults (20)")
    asked.add_argument("--seed", type=int, default=1, help="start of the random moments (1)")
    asked.add_argument("--only", choices=("sqlite", "postgres"), help="one database only")
    given = asked.parse_args()
    began = time.monotonic()
    if given.only is None:
        # Django settles on its database once, so each gets a process of its own.
        same = ["--kills", str(given.kills), "--others", str(given.others), "--seed", str(given.seed)]
        ends = [subprocess.call([sys.executable, __file__, "--only", one, *same]) for one in ("sqlite", "postgres")]
        return int(any(ends))
    if given.only == "postgres" and postgres.programs() is None:
        say("PostgreSQL is not installed: left out. Debian: apt-get install postgresql")
        return 0
    bad = (on_sqlite if given.only == "sqlite" else on_postgres)(given.kills, given.others, given.seed)
    say(f"{given.only}: {time.monotonic() - began:.0f} s, load average {os.getloadavg()[0]:.1f}")
    return int(bad > 0)


if __name__ == "__main__":
    sys.exit(main())
