"""The code at sign-in, and one's own second factor: set up, new recovery codes, taken away."""

import time
from typing import Any

import segno
from django import forms
from django.contrib import messages
from django.contrib.auth import login as sign_in
from django.contrib.auth.decorators import login_not_required
from django.contrib.auth.models import User
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.decorators import method_decorator
from django.utils.http import url_has_allowed_host_and_scheme
from django.utils.safestring import mark_safe
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _
from django.views.decorators.cache import never_cache
from django.views.generic.edit import FormView

from register.base.forms import prepared
from register.base.pages import Page, PlainPage
from register.plants.reach import whole
from register.roles import Capability
from register.second import acts
from register.second.session import SIGNED_IN, Waiting, keep_waiting, waiting
from register.second.totp import address, new_secret
from register.signing import CODE_FIELD, SignedConfirmPage, SignedForm
from register.throttle import TooManyAttempts

DRAFT = "second_factor_draft"
ISSUER = "Welding register"


class CodeForm(forms.Form):
    """A code alone."""

    code = forms.CharField(
        label=_("Code"),
        max_length=40,
        help_text=_("The six digits that your telephone shows now, or a recovery code."),
        widget=forms.TextInput(attrs={"autocomplete": "one-time-code", "autofocus": True, "autocapitalize": "off"}),
        error_messages={"required": "The code is missing: enter the one that your telephone shows now."},
    )


@method_decorator([login_not_required, never_cache], name="dispatch")
class SignInCode(FormView):
    """The second step of signing in, for whoever has given the right password a moment ago."""

    template_name = "register/second/code.html"
    form_class = CodeForm

    def dispatch(self, request: HttpRequest, *args: Any, **kwargs: Any) -> Any:
        self.waiting = waiting(request)
        if self.waiting is None:
            return redirect("login")
        return super().dispatch(request, *args, **kwargs)

    def get_form(self, form_class: Any = None) -> Any:
        return prepared(super().get_form(form_class))

    def form_valid(self, form: Any) -> HttpResponse:
        held: Waiting = self.waiting  # type: ignore[assignment]
        user = User.objects.filter(pk=held.user, is_active=True).first()
        if user is None or user.get_session_auth_hash() != held.password:
            return redirect("login")
        try:
            # Nobody is signed in yet; the trail may be written to all the same.
            with whole():
                right = acts.check_code(user, form.cleaned_data["code"])
        except TooManyAttempts as locked:
            return self.refused(form, str(locked))
        if not right:
            return self.refused(form, "This code does not count, or was used already: wait for the next one.")
        keep_waiting(self.request, None)
        sign_in(self.request, user, held.backend)
        self.request.session[SIGNED_IN] = True
        return HttpResponseRedirect(self.target(held.next))

    def target(self, wanted: str) -> str:
        """Where whoever signs in wanted to go, if it is a page of ours."""
        host = {self.request.get_host()}
        return wanted if url_has_allowed_host_and_scheme(wanted, host, self.request.is_secure()) else "/"

    def refused(self, form: Any, why: str) -> HttpResponse:
        """The same page with the reason."""
        form.add_error("code", why)
        return self.form_invalid(form)

    def form_invalid(self, form: Any) -> HttpResponse:
        return self.render_to_response(self.get_context_data(form=form), status=422)

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        return super().get_context_data(page_title=gettext("Sign in: your code"), **kwargs)


class OwnFactor(PlainPage):
    """One's own second factor: whether there is one, and the ways on."""

    required_capability = Capability.OWN_ACCOUNT
    template_name = "register/second/own.html"
    page_title = _("Second factor")
    lead = _("A code from your telephone besides the password: a password that somebody has seen opens nothing alone.")

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        factor = acts.factor_of(self.request.user)
        left = factor.recovery_codes.filter(used_at__isnull=True).count() if factor else 0
        required = acts.is_required(self.request.user)
        return super().get_context_data(factor=factor, left=left, required=required, **kwargs)


class SetUpForm(CodeForm):
    """The first code, which shows that the telephone has the secret."""

    field_order = ("code",)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["code"].help_text = "The six digits that the telephone shows once it has read the square code."


