"""Signing in and out, and one's own password."""

import time
from typing import Any

from django.contrib.auth.forms import AuthenticationForm, PasswordChangeForm
from django.contrib.auth.views import LoginView, LogoutView, PasswordChangeView
from django.core.exceptions import ValidationError
from django.db import transaction
from django.shortcuts import redirect
from django.urls import reverse_lazy
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from register.address import client_address
from register.audit import record_act
from register.base.forms import prepared
from register.base.pages import Page
from register.roles import Capability, requires
from register.second.acts import factor_of
from register.second.session import Waiting, keep_waiting
from register.throttle import TooManyAttempts, guarded


class SignInForm(AuthenticationForm):
    """Name and password; after some failures the name is refused from that address for a while."""

    error_messages = {
        **AuthenticationForm.error_messages,
        "invalid_login": _("This name and password do not go together. Capitals and small letters count in both."),
    }

    def clean(self) -> dict[str, Any]:
        name = self.cleaned_data.get("username")
        if not name or not self.cleaned_data.get("password"):
            return super().clean()
        refused: list[ValidationError] = []

        def signed_in() -> dict[str, Any] | None:
            try:
                return super(SignInForm, self).clean()
            except ValidationError as wrong:
                refused.append(wrong)
                return None

        try:
            found = guarded(name, client_address(self.request), signed_in)
        except TooManyAttempts as locked:
            raise ValidationError(str(locked), code="locked") from locked
        if found is None:
            raise refused[0]
        return found


class SignIn(LoginView):
    """Open to everybody; whoever is signed in goes home. Whoever has a second factor is asked for a code next."""

    form_class = SignInForm
    redirect_authenticated_user = True

    def form_valid(self, form: Any) -> Any:
        user = form.get_user()
        if factor_of(user) is None:
            return super().form_valid(form)
        who = Waiting(user.pk, user.backend, user.get_session_auth_hash(), self.get_redirect_url(), time.time())
        keep_waiting(self.request, who)
        return redirect("second:code")


@requires(Capability.OWN_ACCOUNT)
class SignOut(LogoutView):
    """Ends the session (POST only)."""


class OwnPasswordForm(PasswordChangeForm):
    """The old password and a new one twice; wrong old ones count as failed sign-ins."""

    error_messages = {
        **PasswordChangeForm.error_messages,
        "password_incorrect": _("This is not your old password; enter it again."),
        "password_mismatch": _("The two new passwords differ; enter the same one twice."),
    }

    def __init__(self, *args: Any, address: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.address = address
        first, again = self.fields["new_password1"], self.fields["new_password2"]
        first.help_text = _("At least 10 characters; not one that many use, and nothing like your name.")
        again.label, again.help_text = _("New password, again"), ""

    def save(self, commit: bool = True) -> Any:
        """Set the password, and save nothing else of the account."""
        self.user.set_password(self.cleaned_data["new_password1"])
        if commit:
            self.user.save(update_fields=["password"])
        return self.user

    def clean_old_password(self) -> str:
        """The old password. Raises ValidationError where it is wrong, or was too often."""
        try:
            found = guarded(self.user.get_username(), self.address, self._old)
        except TooManyAttempts as locked:
            raise ValidationError(str(locked), code="locked") from locked
        if found is None:
            raise ValidationError(self.error_messages["password_incorrect"], code="password_incorrect")
        return found

    def _old(self) -> str | None:
        given: str = self.cleaned_data["old_password"]
        return given if self.user.check_password(given) else None


class OwnPassword(Page, PasswordChangeView):
    """Change one's own password; asks for the old one, and ends all other sessions."""

    required_capability = Capability.OWN_ACCOUNT
    template_name = "generic/form.html"
    page_title = _("Own password")
    form_class = OwnPasswordForm
    success_url = reverse_lazy("login")

    def get_form_kwargs(self) -> dict[str, Any]:
        return super().get_form_kwargs() | {"address": client_address(self.request)}

    def get_form(self, form_class: Any = None) -> Any:
        return prepared(super().get_form(form_class))

    def form_valid(self, form: Any) -> Any:
        with transaction.atomic():
            response = super().form_valid(form)
            record_act(self.request.user, "changed the own password of", self.request.user)
        return response

    def form_invalid(self, form: Any) -> Any:
        return self.render_to_response(self.get_context_data(form=form), status=422)

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        return super().get_context_data(save_label=gettext("Set the password"), cancel_url="/", **kwargs)
