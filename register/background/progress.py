"""What a function that works in the background is handed: it says how far it is, and learns that it is to stop."""

import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from threading import Event
from typing import Any

from django.db import transaction
from django.utils import timezone
from django_tasks_db.models import DBTaskResult

from register.background.board import Board, Hold, Said
from register.background.models import State, Work

EVERY = 0.5
"""Seconds between two looks at the board: saying how far it is must not slow the work."""
stopping = Event()
"""Set when this process is asked to end: what it has in hand is given back to the queue."""


class Stopped(Exception):
    """Raised inside the function; let it pass, so that what it has open is rolled back."""


class Cancelled(Stopped):
    """Somebody asked that the work be given up."""


class GivenBack(Stopped):
    """This worker ends or lost its claim: another one does the work from its beginning."""


class Progress:
    """Call it often: `progress(done, total, "row 300")`. Raises Stopped where the work is to end.

    `by` is the user who asked. Wrap what must happen wholly or not at all in `with progress.whole():`, and say
    the outcome inside it: then the outcome is on file if and only if the effect is.
    """

    def __init__(self, work: Work, board: Board, hold: Hold, clock: Callable[[], float] = time.monotonic) -> None:
        self.work, self.by = work, work.asked_by
        self._board, self._hold, self._clock = board, hold, clock
        self._last = float("-inf")
        self._outcome: dict[str, Any] = {"message": "Done."}

    def __call__(self, done: int = 0, total: int | None = None, message: str = "") -> None:
        now = self._clock()
        if now - self._last < EVERY and done != total:
            return
        self._last = now
        self.check()
        self._board.tell(self.work.pk, Said(done, total or 0, message))

    def check(self) -> None:
        """Raise Stopped where the work is to end."""
        if stopping.is_set() or not self._hold.alive():
            raise GivenBack
        if self._board.cancel_asked(self.work.pk):
            raise Cancelled

    def outcome(self, message: str, url: str = "", label: str = "", result: Any = None) -> None:
        """How it ended, for whoever asked: a sentence, where the result stands, and JSON values kept for that page."""
        self._outcome = {"message": message, "result_url": url, "result_label": label, "result": result}

    @contextmanager
    def whole(self) -> Iterator[None]:
        """A transaction in which the claim is surely ours, and at whose end the work is done."""
        with transaction.atomic():
            self.keep_claim()
            yield
            self.end()

    def keep_claim(self) -> None:
        """Make sure that nobody takes the work over before this transaction ends. Raises GivenBack where they did."""
        # The row of the queue is locked, not that of the work: the board writes how far it is to the latter.
        task = DBTaskResult.objects.select_for_update().filter(pk=self.work.task_id).first()
        if task is None or task.worker_ids[-1:] != [self.work.claim]:
            raise GivenBack

    def end(self) -> None:
        """Write that the work is done, with the outcome said."""
        finish(self.work, State.DONE, **self._outcome)


def finish(work: Work, state: State, message: str, **fields: Any) -> None:
    """Write how a piece of work ended, unless another worker has it by now."""
    fields |= {"state": state, "message": message, "ended_at": timezone.now()}
    for name, value in fields.items():
        setattr(work, name, value)
    Work.everything.filter(pk=work.pk, claim=work.claim, state=State.RUNNING).update(**fields)