class SetUp(SignedForm, Page, FormView):
    """Show the secret as a square code, and take the first code from the telephone."""

    required_capability = Capability.OWN_ACCOUNT
    template_name = "register/second/set_up.html"
    form_class = SetUpForm
    page_title = _("Set up the second factor")

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        if acts.factor_of(request.user) is not None:
            return redirect("second:own")
        # A secret that was shown is used up within ten minutes, or another is made.
        made, at = request.session.get(DRAFT, ("", 0.0))
        if not made or time.time() - at > 600:
            request.session[DRAFT] = (new_secret(), time.time())
        response = super().get(request, *args, **kwargs)
        response.headers["Cache-Control"] = "no-store"
        return response

    def get_form(self, form_class: Any = None) -> Any:
        form = super().get_form(form_class)
        # The first code is this form's own: there is no factor yet of which another could be asked.
        form.fields.pop(CODE_FIELD, None)
        return prepared(form)

    @property
    def secret(self) -> str:
        """The secret that is being set up; "" where none was shown."""
        return str(self.request.session.get(DRAFT, ("", 0.0))[0])

    def form_valid(self, form: Any) -> HttpResponse:
        if not self.secret:
            return redirect("second:set_up")
        try:
            codes = acts.set_up(self.request.user, self.secret, form.cleaned_data["code"])
        except ValueError as refusal:
            form.add_error("code", str(refusal))
            return self.form_invalid(form)
        del self.request.session[DRAFT]
        self.request.session.cycle_key()
        self.request.session[SIGNED_IN] = True
        return shown_once(self.request, codes)

    def form_invalid(self, form: Any) -> HttpResponse:
        return self.render_to_response(self.get_context_data(form=form), status=422)

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        secret = self.secret
        said = address(secret, self.request.user.get_username(), ISSUER)
        square = (
            segno.make(said, micro=False).svg_inline(scale=5, border=4, dark="#000", light="#fff") if secret else ""
        )
        grouped = " ".join(secret[at : at + 4] for at in range(0, len(secret), 4))
        return super().get_context_data(square=mark_safe(square), secret=grouped, **kwargs)


class NewCodes(SignedConfirmPage):
    """Ten new recovery codes; the earlier ones count no more."""

    required_capability = Capability.OWN_ACCOUNT
    page_title = _("New recovery codes")
    act_label = _("Make new ones")

    def find(self) -> User:
        """One's own account, wherever it works."""
        return self.request.user

    def get_sentence(self) -> str:
        return gettext("The recovery codes that you have count no more; ten new ones are shown, this once.")

    def get_cancel_url(self) -> str:
        return reverse("second:own")

    def post(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        if not self.form.is_valid() or acts.factor_of(request.user) is None:
            return super().post(request, *args, **kwargs)
        return shown_once(request, acts.new_codes(request.user))

    def act(self) -> str:
        raise ValueError("There is no second factor: set one up first.")


class TakeAway(SignedConfirmPage):
    """Remove one's own second factor."""

    required_capability = Capability.OWN_ACCOUNT
    page_title = _("Take the second factor away")
    act_label = _("Take it away")
    warns = True

    def find(self) -> User:
        """One's own account, wherever it works."""
        return self.request.user

    def get_sentence(self) -> str:
        return gettext("From now on your password alone signs you in, until you set up a second factor again.")

    def get_cancel_url(self) -> str:
        return reverse("second:own")

    def act(self) -> str:
        acts.take_away(self.request.user, self.request.user)
        self.request.session.pop(SIGNED_IN, None)
        messages.success(self.request, gettext("The second factor is taken away."))
        return self.get_cancel_url()


def shown_once(request: HttpRequest, codes: list[str]) -> HttpResponse:
    """The page with new recovery codes, which no browser keeps."""
    from django.shortcuts import render

    response = render(request, "register/second/codes.html", {"codes": codes, "page_title": gettext("Recovery codes")})
    response.headers["Cache-Control"] = "no-store"
    return response
