"""Private addresses of the calendar: one's own list, a new one, revoking, and the calendar itself."""

from typing import Any

from django import forms
from django.conf import settings
from django.contrib.auth.decorators import login_not_required
from django.http import Http404, HttpRequest, HttpResponse
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext, override
from django.utils.translation import gettext_lazy as _
from django.views.decorators.http import require_safe

from qualifications.calendar.feeds import create, find, items_of, revoke
from qualifications.calendar.ics import calendar_of
from qualifications.models import CalendarFeed
from register.base.forms import prepared
from register.base.views import ConfirmPage, PlainPage
from register.own_language import language_of
from register.roles import Capability
from register.users.accounts import in_reach


class FeedForm(forms.ModelForm):
    """What the address is for, and whose deadlines it shows."""

    class Meta:
        model = CalendarFeed
        fields = ("label", "own_people")
        labels = {"label": "Name of the address"}
        help_texts = {"label": "To know it again, such as: my telephone."}


class Calendar(PlainPage):
    """One's own addresses. The token of a new one is shown once, right after it was made."""

    required_capability = Capability.CONFIRM_OWN_PEOPLE
    template_name = "qualifications/calendar.html"
    page_title = _("Calendar of what falls due")

    def post(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        form = prepared(FeedForm(request.POST))
        if not form.is_valid():
            return self.render_to_response(self.get_context_data(form=form), status=422)
        try:
            _, token = create(request.user, form.cleaned_data["label"], form.cleaned_data["own_people"])
        except ValueError as refusal:
            form.add_error(None, str(refusal))
            return self.render_to_response(self.get_context_data(form=form), status=409)
        response = self.render_to_response(self.get_context_data(address=address_of(token, request)))
        response.headers["Cache-Control"] = "no-store"
        return response

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        kwargs.setdefault("form", prepared(FeedForm()))
        return super().get_context_data(feeds=CalendarFeed.objects.filter(owner=self.request.user), **kwargs)


def address_of(token: str, request: HttpRequest) -> str:
    """The whole address, at PUBLIC_URL where the firm set one."""
    path = reverse("qualifications:calendar_feed", args=[token])
    public = str(getattr(settings, "PUBLIC_URL", "")).rstrip("/")
    return f"{public}{path}" if public else request.build_absolute_uri(path)


class CalendarRevoke(ConfirmPage):
    """Make an address answer nothing from now on."""

    required_capability = Capability.CONFIRM_OWN_PEOPLE
    page_title = _("Revoke a calendar address")
    act_label = _("Revoke it")
    warns = True
    done_message = _("Revoked: {0}.")

    def get_queryset(self) -> Any:
        """One's own; whoever looks after accounts, those of the accounts in reach."""
        rows = CalendarFeed.objects.select_related("owner")
        own = rows.filter(owner=self.request.user.pk)
        return own | rows.filter(owner__in=in_reach()) if self.may(Capability.MANAGE_USERS) else own

    def find(self) -> Any:
        """An address belongs to an account, which may work at any plant."""
        return self.get_object()

    def get_sentence(self) -> str:
        return gettext("Calendars that read %(object)s get nothing any more. It cannot be used again.") % {
            "object": self.object
        }

    def get_cancel_url(self) -> str:
        return reverse("qualifications:calendar")

    def act(self) -> str:
        revoke(self.object, self.request.user)
        return reverse("qualifications:calendar")


@login_not_required
@require_safe
def calendar_feed(request: HttpRequest, token: str) -> HttpResponse:
    """The calendar behind a private address; 404 for one revoked or unknown, or whose owner may look no more."""
    feed = find(token)
    if feed is None:
        raise Http404(gettext("There is no such calendar."))
    today = timezone.localdate()
    with override(language_of(feed.owner)):
        body = calendar_of(items_of(feed, today), today)
    response = HttpResponse(body, content_type="text/calendar; charset=utf-8")
    response.headers["Content-Disposition"] = 'attachment; filename="due.ics"'
    response.headers["Cache-Control"] = "private, no-store"
    response.headers["Referrer-Policy"] = "no-referrer"
    response.headers["X-Robots-Tag"] = "noindex"
    return response
