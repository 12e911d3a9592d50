"""How a question stands that takes long to answer: the answer kept last, and the work that makes a new one."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from typing import Any
from urllib.parse import urlencode

from django.urls import reverse

from joints.kept.rests_on import Marks, changed, rests_on
from register.background.kinds import Kind
from register.background.models import UNFINISHED, State, Work
from register.held.firm import firm_settings

MARKS, FOUND = "marks", "found"
MOST_DAYS = 5


@dataclass(frozen=True)
class Standing:
    """`kept`: the work whose result is on file, the newest; `under_way`: what makes a newer one; `failed`: the last
    attempt, where it ended without a result. `other_days`: where none is kept for this day, the days for which one is,
    the newest first.
    """

    jobs: tuple[int, ...]
    on: date
    kept: Work | None
    under_way: Work | None
    failed: Work | None
    other_days: tuple[date, ...] = ()

    @property
    def found(self) -> Any:
        """The result as JSON values; None where none is kept."""
        return self.kept.result[FOUND] if self.kept is not None else None

    @property
    def is_new(self) -> bool:
        """True where nothing is on file, nothing is being made, and no attempt came to nothing."""
        return self.kept is None and self.under_way is None and self.failed is None

    @cached_property
    def changed(self) -> tuple[str, ...]:
        """What the kept result rests on and changed since, in words; asked for where it is shown, not while waiting."""
        if self.kept is None:
            return ()
        return tuple(changed(self.kept.result[MARKS], rests_on(self.jobs, self.on, firm_settings())))

    @property
    def stale(self) -> bool:
        """True where a kept result may no longer be what would be found now."""
        return bool(self.changed)


def standing(kind: Kind, jobs: Sequence[int], on: date) -> Standing:
    """How the question about some jobs on a day stands at the plant at hand."""
    every = Work.objects.filter(function=kind.path, key=kind.key(**asked(jobs, on))).order_by("-pk")
    kept = every.filter(state=State.DONE, result__isnull=False).first()
    under_way = every.filter(state__in=UNFINISHED).defer("result").first()
    ended = every.filter(state__in=(State.FAILED, State.CANCELLED)).defer("result").first()
    failed = ended if ended is not None and (kept is None or ended.pk > kept.pk) else None
    others = () if kept is not None else other_days(kind, jobs)
    return Standing(tuple(jobs), on, kept, under_way, failed, others)


def other_days(kind: Kind, jobs: Sequence[int]) -> tuple[date, ...]:
    """The days for which the same question about the same jobs has an answer on file, the newest first."""
    same = Work.objects.filter(function=kind.path, arguments__jobs=sorted(set(jobs)))
    kept = same.filter(state=State.DONE, result__isnull=False).order_by("-pk").values_list("arguments__on", flat=True)
    return tuple(date.fromisoformat(on) for on in dict.fromkeys(kept[:MOST_DAYS]))


def address(page: str, jobs: Sequence[int], on: date) -> str:
    """Where the result is shown: a page of the first of the jobs, together with the others."""
    first, *others = jobs
    return f"{reverse(page, args=[first])}?{urlencode([('on', on.isoformat()), *(('with', pk) for pk in others)])}"


def asked(jobs: Sequence[int], on: date) -> dict[str, Any]:
    """The arguments of the work, the same in whatever order the jobs are named."""
    return {"jobs": sorted(set(jobs)), "on": on.isoformat()}


def result(marks: Marks, found: Any) -> dict[str, Any]:
    """What the work keeps: the marks read before it began, and what it found, as JSON values."""
    return {MARKS: marks, FOUND: found}


def forget_older(work: Work) -> None:
    """Keep the newest result of a question only; that the older ones were reckoned stays on file."""
    older = Work.objects.filter(function=work.function, key=work.key, pk__lt=work.pk, result__isnull=False)
    older.update(result=None)
