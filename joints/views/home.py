"""The first page: what needs a decision today; and the counts of a running job, fetched after the page stands."""

from typing import Any

from django.http import HttpRequest
from django.http.response import HttpResponseBase
from django.utils import timezone
from django.utils.translation import gettext

from joints import home
from joints.kept.coverage import AT_ONCE, answer_jobs
from joints.kept.standing import standing
from joints.matrix import matrix
from joints.models import Job, Joint
from joints.ready import day_of
from joints.views.jobs import answers_of, kept_matrix
from register.base.asof import asked_date
from register.base.views import DetailPage, PlainPage
from register.roles import Capability


class Home(PlainPage):
    """What needs a decision, for the role of whoever asks."""

    required_capability = Capability.VIEW
    template_name = "joints/home.html"

    def get_page_title(self) -> str:
        if self.is_today():
            return gettext("Today")
        ahead = self.on > timezone.localdate()
        return gettext("What will need a decision") if ahead else gettext("What needed a decision")

    def is_today(self) -> bool:
        """True unless another date is asked about."""
        return self.on == timezone.localdate()

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        user = self.request.user
        due = home.dues(self.on, user)
        jobs, drafts = home.jobs_running(self.on), home.drafts(user) if self.is_today() else []
        steps = home.first_steps(user)
        others = [draft for draft in drafts if not draft.own]
        done = any(one.done for one in steps)
        state = {"empty": bool(steps) and not done, "begun": bool(steps) and done}
        return super().get_context_data(
            summary=home.summary(len(jobs), len(others), due, **state),
            steps=steps,
            drafts=others,
            own_drafts=[draft for draft in drafts if draft.own],
            lists=home.open_lists(user) if self.is_today() else [],
            due=home.deadlines(due, user)
            if self.is_today()
            else [home.Deadline(one, False) for one in due[: home.AT_MOST]],
            due_count=len(due),
            jobs=jobs,
            may_edit=self.may(Capability.EDIT_JOBS),
            **kwargs,
        )


class JobCounts(DetailPage):
    """How many joints of a job are covered, for the first page."""

    required_capability = Capability.VIEW
    template_name = "joints/_job_counts.html"
    queryset = Job.objects.all()

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        asked_date(request)
        return super().get(request, *args, **kwargs)

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        if Joint.objects.filter(assembly__job=self.object).count() > AT_ONCE:
            found = kept_matrix(standing(answer_jobs, [self.object.pk], self.on))
        else:
            found = matrix(answers_of(self.object, day_of(self.on)))
        return super().get_context_data(matrix=found, job=self.object, **kwargs)
