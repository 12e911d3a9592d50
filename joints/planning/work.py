"""Planning the tests of large jobs as work in the background, and where its result is shown."""

from datetime import date

from django.utils.translation import gettext

from joints.kept.rests_on import rests_on
from joints.kept.standing import address, forget_older, result
from joints.models import Job
from joints.planning.plan import plan_for
from joints.planning.shown import plain, shown
from joints.ready import day_of
from register.background.kinds import Refused, background
from register.background.progress import Progress
from register.held.firm import firm_settings
from register.roles import Capability

AT_ONCE = 1000
"""So many joints, of all chosen jobs, are planned for within the request."""


@background("Plan what to test next", Capability.VIEW)
def plan_tests(progress: Progress, jobs: list[int], on: str) -> None:
    """Plan for some jobs on a day, and keep the plan until a newer one of the same question is kept."""
    day, found = date.fromisoformat(on), list(Job.objects.filter(pk__in=jobs))
    if len(found) < len(jobs):
        raise Refused(gettext("One of these jobs is no longer on file."))
    settings = firm_settings()
    # Read first: what is written meanwhile makes the result stale.
    marks = rests_on(jobs, day, settings)
    planned = shown(plan_for(jobs, day_of(day, settings), progress))
    with progress.whole():
        forget_older(progress.work)
        progress.outcome(
            planned.sentence, address("joints:planning", jobs, day), "See what to test", result(marks, plain(planned))
        )
