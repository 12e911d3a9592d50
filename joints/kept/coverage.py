"""Coverage of large jobs, and of several together, as work in the background, and where its result is shown."""

from collections.abc import Sequence
from datetime import date

from django.db.models import QuerySet
from django.utils.translation import gettext

from joints.day import Answered
from joints.kept.matrix import plain
from joints.kept.rests_on import rests_on
from joints.kept.standing import address, forget_older, result
from joints.matrix import matrix
from joints.models import Assembly, Job, Joint
from joints.ready import day_of
from register.background.kinds import Refused, background
from register.background.progress import Progress
from register.held.firm import firm_settings
from register.roles import Capability

AT_ONCE = 2000
"""So many joints, of all chosen jobs, are answered within the request."""


@background("Answer every joint", Capability.VIEW)
def answer_jobs(progress: Progress, jobs: list[int], on: str) -> None:
    """Answer and count the joints of some jobs on a day, and keep it until a newer answer to the same question is."""
    day = date.fromisoformat(on)
    if Job.objects.filter(pk__in=jobs).count() < len(jobs):
        raise Refused(gettext("One of these jobs is no longer on file."))
    settings = firm_settings()
    # Read first: what is written meanwhile makes the result stale.
    marks = rests_on(jobs, day, settings)
    answers = day_of(day, settings).answers(joints_of(jobs), progress)
    found = matrix(named(answers, jobs), True, progress)
    with progress.whole():
        forget_older(progress.work)
        progress.outcome(
            found.sentence, address("joints:job_coverage", jobs, day), "See the answers", result(marks, plain(found))
        )


def joints_of(jobs: Sequence[int]) -> QuerySet[Joint]:
    """The joints of some jobs in the order in which they are shown."""
    keys = ("assembly__order_key", "assembly_id", "order_key", "pk")
    order = keys if len(jobs) == 1 else ("assembly__job__number", *keys)
    return Joint.objects.filter(assembly__job__in=jobs).order_by(*order)


def named(answers: Sequence[Answered], jobs: Sequence[int]) -> Sequence[Answered]:
    """The answers with the job before the mark of the assembly, where there are several jobs."""
    if len(jobs) == 1:
        return answers
    numbers = dict(Assembly.objects.filter(job__in=jobs).values_list("pk", "job__number"))
    return [one._replace(mark=f"{numbers[one.assembly_id]} {one.mark}") for one in answers]
