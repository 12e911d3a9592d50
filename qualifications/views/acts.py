"""Pages that record an event of one certificate: confirm, prolong, revoke, correct."""

from functools import cached_property
from typing import Any

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.forms import Form
from django.http import HttpResponse, HttpResponseRedirect
from django.shortcuts import get_object_or_404
from django.utils import timezone
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _
from django.views.generic.edit import FormView

from codes.readings import Settings
from qualifications import events
from qualifications.event_forms import ConfirmForm, CorrectForm, EndForm, ProlongForm, RenewForm
from qualifications.models import Certificate, CertificateEvent, WeldLogEntry
from qualifications.proposals import Proposal, proposal, since
from qualifications.sheets import certificate_view
from register.base.views import Page
from register.held.firm import firm_settings
from register.plants.rows import own
from register.roles import Capability
from register.signing import SignedForm


class EventPage(SignedForm, Page, FormView):
    """An act on one certificate: its state above, the form below, one event written and signed with the password."""

    template_name = "qualifications/event_form.html"
    done = _("Recorded.")
    save_label = _("Record it")
    warns = False

    @cached_property
    def today(self) -> Any:
        """The day of entry; what is signed cannot be later."""
        return timezone.localdate()

    @cached_property
    def settings(self) -> Settings:
        """How the firm reads what is doubtful."""
        return firm_settings()

    def find(self) -> Certificate:
        """The certificate of the address, with person and events."""
        rows = Certificate.objects.select_related("person").prefetch_related("events")
        return get_object_or_404(rows, pk=self.kwargs["pk"])

    def get(self, request: Any, *args: Any, **kwargs: Any) -> HttpResponse:
        self.certificate = own(self.find())
        self.refuse_strangers()
        return super().get(request, *args, **kwargs)

    def post(self, request: Any, *args: Any, **kwargs: Any) -> HttpResponse:
        self.certificate = own(self.find())
        self.refuse_strangers()
        return super().post(request, *args, **kwargs)

    def refuse_strangers(self) -> None:
        """Raise PermissionDenied where a supervisor acts on somebody who reports to another."""
        if not events.may_confirm(self.request.user, self.certificate.person):
            raise PermissionDenied(gettext("%(name)s does not report to you.") % {"name": self.certificate.person.name})

    def act(self, form: Any) -> None:
        """Write the event. Raises ValueError with a sentence where it cannot be done."""
        raise NotImplementedError

    def form_valid(self, form: Form) -> HttpResponse:
        try:
            self.act(form)
        except ValueError as refusal:
            form.add_error(None, str(refusal))
            return self.form_invalid(form)
        messages.success(self.request, self.done.format(self.certificate))
        return HttpResponseRedirect(self.certificate.get_absolute_url())

    def form_invalid(self, form: Form) -> HttpResponse:
        return self.render_to_response(self.get_context_data(form=form), status=422)

    def get_form_kwargs(self) -> dict[str, Any]:
        own = {"certificate": self.certificate, "user": self.request.user, "today": self.today}
        own |= {"settings": self.settings}
        return super().get_form_kwargs() | own

    def get_lead(self) -> str:
        held = self.certificate
        return gettext("%(number)s, %(code)s, held by %(name)s") % {
            "number": held.number,
            "code": held.code,
            "name": held.person.name,
        }

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        view = certificate_view(self.certificate, self.today, self.request.user, self.settings)
        cancel = self.certificate.get_absolute_url()
        return super().get_context_data(
            view=view, cancel_url=cancel, save_label=self.save_label, warns=self.warns, **kwargs
        )


class Confirm(EventPage):
    """The six-month confirmation of one certificate, with the weld log as evidence beside it."""

    required_capability = Capability.CONFIRM_OWN_PEOPLE
    page_title = _("Confirm a certificate")
    form_class = ConfirmForm
    save_label = _("Sign the confirmation")
    done = _("Confirmed: {0}.")

    @cached_property
    def proposal(self) -> Proposal:
        """What the log proposes for a signature today."""
        held = self.certificate
        days = (since([held], self.today), self.today)
        log = list(WeldLogEntry.objects.filter(person=held.person_id, on__range=days).select_related("person"))
        return proposal(held, log, self.today, self.settings)

    def get_form_kwargs(self) -> dict[str, Any]:
        found = self.proposal
        return super().get_form_kwargs() | {"entries": found.entries, "chosen": found.chosen}

    def act(self, form: ConfirmForm) -> None:
        events.confirm(self.certificate, form.signature(), self.today, self.settings)

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        form = kwargs.setdefault("form", None) or self.get_form()
        kwargs["form"] = form
        return super().get_context_data(
            entries=form.entries,
            window=(since([self.certificate], self.today), self.today),
            blocked=events.obstacle(self.certificate, self.today, self.today, self.settings, state_shown=True),
            signature=[("Signature", [form[name] for name in ("on", "by_name", "by_role")])],
            **kwargs,
        )


class Prolong(EventPage):
    """The prolongation under option b: two tested welds."""

    required_capability = Capability.EDIT_PEOPLE
    page_title = _("Prolong a certificate")
    form_class = ProlongForm
    save_label = _("Record the prolongation")
    done = _("Prolonged: {0}.")

    def act(self, form: ProlongForm) -> None:
        events.prolong(self.certificate, form.signature(), self.today, self.settings)


class Renew(EventPage):
    """The renewal test of a certificate that lives on use."""

    required_capability = Capability.EDIT_PEOPLE
    page_title = _("Record a renewal test")
    form_class = RenewForm
    done = _("Recorded: {0}.")

    def act(self, form: RenewForm) -> None:
        passed, signature = form.cleaned_data["passed"] == "yes", form.signature()
        reason = "" if passed else form.cleaned_data["evidence"]
        events.renew(self.certificate, passed, signature, reason, self.today, self.settings)


class Revoke(EventPage):
    """A revocation, or what ended option c, with its reason."""

    required_capability = Capability.EDIT_PEOPLE
    page_title = _("Revoke a certificate")
    form_class = EndForm
    save_label = _("Revoke")
    warns = True
    done = _("Recorded; the certificate no longer counts from that day: {0}.")

    def act(self, form: EndForm) -> None:
        data = form.cleaned_data
        events.end(self.certificate, data["kind"], form.signature(), data["reason"], self.today)


class Correct(EventPage):
    """The correction of an event entered by mistake; both stay on file."""

    required_capability = Capability.CONFIRM_OWN_PEOPLE
    page_title = _("Correct an entry")
    form_class = CorrectForm
    save_label = _("Void the entry")
    warns = True
    done = _("The entry is void; both stay on file: {0}.")

    def find(self) -> Certificate:
        rows = CertificateEvent.objects.select_related("certificate__person")
        self.event = get_object_or_404(rows, pk=self.kwargs["pk"])
        return self.event.certificate

    def refuse_strangers(self) -> None:
        super().refuse_strangers()
        if self.event.kind != CertificateEvent.Kind.CONFIRMATION and not self.may(Capability.EDIT_PEOPLE):
            raise PermissionDenied(gettext("Only a coordinator corrects a prolongation or a revocation."))

    def act(self, form: CorrectForm) -> None:
        events.correct(self.event, form.signature(), form.cleaned_data["reason"])

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        return super().get_context_data(event=self.event, **kwargs)
