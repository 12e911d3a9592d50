"""Pages of the systems that may ask by the API, for whoever manages accounts. Making and revoking are signed."""

from datetime import date
from typing import Any

import django_tables2 as columns
from django import forms
from django.db.models import QuerySet
from django.http import HttpResponse
from django.urls import reverse, reverse_lazy
from django.utils import timezone
from django.utils.text import format_lazy
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _
from django.views.generic.edit import FormView

from register.base.forms import DateField, prepared, sections
from register.base.lists import ListPage
from register.base.pages import Act, DetailPage, Page
from register.base.tables import LeanTable, link
from register.roles import Capability
from register.signing import FIELD, SignedConfirmPage, SignedForm
from register.systems import acts
from register.systems.models import SystemToken
from register.systems.scopes import WORDS


class SystemTable(LeanTable):
    """Tokens with what they may do."""

    name = columns.Column(verbose_name=_("System"))
    state = columns.Column(accessor="pk", orderable=False)
    scopes = columns.Column(verbose_name=_("May"), orderable=False)
    hint = columns.Column(verbose_name=_("Token begins with"), orderable=False)
    expires_on = columns.Column(verbose_name=_("Counts until"))
    last_used_at = columns.Column(verbose_name=_("Last used"))
    made_by = columns.Column(verbose_name=_("Made by"), orderable=False)

    caption = _("Systems")
    unbroken = ("expires_on", "last_used_at", "hint")

    class Meta(LeanTable.Meta):
        order_by = ("name", "pk")

    def render_name(self, value: str, record: SystemToken) -> str:
        return link(record.get_absolute_url(), value)

    def value_name(self, value: str) -> str:
        return value

    def render_state(self, record: SystemToken) -> str:
        return state_of(record)

    value_state = render_state

    def render_scopes(self, record: SystemToken) -> str:
        return may(record)

    def value_scopes(self, record: SystemToken) -> str:
        return ", ".join(scope.value for scope in record.granted)

    def render_expires_on(self, value: Any) -> str:
        return str(value.isoformat())

    def render_last_used_at(self, value: Any) -> str:
        return f"{timezone.localtime(value):%Y-%m-%d %H:%M}"


def may(token: SystemToken) -> str:
    """What it may do, in words."""
    return "; ".join(str(WORDS[scope]) for scope in token.granted) or gettext("nothing")


def state_of(token: SystemToken) -> str:
    """In a word: in use, revoked or expired."""
    if token.revoked_at is not None:
        return gettext("revoked")
    return gettext("in use") if token.stands_on(timezone.localdate()) else gettext("expired")


class SystemList(ListPage):
    """Which systems may ask, and what."""

    required_capability = Capability.MANAGE_USERS
    page_title = _("Systems")
    lead = _(
        "Machines and programs that ask the register through its programming interface, each with a token of its own."
    )
    table_class = SystemTable
    create_label = _("Add a system")
    empty = {
        "title": _("No system asks yet."),
        "teach": _(
            "A cell's controller, an ERP or a planner gets a token with just what it needs. None of them "
            "can approve or sign: that takes a person with a password."
        ),
    }

    def get_queryset(self) -> QuerySet[SystemToken]:
        return SystemToken.objects.all()

    def get_create_url(self) -> str:
        return reverse("systems:new")


class NewSystemForm(forms.Form):
    """Name, what it may do, and until when."""

    name = forms.CharField(
        max_length=80, label=_("System"), help_text=_("As the trail will name it: Cell 3 controller.")
    )
    scopes = forms.MultipleChoiceField(
        label=_("It may"),
        widget=forms.CheckboxSelectMultiple(attrs={"class": "broad"}),
        choices=[(scope.value, words) for scope, words in WORDS.items()],
        error_messages={"required": _("Choose at least one thing that the system may do.")},
    )
    expires_on = DateField(
        label=_("Counts until"),
        help_text=format_lazy(_("This day included, at most {days} days from now."), days=acts.LONGEST),
    )

    def clean_name(self) -> str:
        """One that no other token has."""
        name = " ".join(str(self.cleaned_data["name"]).split())
        if reason := acts.why_not_named(name):
            raise forms.ValidationError(reason)
        return name

    def clean_expires_on(self) -> date:
        """From today to the longest that a token may count."""
        day: date = self.cleaned_data["expires_on"]
        if reason := acts.why_not_until(day):
            raise forms.ValidationError(reason)
        return day


