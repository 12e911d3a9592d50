"""Pages of accounts, for whoever manages them; every change is signed with the password."""

from typing import Any

import django_filters
import django_tables2 as columns
from django.contrib import messages
from django.contrib.auth.models import User
from django.db.models import Q, QuerySet
from django.http import HttpResponse, HttpResponseRedirect
from django.shortcuts import get_object_or_404
from django.urls import reverse, reverse_lazy
from django.utils import timezone
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _
from django.views.generic.edit import FormView

from register.base.context import ROLE_NAMES
from register.base.filters import RegisterFilterSet
from register.base.forms import prepared
from register.base.lists import ListPage
from register.base.pages import Page
from register.base.tables import LeanTable, link
from register.plants.reach import current
from register.roles import Capability, Role
from register.second.acts import factor_of, take_away
from register.signing import SignedForm
from register.users import accounts
from register.users.forms import AccountForm, NewAccountForm, NothingElse, PasswordForm


class AccountTable(LeanTable):
    """Accounts with their roles."""

    username = columns.Column(verbose_name=_("Signs in as"))
    name = columns.Column(accessor="get_full_name", orderable=False)
    roles = columns.Column(accessor="pk", orderable=False)
    is_active = columns.Column(verbose_name=_("May sign in"))
    last_login = columns.Column(verbose_name=_("Last signed in"), empty_values=())

    caption = _("Accounts")

    class Meta(LeanTable.Meta):
        order_by = ("username", "pk")

    def render_username(self, value: str, record: User) -> str:
        return link(reverse("users:change", args=[record.pk]), value)

    def value_username(self, value: str) -> str:
        return value

    def render_roles(self, record: User) -> str:
        held = {group.name for group in record.groups.all()}
        said = [str(text) for role, text in ROLE_NAMES.items() if role.value in held]
        words = {role.value: text for role, text in ROLE_NAMES.items()}
        if current().several:
            said += [
                gettext("%(role)s at %(plant)s") % {"role": words.get(one.role, one.role), "plant": one.plant}
                for one in record.plant_roles.all()
            ]
        return ", ".join(said) or gettext("none")

    value_roles = render_roles

    def render_is_active(self, value: bool) -> str:
        return gettext("yes") if value else gettext("no")

    def render_last_login(self, value: Any) -> str:
        return f"{timezone.localtime(value):%Y-%m-%d}" if value else gettext("not yet")


class AccountFilter(RegisterFilterSet):
    """By name and role."""

    search_fields = ("username", "first_name", "last_name")
    role = django_filters.ChoiceFilter(
        method="holding", label=_("Role"), choices=[(role.value, ROLE_NAMES[role]) for role in Role]
    )
    is_active = django_filters.BooleanFilter(label=_("May sign in"))

    def holding(self, rows: QuerySet[User], name: str, value: str) -> QuerySet[User]:
        """Those who hold the role, for the whole firm or at a plant."""
        return rows.filter(Q(groups__name=value) | Q(plant_roles__role=value)).distinct()


class AccountList(ListPage):
    """Who may sign in, and as what."""

    required_capability = Capability.MANAGE_USERS
    page_title = _("Accounts")
    lead = _("Who may sign in, and in which role. An account is switched off, never deleted.")
    table_class = AccountTable
    filterset_class = AccountFilter
    create_label = _("Add an account")
    empty = {"title": _("No accounts."), "teach": _("There is always one.")}

    def get_queryset(self) -> QuerySet[User]:
        rows = accounts.in_reach().prefetch_related("groups")
        return rows.prefetch_related("plant_roles__plant") if current().several else rows

    def get_create_url(self) -> str:
        return reverse("users:new")


class AccountPage(SignedForm, Page, FormView):
    """What the forms of an account share."""

    required_capability = Capability.MANAGE_USERS
    template_name = "generic/form.html"
    success_url = reverse_lazy("users:list")
    save_label = _("Save")
    warns = False

    @property
    def account(self) -> User:
        """The account of the address, or a new one."""
        return get_object_or_404(accounts.in_reach(), pk=self.kwargs["pk"]) if "pk" in self.kwargs else User()

    def get_form(self, form_class: Any = None) -> Any:
        return prepared(super().get_form(form_class))

    def get_form_kwargs(self) -> dict[str, Any]:
        return super().get_form_kwargs() | {"instance": self.account}

    def act(self, form: Any) -> User:
        """Do it. Raises ValueError with a sentence where it cannot be done."""
        raise NotImplementedError

    def form_valid(self, form: Any) -> HttpResponse:
        try:
            user = self.act(form)
        except ValueError as refusal:
            form.add_error(None, str(refusal))
            return self.form_invalid(form)
        messages.success(self.request, gettext("Saved: %(username)s.") % {"username": user.get_username()})
        return HttpResponseRedirect(str(self.success_url))

    def form_invalid(self, form: Any) -> HttpResponse:
        return self.render_to_response(self.get_context_data(form=form), status=422)

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        held = {"has_factor": factor_of(self.account) is not None, "warns": self.warns}
        return super().get_context_data(cancel_url=reverse("users:list"), save_label=self.save_label, **held, **kwargs)


class AccountNew(AccountPage):
    """A new account."""

    page_title = _("Add an account")
    form_class = NewAccountForm

    def act(self, form: NewAccountForm) -> User:
        data = form.cleaned_data
        return accounts.make(self.request.user, form.save(commit=False), form.for_all, data["password"], form.at)


class AccountChange(AccountPage):
    """Roles, names, and whether the account may sign in."""

    template_name = "register/account.html"
    form_class = AccountForm

    def get_page_title(self) -> str:
        return gettext("Account %(username)s") % {"username": self.account.get_username()}

    def act(self, form: AccountForm) -> User:
        return accounts.change(self.request.user, form.save(commit=False), form.for_all, form.at)


class AccountPassword(AccountPage):
    """A new password for somebody who forgot theirs."""

    form_class = PasswordForm
    save_label = _("Set the password")

    def get_page_title(self) -> str:
        return gettext("New password for %(username)s") % {"username": self.account.get_username()}

    def act(self, form: PasswordForm) -> User:
        return accounts.set_password(self.request.user, form.instance, form.cleaned_data["password"])


class AccountFactor(AccountPage):
    """Take away the second factor of somebody who lost the telephone and the recovery codes."""

    form_class = NothingElse
    save_label = _("Take it away")
    warns = True

    def get_page_title(self) -> str:
        return gettext("Second factor of %(username)s") % {"username": self.account.get_username()}

    def get_lead(self) -> str:
        if factor_of(self.account) is None:
            return gettext("There is none, so there is nothing to take away.")
        return gettext(
            "Be sure that the owner asks: from then on the password alone signs in, until a new one is set up."
        )

    def act(self, form: NothingElse) -> User:
        take_away(form.instance, self.request.user)
        return form.instance
