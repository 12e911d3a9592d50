"""Pages of a question that is answered at once where it is small, and else as work in the background."""

from collections.abc import Sequence
from datetime import date
from typing import Any

from django.db.models import Q
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import render

from joints.answers import count
from joints.kept.standing import Standing, asked, standing
from joints.models import Job, Joint
from register.background.kinds import Kind
from register.background.views import may_see
from register.background.views import standing as how_far
from register.base.views import DetailPage
from register.roles import Capability

MOST_JOBS = 40


class OfJobs:
    """A view of a job and of the others chosen with it (`?with=`)."""

    request: HttpRequest
    object: Job

    def chosen(self) -> list[Job]:
        """The other jobs of its plant that are asked about together with this one."""
        wanted = [pk for pk in self.request.GET.getlist("with") if pk.isdecimal() and len(pk) < 12][:MOST_JOBS]
        here = Job.objects.filter(plant=self.object.plant_id)
        return list(here.filter(pk__in=wanted).exclude(pk=self.object.pk))


class KeptPage(OfJobs, DetailPage):
    """`kind`: the work, of the arguments that `asked` gives; more than `at_once` joints are left to it."""

    required_capability = Capability.VIEW
    post_capability = Capability.START_WORK
    queryset = Job.objects.all()
    kind: Kind
    at_once: int
    starts_itself = False
    """True where whoever opens the page has it worked out, if nothing is on file for the day."""

    def standing_of(self, chosen: Sequence[Job]) -> Standing | None:
        """How the question stands; None where it is answered at once.

        So it is too for whoever may not start work, unless an answer is on file.
        """
        keys = [self.object.pk, *(job.pk for job in chosen)]
        if Joint.objects.filter(assembly__job__in=keys).count() <= self.at_once:
            return None
        found = standing(self.kind, keys, self.on)
        known = found.kept is not None or found.under_way is not None
        return found if known or self.may(Capability.START_WORK) else None

    def only_how_far(self, found: Standing | None) -> HttpResponse | None:
        """The part that asks for itself anew, where that is asked for; once it is over, the whole page is asked for."""
        htmx = self.request.htmx  # type: ignore[attr-defined]
        if not htmx or htmx.history_restore_request:
            return None
        if found is None or found.under_way is None:
            return HttpResponse(headers={"HX-Refresh": "true"})
        return render(self.request, "background/_state.html", self.kept_context(found))

    def kept_context(self, found: Standing) -> dict[str, Any]:
        """Context of the template joints/kept/_standing.html."""
        context: dict[str, Any] = {
            "standing": found,
            "may_start": self.may(Capability.START_WORK),
            "starts_itself": self.starts_itself and found.is_new,
            "other_days": [(on, self.address(on=on.isoformat())) for on in found.other_days],
        }
        if found.under_way is not None:
            context |= how_far(found.under_way, self.request.user) | {"state_url": self.request.get_full_path()}
            if not may_see(found.under_way, self.request.user):
                context["give_up_url"] = ""
        return context

    def address(self, **changes: str) -> str:
        """The query of this page with something else asked."""
        query = self.request.GET.copy()
        for name, value in changes.items():
            query[name] = value
        return f"?{query.urlencode()}"

    def post(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        """Have it worked out, for the date asked about."""
        self.object = self.get_object()
        chosen = self.chosen()
        more = f" and {count(len(chosen), 'other', 'others')}" if chosen else ""
        keys = [self.object.pk, *(job.pk for job in chosen)]
        self.kind.start(request.user, f"{self.object}{more}, as of {self.on.isoformat()}", **asked(keys, self.on))
        if request.htmx:  # type: ignore[attr-defined]
            return HttpResponse(headers={"HX-Refresh": "true"})
        return HttpResponseRedirect(request.get_full_path())


def others_of(job: Job, chosen: Sequence[Job], on: date) -> list[Job]:
    """The jobs of the same plant that can be asked about together: those that have not ended, and those chosen."""
    open_ = Job.objects.filter(Q(ends_on__isnull=True) | Q(ends_on__gte=on) | Q(pk__in=[one.pk for one in chosen]))
    return list(open_.filter(plant=job.plant_id).exclude(pk=job.pk).order_by("number")[:MOST_JOBS])
