"""Work whose worker died is put into the queue again."""

import logging
from datetime import UTC, datetime, timedelta

from django.db import transaction
from django.utils import timezone
from django_tasks import TaskResultStatus
from django_tasks_db.models import DBTaskResult

from register.background.board import board, key_of
from register.background.models import UNFINISHED, State, Work
from register.background.run import enqueue

KEPT, LONGEST_PUT_OFF = timedelta(days=7), timedelta(minutes=1)
log = logging.getLogger(__name__)


def sweep() -> int:
    """Put abandoned work into the queue again, and return how much. Safe to call at any time, by several at once."""
    unfinished = list(Work.everything.filter(state__in=UNFINISHED).values_list("pk", "task_id"))
    if not unfinished:
        return 0
    hurry()
    tasks = DBTaskResult.objects.in_bulk([task_id for _, task_id in unfinished])
    # Asked after the rows are read: whoever claimed one of them lived before that.
    living = board().alive()
    abandoned = [(pk, task_id) for pk, task_id in unfinished if is_abandoned(tasks.get(task_id), living)]
    return sum(put_back(pk, task_id) for pk, task_id in abandoned)


def hurry() -> None:
    """Take up now what was put off by a clock that ran far ahead: no wait of ours is longer than that."""
    far, never = timezone.now() + LONGEST_PUT_OFF, datetime(9000, 1, 1, tzinfo=UTC)
    put_off = DBTaskResult.objects.filter(status=TaskResultStatus.READY, run_after__gt=far, run_after__lt=never)
    if put_off.exists():
        put_off.update(run_after=timezone.now())


def is_abandoned(task: DBTaskResult | None, living: frozenset[str]) -> bool:
    """True if nobody does it or will do it: the row of the queue is gone, has ended, or its claimant is dead."""
    if task is None or task.status in (TaskResultStatus.FAILED, TaskResultStatus.SUCCESSFUL):
        return True
    return task.status == TaskResultStatus.RUNNING and key_of(task.worker_ids[-1]) not in living


def put_back(pk: int, task_id: object) -> int:
    """Queue one again, unless another sweep or its own end came first."""
    with transaction.atomic():
        # In the order in which a worker locks them: first the row of the queue, then that of the work.
        list(DBTaskResult.objects.select_for_update().filter(pk=task_id))
        work = Work.everything.select_for_update().filter(pk=pk, task_id=task_id, state__in=UNFINISHED).first()
        if work is None:
            return 0
        log.warning("Work %s was abandoned by %s and waits again: %s", work.pk, work.claim or "nobody", work)
        DBTaskResult.objects.filter(pk=task_id).update(status=TaskResultStatus.FAILED, finished_at=timezone.now())
        enqueue(work)
        return 1


def drop_unfinished() -> None:
    """After a restore: what waited on the day of the backup was done, or given up, since then. Nobody wants it now."""
    DBTaskResult.objects.filter(status__in=(TaskResultStatus.READY, TaskResultStatus.RUNNING)).delete()
    Work.objects.filter(state__in=UNFINISHED).update(
        state=State.CANCELLED,
        message="Given up: the register was restored from a backup. Start it anew if it is still wanted.",
        ended_at=timezone.now(),
    )


def prune() -> None:
    """Clear away old rows of the queue. What was done stays on file as Work."""
    needed = Work.everything.filter(state__in=UNFINISHED, task_id__isnull=False).values("task_id")
    DBTaskResult.objects.filter(enqueued_at__lt=timezone.now() - KEPT).exclude(pk__in=needed).delete()
