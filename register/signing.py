"""Acts that are signed: whoever signs gives the password again, so that an open screen signs nothing.

Whoever signed in with a second factor may give a code in place of the password; where the firm asks approvers for a
code (settings.APPROVERS_NEED_CODE), they give both.

An act without a form of its own is a SignedConfirmPage, a form view takes SignedForm before it; others call `signed`.
"""

from functools import cached_property
from typing import Any

from django import forms
from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from register.address import client_address
from register.base.forms import prepared
from register.base.pages import ConfirmPage
from register.second.acts import check_code, digits_of, factor_of, is_required
from register.second.session import SIGNED_IN
from register.second.totp import DIGITS
from register.throttle import TooManyAttempts, guarded

FIELD = "signing_password"
"""Name of the entry on every page that is signed."""
CODE_FIELD = "signing_code"
"""Name of the entry for the code, where it is asked besides."""
STALE = _("You have a second factor since you signed in: sign out and sign in again, with a code. Nothing was signed.")


class SigningField(forms.CharField):
    """The password of whoever is signed in. Never put back into the page; a wrong one counts as a failed sign-in."""

    def __init__(self, request: HttpRequest) -> None:
        super().__init__(
            label=gettext("Your password, or a code") if may_be_code(request) else gettext("Your password"),
            strip=False,
            help_text=gettext("It signs this in your name."),
            widget=forms.PasswordInput(attrs={"autocomplete": "current-password"}),
            error_messages={"required": "Your password is missing: enter it to sign."},
        )
        self.request = request

    def clean(self, value: Any) -> str:
        text = super().clean(value)
        if problem := wrong(self.request, text):
            raise forms.ValidationError(problem)
        return str(text)


class SigningCode(forms.CharField):
    """The code of whoever is signed in, where the firm asks for one besides the password."""

    def __init__(self, request: HttpRequest) -> None:
        super().__init__(
            label=gettext("Code of your second factor"),
            max_length=40,
            widget=forms.TextInput(attrs={"autocomplete": "one-time-code"}),
            error_messages={"required": "The code is missing: enter the one that your telephone shows now."},
        )
        self.request = request

    def clean(self, value: Any) -> str:
        text = str(super().clean(value))
        if problem := wrong_code(self.request, text):
            raise forms.ValidationError(problem)
        return text

    def widget_attrs(self, widget: forms.Widget) -> dict[str, Any]:
        return super().widget_attrs(widget) | {"autocapitalize": "off"}


def needs_code(request: HttpRequest) -> bool:
    """True where whoever is signed in signs with password and code."""
    return settings.APPROVERS_NEED_CODE and is_required(request.user)


def may_be_code(request: HttpRequest) -> bool:
    """True where a code does in place of the password. Asks nothing for whoever signed in without one."""
    return bool(getattr(request, "session", {}).get(SIGNED_IN)) and not needs_code(request)


def wrong(request: HttpRequest, password: str) -> str:
    """Why this password, or code, does not sign for whoever is signed in, or "". Asked once for a request."""
    if not hasattr(request, "_signing_problem"):
        request._signing_problem = _wrong_either(request, password)  # type: ignore[attr-defined]
    return str(request._signing_problem)  # type: ignore[attr-defined]


def wrong_code(request: HttpRequest, code: str) -> str:
    """Why this code does not sign, or "". Asked once for a request: a code counts once."""
    if not hasattr(request, "_signing_code_problem"):
        # A right code is not used up where the password is wrong already.
        problem = "" if not getattr(request, "_signing_problem", "") else "Not looked at: the password is wrong."
        request._signing_code_problem = problem or _wrong_code(request.user, code)  # type: ignore[attr-defined]
    return str(request._signing_code_problem)  # type: ignore[attr-defined]


def _wrong_either(request: HttpRequest, given: str) -> str:
    # A session older than the factor may be that of whoever saw the password, for which the factor was set up.
    if not getattr(request, "session", {}).get(SIGNED_IN) and factor_of(request.user) is not None:
        return STALE
    if may_be_code(request) and digits_of(given).isdecimal() and len(digits_of(given)) == DIGITS:
        return _wrong_code(request.user, given)
    return _wrong(request.user, client_address(request), given)


def _wrong_code(user: Any, code: str) -> str:
    try:
        right = check_code(user, code)
    except TooManyAttempts as locked:
        return str(locked)
    return (
        ""
        if right
        else gettext("This code does not count, or was used already: wait for the next one. Nothing was signed.")
    )


def _wrong(user: Any, address: str, password: str) -> str:
    try:
        right = guarded(user.get_username(), address, lambda: True if user.check_password(password) else None)
    except TooManyAttempts as locked:
        return str(locked)
    return "" if right else gettext("This is not your password. Nothing was signed.")


def signed(form: forms.BaseForm, request: HttpRequest) -> forms.BaseForm:
    """The form with the password of the signer as its last entry, and the code after it where that is asked too."""
    form.fields[FIELD] = SigningField(request)
    if needs_code(request):
        form.fields[CODE_FIELD] = SigningCode(request)
    return form


class SigningForm(forms.Form):
    """The password alone, for acts that ask for nothing else."""

    def __init__(self, *args: Any, request: HttpRequest, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        signed(self, request)


class SignedForm:
    """Mixin before a form view: the view's form asks for the password too."""

    def get_form(self, form_class: Any = None) -> Any:
        """The form with the entry for the password."""
        return prepared(signed(super().get_form(form_class), self.request))  # type: ignore[misc, attr-defined]


class SignedConfirmPage(ConfirmPage):
    """A confirm page that is signed: 422 with the fault at the field where the password is not right.

    `form_class` is what else is asked (a reason); `act` reads it from `self.form.cleaned_data`.
    """

    form_class: type[forms.Form] = forms.Form

    @cached_property
    def form(self) -> forms.BaseForm:
        """What is asked, with the password last."""
        data = self.request.POST if self.request.method == "POST" else None
        return prepared(signed(self.form_class(data), self.request))

    def post(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        self.object = self.find()
        if not self.form.is_valid():
            return self.render_to_response(self.get_context_data(), status=422)
        return super().post(request, *args, **kwargs)

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        return super().get_context_data(form=self.form, **kwargs)
