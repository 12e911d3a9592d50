"""Approvers without a second factor set one up before anything else, where the firm asks for it."""

from collections.abc import Callable

from django.conf import settings
from django.contrib import messages
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.urls import reverse
from django.utils.translation import gettext

from register.second.acts import factor_of, is_required
from register.second.session import SIGNED_IN


class CodeOfApprovers:
    """Let an approver who gave no code go no further than the page of the second factor, and out."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        if settings.APPROVERS_NEED_CODE and self.stops(request):
            if factor_of(request.user) is not None:
                # Signed in before the factor was set up: once more, with the code.
                request.session.flush()
                return HttpResponseRedirect(reverse("login"))
            messages.info(request, gettext("You approve for the firm: set up your second factor first."))
            return HttpResponseRedirect(reverse("second:set_up"))
        return self.get_response(request)

    def stops(self, request: HttpRequest) -> bool:
        """True where the request may not pass."""
        user = request.user
        if not user.is_authenticated or request.session.get(SIGNED_IN):
            return False
        free = {reverse(name) for name in ("second:own", "second:set_up", "second:code", "login", "logout")}
        return request.path not in free and not request.path.startswith(settings.STATIC_URL) and is_required(user)
