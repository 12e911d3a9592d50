"""Choosing the plant at which one works."""

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.utils.http import url_has_allowed_host_and_scheme
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from register.base.pages import PlainPage
from register.plants.standing import SESSION_KEY, standing
from register.roles import Capability

HOME = "/"


class ChoosePlant(PlainPage):
    """The plants at which whoever asks holds a role; the group sees them all at once too."""

    required_capability = Capability.OWN_ACCOUNT
    template_name = "register/plants/choose.html"
    page_title = _("Plant")

    def get_lead(self) -> str:
        if not standing(self.request.user).chooses:
            return ""
        return gettext("Everything you see, and all that you enter, is of the plant chosen here.")

    def post(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        where = standing(request.user)
        wanted = request.POST.get("plant", "")
        if wanted == "" and where.is_group:
            request.session.pop(SESSION_KEY, None)
        elif wanted.isdecimal() and len(wanted) < 12 and int(wanted) in where.plants:
            request.session[SESSION_KEY] = int(wanted)
            messages.success(request, gettext("You now work at %(plants)s.") % {"plants": where.plants[int(wanted)]})
        else:
            messages.error(request, gettext("You hold no role at that plant."))
            return self.render_to_response(self.get_context_data(), status=409)
        return HttpResponseRedirect(self.back())

    def back(self) -> str:
        """The page that asked for the choice, if it is one of ours."""
        given = self.request.POST.get("next") or self.request.GET.get("next", "")
        return given if url_has_allowed_host_and_scheme(given, {self.request.get_host()}) else HOME

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        asked = "next" in self.request.GET
        return super().get_context_data(where=standing(self.request.user), next=self.back(), asked=asked, **kwargs)
