"""What all pages share, and the plain page, the page of one thing, and the page of an act to confirm."""

from dataclasses import dataclass
from datetime import date
from typing import Any

from django.contrib import messages
from django.db import transaction
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.http.response import HttpResponseBase
from django.utils.translation import gettext_lazy as _
from django.views.generic import DetailView, TemplateView
from django.views.generic.base import ContextMixin, TemplateResponseMixin, View
from django.views.generic.detail import SingleObjectMixin

from register.base.asof import asked_date
from register.judged_words import told
from register.plants.reach import current
from register.plants.rows import InPlant, own
from register.roles import Capability, RequiresCapability, can

READS = frozenset({Capability.VIEW, Capability.PRINT_SHEET, Capability.START_WORK})
"""What may be done with a thing of another plant that is in sight here."""


@dataclass(frozen=True, slots=True)
class Act:
    """Something that may be done from a page: a button beside the title."""

    label: str
    url: str
    main: bool = False
    warns: bool = False


class Page(RequiresCapability, ContextMixin):
    """What all pages share: a title that is the noun of its question, a line below it, the date asked about."""

    page_title: str = ""
    lead: str = ""

    def get_page_title(self) -> str:
        """The heading."""
        return self.page_title

    def get_lead(self) -> str:
        """The line below the heading."""
        return self.lead

    @property
    def on(self) -> date:
        """The date asked about. Raises BadAskedDate, answered 400."""
        return asked_date(self.request)  # type: ignore[attr-defined, no-any-return]

    def may(self, capability: Capability) -> bool:
        """True if whoever asks holds the capability."""
        return can(self.request.user, capability)  # type: ignore[attr-defined]

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        kwargs.setdefault("page_title", self.get_page_title())
        kwargs.setdefault("lead", self.get_lead())
        return super().get_context_data(**kwargs)


class PlainPage(Page, TemplateView):
    """A page with a template of its own. Reads the date first, so that a bad one is refused."""

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        asked_date(request)
        return super().get(request, *args, **kwargs)


class DetailPage(Page, DetailView):
    """One thing: its facts, what it rests on, who changed it."""

    template_name = "generic/detail.html"

    def get_page_title(self) -> str:
        return self.page_title or told(str(self.object))

    def may(self, capability: Capability) -> bool:
        """What is lent or released here is read and printed, and changed at its own plant."""
        where = current()
        is_own = where.plants is None or capability in READS or where.holds(getattr(self.object, "home_plant", None))
        return is_own and super().may(capability)

    def get_facts(self) -> list[tuple[str, ...]]:
        """(term, value) or (term, value, url) in the order of reading."""
        return []

    def get_acts(self) -> list[Act]:
        """What whoever asks may do here."""
        return []

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        asked_date(request)
        return super().get(request, *args, **kwargs)

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        facts = self.get_facts()
        if isinstance(self.object, InPlant) and current().several:
            facts = [*facts, ("Plant", str(self.object.plant))]
        return super().get_context_data(facts=facts, acts=self.get_acts(), **kwargs)


class ConfirmPage(Page, SingleObjectMixin, TemplateResponseMixin, View):
    """An act that is shown first (GET) and done on POST. Give `sentence`, `act_label`, and `act`.

    Where it cannot be done (`why_not`), the page says so in place of the button, and links to the thing.
    """

    template_name = "generic/confirm.html"
    act_label = _("Do it")
    warns = False
    done_message = ""

    def get_sentence(self) -> str:
        """What will happen, in words."""
        raise NotImplementedError

    def why_not(self) -> str:
        """Why whoever asks may not do it now, or that it was done already; or ""."""
        return ""

    def get_takes_away(self) -> list[str]:
        """The names of what is lost by it."""
        return []

    def get_cancel_url(self) -> str:
        """Where "leave it as it is" goes."""
        return self.object.get_absolute_url()

    def find(self) -> Any:
        """What the act is on. Raises PermissionDenied for what is only lent or released here."""
        return own(self.get_object())

    def act(self) -> str:
        """Do it, and return the address to go to. Raise ValueError with a sentence where it cannot be done."""
        raise NotImplementedError

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        self.object = self.find()
        return self.render_to_response(self.get_context_data())

    def post(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        self.object = self.find()
        try:
            with transaction.atomic():
                url = self.act()
        except ValueError as refusal:
            context = self.get_context_data()
            if not context["why_not"]:
                messages.error(request, str(refusal))
            return self.render_to_response(context, status=409)
        if self.done_message:
            messages.success(request, self.done_message.format(self.object))
        return HttpResponseRedirect(url)

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        return super().get_context_data(
            sentence=self.get_sentence(),
            why_not=self.why_not(),
            takes_away=self.get_takes_away(),
            act_label=self.act_label,
            warns=self.warns,
            cancel_url=self.get_cancel_url(),
            **kwargs,
        )
