"""Acts that are signed: whoever signs gives the password again, so that an open screen signs nothing.

An act without a form of its own is a SignedConfirmPage, a form view takes SignedForm before it; others call `signed`.
"""

from functools import cached_property
from typing import Any

from django import forms
from django.http import HttpRequest, HttpResponse

from register.address import client_address
from register.base.forms import prepared
from register.base.pages import ConfirmPage
from register.throttle import TooManyAttempts, guarded

FIELD = "signing_password"
"""Name of the entry on every page that is signed."""


class SigningField(forms.CharField):
    """The password of whoever is signed in. Never put back into the page; a wrong one counts as a failed sign-in."""

    def __init__(self, request: HttpRequest) -> None:
        super().__init__(
            label="Your password",
            strip=False,
            help_text="It signs this in your name.",
            widget=forms.PasswordInput(attrs={"autocomplete": "current-password"}),
            error_messages={"required": "Your password is missing: enter it to sign."},
        )
        self.request = request

    def clean(self, value: Any) -> str:
        text = super().clean(value)
        if problem := wrong(self.request, text):
            raise forms.ValidationError(problem)
        return str(text)


def wrong(request: HttpRequest, password: str) -> str:
    """Why this password does not sign for whoever is signed in, or "". Asked once for a request."""
    if not hasattr(request, "_signing_problem"):
        request._signing_problem = _wrong(request.user, client_address(request), password)  # type: ignore[attr-defined]
    return str(request._signing_problem)  # type: ignore[attr-defined]


def _wrong(user: Any, address: str, password: str) -> str:
    try:
        right = guarded(user.get_username(), address, lambda: True if user.check_password(password) else None)
    except TooManyAttempts as locked:
        return str(locked)
    return "" if right else "This is not your password. Nothing was signed."


def signed(form: forms.BaseForm, request: HttpRequest) -> forms.BaseForm:
    """The form with the password of the signer as its last entry."""
    form.fields[FIELD] = SigningField(request)
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
        return signed(super().get_form(form_class), self.request)  # type: ignore[misc, attr-defined]


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
        self.object = self.get_object()
        if not self.form.is_valid():
            return self.render_to_response(self.get_context_data(), status=422)
        return super().post(request, *args, **kwargs)

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        return super().get_context_data(form=self.form, **kwargs)