PLAN = ((_("The system"), ("name", "expires_on")), (_("What it may do"), ("scopes",)), (_("Your signature"), (FIELD,)))


class SystemNew(SignedForm, Page, FormView):
    """A token for a system: made, and shown once."""

    required_capability = Capability.MANAGE_USERS
    template_name = "generic/form.html"
    form_class = NewSystemForm
    page_title = _("Add a system")
    lead = _("Its token is shown once, on the next page.")

    def get_form(self, form_class: Any = None) -> Any:
        return prepared(super().get_form(form_class))

    def form_valid(self, form: Any) -> HttpResponse:
        data = form.cleaned_data
        try:
            token, secret = acts.make(self.request.user, data["name"], data["scopes"], data["expires_on"])
        except ValueError as refusal:
            form.add_error(None, str(refusal))
            return self.form_invalid(form)
        self.template_name = "register/api/token.html"
        shown = self.get_context_data(
            token=token,
            secret=secret,
            words=[(scope.value, WORDS[scope]) for scope in token.granted],
            page_title=gettext("The token of %(name)s") % {"name": token.name},
            lead="",
        )
        response = self.render_to_response(shown)
        response.headers["Cache-Control"] = "no-store"
        return response

    def form_invalid(self, form: Any) -> HttpResponse:
        return self.render_to_response(self.get_context_data(form=form), status=422)

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        context = super().get_context_data(
            cancel_url=reverse("systems:list"), save_label=gettext("Make the token"), **kwargs
        )
        if "secret" not in context:
            context["sections"] = sections(context["form"], PLAN)
        return context


class SystemPage(DetailPage):
    """One system: what it may do, when it last asked."""

    required_capability = Capability.MANAGE_USERS
    queryset = SystemToken.objects.all()

    def get_facts(self) -> list[tuple[str, ...]]:
        token = self.object
        used = f"{timezone.localtime(token.last_used_at):%Y-%m-%d %H:%M}" if token.last_used_at else gettext("never")
        facts: list[tuple[str, ...]] = [(gettext("State"), state_of(token)), (gettext("May"), may(token))]
        facts += [
            (gettext("Token begins with"), token.hint),
            (gettext("Counts until"), token.expires_on.isoformat()),
            (gettext("Last used"), used),
            (gettext("Made by"), f"{token.made_by}, {timezone.localtime(token.made_at):%Y-%m-%d}"),
        ]
        if token.revoked_at:
            when = f"{timezone.localtime(token.revoked_at):%Y-%m-%d %H:%M}"
            facts.append((gettext("Revoked"), f"{token.revoked_by}, {when}: {token.revoked_because}"))
        return facts

    def get_acts(self) -> list[Act]:
        revoked = self.object.revoked_at is not None
        return [] if revoked else [Act(gettext("Revoke"), reverse("systems:revoke", args=[self.object.pk]), warns=True)]


class RevokeForm(forms.Form):
    """Why."""

    because = forms.CharField(max_length=250, label=_("Why it is revoked"))


class SystemRevoke(SignedConfirmPage):
    """From now on the token opens nothing."""

    required_capability = Capability.MANAGE_USERS
    queryset = SystemToken.objects.all()
    form_class = RevokeForm
    act_label = _("Revoke the token")
    warns = True
    done_message = _("The token of {0} is revoked.")

    def get_page_title(self) -> str:
        return gettext("Revoke the token of %(name)s") % {"name": self.object.name}

    def get_sentence(self) -> str:
        return gettext("%(name)s is refused from this moment on. What it wrote stays, and so does its name.") % {
            "name": self.object.name
        }

    def why_not(self) -> str:
        return acts.why_not_revoked(self.object)

    def act(self) -> str:
        acts.revoke(self.request.user, self.object, self.form.cleaned_data["because"])
        return str(reverse_lazy("systems:list"))
