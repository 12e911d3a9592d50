"""A piece of work: queued or done at once, whole or not at all, given up, taken over, refused."""

from collections.abc import Callable, Iterator
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.test import Client
from django_tasks import TaskResultStatus
from django_tasks_db.models import DBTaskResult

from register.background import run
from register.background.board import REQUEST, WORKER, Hold, Said, board
from register.background.models import State, Work
from register.background.progress import GivenBack, Progress, stopping
from register.background.run import MOST_TRIES, execute
from register.background.sweep import drop_unfinished, sweep
from register.background.tables import WorkTable
from register.background.views import give_up
from tests.register.background import kinds

KINDS = "tests.register.background.kinds"


@pytest.fixture
def hold() -> Iterator[Hold]:
    made = board().hold(WORKER)
    yield made
    made.release()


def counted() -> int:
    return User.objects.filter(username__startswith="counted").count()


def take(hold: Hold) -> Work:
    """What a worker does with the next piece of work."""
    row = DBTaskResult.objects.ready().first()
    assert row is not None
    row.claim(hold.name)
    run.holds[hold.name] = hold
    row.task.call(run.TaskContext(task_result=row.task_result), *row.args_kwargs["args"])
    row.set_successful(None)
    return Work.objects.get(pk=row.args_kwargs["args"][0])


def test_small_work_is_done_in_the_request(qa: User) -> None:
    work = kinds.count.start(qa, "sheep", small=True, to=3)
    assert (work.state, work.message, work.result) == (State.DONE, "Counted to 3.", {"to": 3})
    assert (work.result_url, work.result_label) == ("/", "The start")
    assert counted() == 3 and work.ended_at is not None
    assert not DBTaskResult.objects.exists() and not board().workers()


def test_large_work_waits_for_a_worker(qa: User, hold: Hold) -> None:
    work = kinds.count.start(qa, "sheep", to=3)
    assert work.state == State.WAITING and counted() == 0
    assert take(hold).state == State.DONE and counted() == 3
    assert str(work) == "Count: sheep"


def test_the_same_work_is_not_queued_twice(qa: User, coordinator: User, hold: Hold) -> None:
    first = kinds.count.start(qa, "sheep", to=3)
    assert kinds.count.start(coordinator, "sheep again", to=3) == first
    assert kinds.count.start(qa, "goats", to=4) != first
    take(hold)
    assert kinds.say_nothing.start(qa, "sheep") != first


def test_what_says_nothing_is_done_all_the_same(qa: User) -> None:
    assert kinds.say_nothing.start(qa, "x", small=True).message == "Done."


@pytest.mark.parametrize(
    ("kind", "words"), [(kinds.refuse, "There is nothing to count."), (kinds.break_down, "A fault of the register")]
)
def test_a_refusal_leaves_nothing(kind: Any, words: str, qa: User, caplog: Any) -> None:
    work = kind.start(qa, "x", small=True)
    assert work.state == State.FAILED and words in work.message
    assert not User.objects.filter(username="half done").exists()
    assert ("ZeroDivisionError" in caplog.text) == (kind is kinds.break_down)


def test_whoever_may_not_is_refused_when_it_is_done(qa: User, coordinator: User, hold: Hold) -> None:
    assert "may not do this" in kinds.coordinators_only.start(qa, "x", small=True).message
    kinds.count.start(coordinator, "sheep", to=1)
    coordinator.is_active = False
    coordinator.save()
    assert "account coordinator is closed" in take(hold).message and counted() == 0


def test_a_kind_that_is_gone_is_refused(qa: User, hold: Hold) -> None:
    work = kinds.count.start(qa, "sheep", to=1)
    Work.objects.filter(pk=work.pk).update(function=f"{KINDS}.gone")
    assert "does not know this kind of work" in take(hold).message


def test_work_that_waits_is_given_up_at_once(qa: User, hold: Hold) -> None:
    work = kinds.count.start(qa, "sheep", to=1)
    give_up(work, qa)
    work.refresh_from_db()
    assert (work.state, work.cancel_by) == (State.CANCELLED, "qa")
    take(hold)
    assert counted() == 0


def test_work_under_way_is_given_up_at_its_next_word(qa: User, hold: Hold, monkeypatch: Any) -> None:
    monkeypatch.setattr("register.background.progress.EVERY", 0)
    work = kinds.count.start(qa, "sheep", to=5)
    tell = type(board()).tell

    def ask_after_two(self: Any, number: int, said: Said) -> None:
        tell(self, number, said)
        if said.done == 2:
            self.ask_cancel(number, "marta")

    monkeypatch.setattr(type(board()), "tell", ask_after_two)
    assert take(hold).state == State.CANCELLED and counted() == 0
    assert board().cancel_asked(work.pk) == "" and board().told(work.pk) is None


def test_a_worker_that_ends_gives_its_work_back(qa: User, hold: Hold) -> None:
    work = kinds.count.start(qa, "sheep", to=2)
    stopping.set()
    try:
        assert take(hold).state == State.WAITING and counted() == 0
    finally:
        stopping.clear()
    assert take(hold).state == State.DONE and counted() == 2
    work.refresh_from_db()
    assert work.tries == 1


