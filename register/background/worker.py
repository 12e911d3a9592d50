"""The worker: takes one piece of work after another, and lives through a restart of the database."""

import logging
import signal
import time
from threading import Event, Thread
from types import FrameType

from django.db import InterfaceError, OperationalError, connections
from django_tasks_db.management.commands.db_worker import Worker

from register.background.board import WORKER, Hold, board
from register.background.progress import stopping
from register.background.run import holds
from register.background.sweep import prune, sweep

SWEEP_EVERY, LONGEST_WAIT = 3.0, 10.0
"""Seconds between two looks for abandoned work; and at most between two tries to reach the database."""
log = logging.getLogger(__name__)


class QueueWorker(Worker):
    """The library's worker; asked to end, what it has in hand goes back into the queue at its next word of progress."""

    def __init__(self, name: str, interval: float, batch: bool) -> None:
        super().__init__(
            queue_names=["default"],
            interval=interval,
            batch=batch,
            backend_name="default",
            startup_delay=False,
            max_tasks=None,
            worker_id=name,
            excluded_queue_names=[],
        )

    def shutdown(self, signum: int, frame: FrameType | None) -> None:
        stopping.set()
        super().shutdown(signum, frame)

    def configure_signals(self) -> None:
        signal.signal(signal.SIGINT, self.shutdown)
        signal.signal(signal.SIGTERM, self.shutdown)


def work_on(interval: float = 1.0, batch: bool = False) -> None:
    """Work until told to stop; with `batch`, until the queue is empty."""
    wait = 1.0
    while not stopping.is_set():
        try:
            work_once(interval, batch)
            return
        except (OperationalError, InterfaceError) as fault:
            log.warning("The database does not answer (%s); again in %.0f s.", str(fault).strip(), wait)
            connections.close_all()
            stopping.wait(wait)
            wait = min(2 * wait, LONGEST_WAIT)


def work_once(interval: float, batch: bool, signals: bool = True) -> None:
    """One life of a worker under one name. Raises what the database raises when it goes away."""
    hold = board().hold(WORKER)
    holds[hold.name] = hold
    over = Event()
    prune()
    if batch:
        sweep()
    watch = Thread(target=keep_sweeping, args=(hold, over), name="sweep", daemon=True)
    watch.start()
    try:
        worker = QueueWorker(hold.name, interval, batch)
        if signals:
            worker.configure_signals()
        worker.run()
    finally:
        over.set()
        # The claim is dropped before anything else: whatever was in hand may be taken over.
        hold.release()
        holds.pop(hold.name, None)
        watch.join(timeout=SWEEP_EVERY)


def keep_sweeping(hold: Hold, over: Event) -> None:
    """Look for abandoned work until it is over."""
    while not over.is_set() and hold.alive():
        try:
            started = time.monotonic()
            sweep()
            log.debug("Swept in %.0f ms", 1000 * (time.monotonic() - started))
        except (OperationalError, InterfaceError) as fault:
            log.warning("Could not look for abandoned work: %s", str(fault).strip())
        connections.close_all()
        over.wait(SWEEP_EVERY)
