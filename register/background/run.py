"""Doing a piece of work: taken up, done or given back, and its end written."""

import logging
from datetime import timedelta

from django.core.exceptions import PermissionDenied
from django.db import InterfaceError, OperationalError, transaction
from django.utils import timezone
from django_tasks import TaskContext, TaskResultStatus, task
from django_tasks_db.models import DBTaskResult

from register.background.board import REQUEST, Hold, board
from register.background.kinds import Kind, Refused, kind_of
from register.background.models import UNFINISHED, State, Work
from register.background.progress import Cancelled, GivenBack, Progress, finish
from register.held.grades import read_once
from register.plants.reach import Reach, within
from register.plants.standing import standing
from register.roles import check

MOST_TRIES = 5
"""Interrupted so often, a piece of work is given up: it may be what kills the workers."""
GIVEN_UP = f"Interrupted {MOST_TRIES} times and given up. Whoever looks after the register finds why in its log."
holds: dict[str, Hold] = {}
"""The holders of this process by name."""
log = logging.getLogger(__name__)


@task(takes_context=True)
def perform(context: TaskContext, work_id: int) -> None:
    """What the queue calls: the piece of work with this key, claimed by the worker named last."""
    execute(work_id, holds[context.task_result.worker_ids[-1]])


def enqueue(work: Work) -> DBTaskResult:
    """Put a piece of work into the queue by a new row; the one before counts no more. Call it in a transaction."""
    wait = timedelta(seconds=5 * (work.tries - 1)) if work.tries > 1 else None
    later = perform.using(run_after=timezone.now() + wait) if wait else perform
    work.task_id, work.state, work.claim = later.enqueue(work.pk).id, State.WAITING, ""
    work.save(update_fields=["task_id", "state", "claim"])
    return DBTaskResult.objects.get(pk=work.task_id)


def run_here(work: Work) -> None:
    """Do it in this process at once; if it is killed meanwhile, a worker takes the work over."""
    hold = board().hold(REQUEST)
    try:
        with transaction.atomic():
            # Claimed in the transaction that puts it into the queue, so that no worker sees it ready.
            row = enqueue(work)
            row.claim(hold.name)
        execute(work.pk, hold)
        DBTaskResult.objects.filter(pk=row.pk, status=TaskResultStatus.RUNNING).delete()
    finally:
        hold.release()
    work.refresh_from_db()


def execute(work_id: int, hold: Hold) -> None:
    """Do the piece of work and write how it ended. Faults of the database pass: the work is taken up again."""
    work = take_up(work_id, hold)
    if work is None:
        return
    try:
        kind = kind_of(work.function)
    except Refused as refusal:
        finish(work, State.FAILED, str(refusal))
        return
    with read_once():
        ended = attempt(work, kind, hold)
    if ended:
        finish(work, *ended)
    if not Work.objects.filter(pk=work.pk, state__in=UNFINISHED).exists():
        # What was given back keeps what was asked of it.
        board().forget(work.pk)


def attempt(work: Work, kind: Kind, hold: Hold) -> tuple[State, str] | None:
    """Call the function. The state and the words to write at its end, or None where that has been done."""
    progress = Progress(work, board(), hold)
    try:
        if work.asked_by is None or not work.asked_by.is_active:
            return State.FAILED, f"The account {work.asked_by_name} is closed. Nothing was done."
        with within(reach_of(work)):
            check(work.asked_by, kind.capability)
            progress.check()
            kind(progress, **work.arguments)
        if not Work.everything.filter(pk=work.pk, state=State.DONE).exists():
            with progress.whole():
                pass
    except Cancelled:
        return State.CANCELLED, "Given up as asked. What was not finished is not on file."
    except GivenBack:
        give_back(work)
    except kind.refusals as refusal:
        return State.FAILED, str(refusal)
    except PermissionDenied:
        return State.FAILED, f"{work.asked_by_name} may not do this any more. Nothing was done."
    except (OperationalError, InterfaceError):
        raise
    except Exception:
        log.exception("Work %s failed: %s", work.pk, work)
        return State.FAILED, f"A fault of the register stopped this; the log names it under work {work.pk}."
    return None


def reach_of(work: Work) -> Reach:
    """What the work may see: what whoever asked for it sees at its plant now. Raises PermissionDenied where nothing."""
    by = work.asked_by
    by.plant_chosen = work.plant_id  # type: ignore[union-attr]
    found = standing(by).reach
    if work.plant_id is not None and not found.holds(work.plant_id):
        raise PermissionDenied
    return found


def take_up(work_id: int, hold: Hold) -> Work | None:
    """Mark the work as under way by this holder; None where there is nothing to do any more."""
    with transaction.atomic():
        work = Work.everything.select_for_update().filter(pk=work_id).first()
        if work is None or work.finished:
            return None
        work.state, work.claim, work.tries = State.RUNNING, hold.name, work.tries + 1
        work.started_at = work.started_at or timezone.now()
        work.done, work.total, work.message = 0, 0, ""
        work.save(update_fields=["state", "claim", "tries", "started_at", "done", "total", "message"])
        if work.tries > MOST_TRIES:
            finish(work, State.FAILED, GIVEN_UP)
            return None
    return Work.everything.select_related("asked_by").get(pk=work.pk)


def give_back(work: Work) -> None:
    """Into the queue again, unless somebody took it over. It counts as no try: nothing went wrong."""
    with transaction.atomic():
        # In the order in which others lock them: the row of the queue, then that of the work.
        list(DBTaskResult.objects.select_for_update().filter(pk=work.task_id))
        found = Work.everything.select_for_update().get(pk=work.pk)
        if found.state == State.RUNNING and found.claim == work.claim:
            found.tries = max(0, found.tries - 1)
            found.save(update_fields=["tries"])
            enqueue(found)