def test_abandoned_work_waits_again(qa: User, hold: Hold) -> None:
    work = kinds.count.start(qa, "sheep", to=2)
    dead = board().hold(WORKER)
    DBTaskResult.objects.get().claim(dead.name)
    assert sweep() == 0, "its worker lives"
    dead.release()
    assert sweep() == 1 and sweep() == 0
    assert sorted(DBTaskResult.objects.values_list("status", flat=True)) == ["FAILED", "READY"]
    assert take(hold) == work and counted() == 2


@pytest.mark.parametrize("broken", ["gone", "failed"])
def test_work_that_the_queue_lost_waits_again(broken: str, qa: User, hold: Hold) -> None:
    kinds.count.start(qa, "sheep", to=2)
    if broken == "gone":
        DBTaskResult.objects.all().delete()
    else:
        DBTaskResult.objects.get().set_failed(ValueError())
    assert sweep() == 1
    assert take(hold).state == State.DONE


def test_who_lost_the_claim_writes_nothing(qa: User, hold: Hold) -> None:
    """Another worker took the work over, although this one lives: its transaction ends without effect."""
    work = kinds.count.start(qa, "sheep", to=2)
    DBTaskResult.objects.get().claim("worker-elsewhere-00000000")
    work.claim, work.asked_by = hold.name, qa
    with pytest.raises(GivenBack):
        kinds.count(Progress(work, board(), hold), to=2)
    assert counted() == 0


def test_what_kills_its_workers_is_given_up(qa: User) -> None:
    work = kinds.count.start(qa, "sheep", to=2)
    for _ in range(MOST_TRIES):
        hold = board().hold(WORKER)
        DBTaskResult.objects.get(status=TaskResultStatus.READY).claim(hold.name)
        assert run.take_up(work.pk, hold) is not None
        hold.release()
        assert sweep() == 1
    last = board().hold(REQUEST)
    execute(work.pk, last)
    last.release()
    work.refresh_from_db()
    assert work.state == State.FAILED and "Interrupted 5 times" in work.message and counted() == 0


def test_after_a_restore_nothing_of_old_is_done(qa: User, hold: Hold) -> None:
    done = kinds.count.start(qa, "sheep", small=True, to=1)
    work = kinds.count.start(qa, "goats", to=2)
    drop_unfinished()
    work.refresh_from_db()
    done.refresh_from_db()
    assert (work.state, done.state) == (State.CANCELLED, State.DONE) and "restored from a backup" in work.message
    assert sweep() == 0 and not DBTaskResult.objects.ready().exists()


def test_a_second_try_waits_a_little(qa: User) -> None:
    work = kinds.count.start(qa, "sheep", to=2)
    Work.objects.filter(pk=work.pk).update(tries=3)
    DBTaskResult.objects.all().delete()
    sweep()
    assert DBTaskResult.objects.ready().count() == 0 and DBTaskResult.objects.count() == 1


def test_the_page_asks_for_itself_until_it_is_over(qa: User, client_of: Callable[[str], Client], hold: Hold) -> None:
    work = kinds.count.start(qa, "sheep", to=2)
    url = work.get_absolute_url()
    client = client_of("qa")
    page = client.get(url).content.decode()
    assert "Waiting to be taken up" in page and 'hx-trigger="every 1s"' in page and "Give it up" in page
    Work.objects.filter(pk=work.pk).update(state=State.RUNNING)
    board().tell(work.pk, Said(1200, 5000, "Writing joints"))
    state = client.get(f"{url}state/").content.decode()
    assert "Writing joints" in state and "1,200 of 5,000" in state and "every 1s" in state
    Work.objects.filter(pk=work.pk).update(state=State.WAITING)
    take(hold)
    over = client.get(f"{url}state/").content.decode()
    assert "Counted to 2." in over and "hx-trigger" not in over and "The start" in over


def test_without_a_worker_the_page_says_so(qa: User, client_of: Callable[[str], Client]) -> None:
    work = kinds.count.start(qa, "sheep", to=2)
    assert "no worker is running" in client_of("qa").get(work.get_absolute_url()).content.decode()
    assert "No worker is running" in client_of("qa").get("/background/").content.decode()


def test_one_sees_ones_own_work_and_the_watchers_see_all(qa: User, client_of: Callable[[str], Client]) -> None:
    work = kinds.count.start(qa, "sheep of qa", to=2)
    for name, sees in (("qa", True), ("coordinator", True), ("auditor", True), ("supervisor", False)):
        client = client_of(name)
        assert ("sheep of qa" in client.get("/background/").content.decode()) == sees, name
        assert client.get(work.get_absolute_url()).status_code == (200 if sees else 302)
        give_up_url = f"{work.get_absolute_url()}give-up/"
        assert client.post(give_up_url).status_code == (403 if name == "auditor" else 302)
        if not sees:
            assert client.get("/background/").status_code == 200
    work.refresh_from_db()
    assert work.cancel_by == "qa"


def test_a_hash_in_the_list_may_break_and_the_words_are_escaped() -> None:
    table, said = WorkTable([]), "<b> parts, SHA-256 " + "0f" * 32 + "."
    assert table.render_message(said) == f'&lt;b&gt; parts, SHA-256 <span class="hash">{"0f" * 32}</span>.'
    assert table.value_message(said) == said
