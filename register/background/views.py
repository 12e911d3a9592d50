"""Pages of work in the background: the list, one piece of it while it runs and after, and giving it up."""

from typing import Any

from django.contrib import messages
from django.db import OperationalError, transaction
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.http.response import HttpResponseBase
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _
from django.views.generic import DetailView

from register.background.board import Said, board
from register.background.kinds import Refused, kind_of
from register.background.models import State, Work
from register.background.tables import WorkFilter, WorkTable
from register.base.lists import ListPage
from register.base.pages import ConfirmPage, DetailPage
from register.roles import Capability, RequiresCapability, User, can


def visible_to(user: User) -> QuerySet[Work]:
    """One's own work; all of it for whoever watches over work."""
    every = Work.objects.all()
    return every if can(user, Capability.WATCH_WORK) else every.filter(asked_by=user.pk)


class OneWork(RequiresCapability):
    """A view of one piece of work; somebody else's is shown to those only who watch over work."""

    def dispatch(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        work = Work.objects.filter(pk=kwargs["pk"]).only("asked_by_id").first()
        # Whoever may not open the page at all is refused below.
        if work is None or not can(request.user, Capability.VIEW) or may_see(work, request.user):
            return super().dispatch(request, *args, **kwargs)
        messages.info(request, gettext("Somebody else asked for that work. This is yours."))
        return HttpResponseRedirect(reverse("background:list"))


def may_see(work: Work, user: User) -> bool:
    """True for whoever asked for it and whoever watches over work."""
    return work.is_of(user) or can(user, Capability.WATCH_WORK)


def said_of(work: Work) -> Said:
    """How far it is: from the board while it is under way, otherwise as its row says."""
    own = Said(work.done, work.total, work.message)
    return own if work.state != State.RUNNING else board().told(work.pk) or own


class WorkList(ListPage):
    """The work one asked for; all of it for whoever watches over work."""

    required_capability = Capability.VIEW
    template_name = "background/list.html"
    page_title = _("Work in the background")
    table_class = WorkTable
    filterset_class = WorkFilter
    empty = {
        "title": _("No work has been started."),
        "teach": _(
            "Long lists of welds, plans and batches of sheets are worked through in the background; each "
            "is shown here with how far it is and how it ended."
        ),
    }

    def get_queryset(self) -> QuerySet[Work]:
        return visible_to(self.request.user).defer("result")

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        return super().get_context_data(workers=board().workers(), **kwargs)


class WorkPage(OneWork, DetailPage):
    """One piece of work: how far it is, renewed while it runs; then how it ended and where the result stands."""

    required_capability = Capability.VIEW
    template_name = "background/page.html"
    queryset = Work.objects.all()

    def get_lead(self) -> str:
        work = self.object
        return gettext("Asked by %(asked_by_name)s on %(localtime)s") % {
            "asked_by_name": work.asked_by_name,
            "localtime": f"{timezone.localtime(work.asked_at):%Y-%m-%d at %H:%M}",
        }

    def get_facts(self) -> list[tuple[str, ...]]:
        try:
            return kind_of(self.object.function).about(**self.object.arguments)
        except Refused:
            return []

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        return super().get_context_data(**standing(self.object, self.request.user), **kwargs)


class WorkState(OneWork, DetailView):
    """The part of the page that asks for itself anew while the work is not finished."""

    required_capability = Capability.VIEW
    template_name = "background/_state.html"
    queryset = Work.objects.all()

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        return super().get_context_data(**standing(self.object, self.request.user), **kwargs)


def standing(work: Work, user: User) -> dict[str, Any]:
    """Context of the template _state.html: the work, how far it is, whether anybody will take it up."""
    waiting = work.state == State.WAITING
    give_up_url = reverse("background:give_up", args=[work.pk]) if can(user, Capability.START_WORK) else ""
    return {
        "work": work,
        "state_url": reverse("background:state", args=[work.pk]),
        "give_up_url": give_up_url,
        "said": said_of(work),
        "running": work.state == State.RUNNING,
        "waiting": waiting,
        "failed": work.state == State.FAILED,
        "nobody": waiting and board().workers() == 0,
        "ahead": Work.objects.filter(state=State.WAITING, pk__lt=work.pk).count() if waiting else 0,
        "cancel_by": "" if work.finished else board().cancel_asked(work.pk),
    }


class WorkGiveUp(OneWork, ConfirmPage):
    """Ask that work be given up: what waits ends at once, what is under way at its next step."""

    required_capability = Capability.START_WORK
    queryset = Work.objects.all()
    act_label = _("Give it up")
    warns = True

    def get_page_title(self) -> str:
        return gettext("Give up: %(label)s") % {"label": self.object.label.lower()}

    def get_sentence(self) -> str:
        return gettext("“%(title)s” is not finished. What is not finished leaves nothing on file.") % {
            "title": self.object.title
        }

    def post(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        self.object = self.get_object()
        if self.object.finished:
            messages.info(request, gettext("It is %(state)s already.") % {"state": self.object.get_state_display()})
        else:
            give_up(self.object, request.user)
        return HttpResponseRedirect(self.object.get_absolute_url())


def give_up(work: Work, by: Any) -> None:
    """Tell the worker; what no worker has taken up is ended here."""
    name = by.get_username()
    board().ask_cancel(work.pk, name)
    try:
        with transaction.atomic():
            found = Work.objects.select_for_update(skip_locked=True).filter(pk=work.pk, state=State.WAITING).first()
            if found is not None:
                found.state, found.message = State.CANCELLED, f"Given up by {name} before it began."
                found.cancel_by, found.ended_at = name, timezone.now()
                found.save(update_fields=["state", "message", "cancel_by", "ended_at"])
                board().forget(work.pk)
    except OperationalError:
        # Another transaction writes for long: whoever takes the work up reads on the board that it is given up.
        return
