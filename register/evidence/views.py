"""Giving a scan out, and the bases of the pages by which an app attaches and withdraws scans."""

import logging
from typing import Any, ClassVar

from django import forms
from django.contrib import messages
from django.db.models import Model, QuerySet
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import get_object_or_404
from django.utils.http import content_disposition_header
from django.utils.text import format_lazy
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _
from django.views.decorators.http import require_safe
from django.views.generic.edit import FormView

from register.base.forms import prepared
from register.base.pages import ConfirmPage, Page
from register.evidence import store
from register.evidence.acts import attach, type_of, withdraw
from register.evidence.kinds import KINDS, MAX_BYTES, BadFile
from register.evidence.models import EvidenceFile
from register.plants.rows import own
from register.roles import Capability, requires

POLICY = "default-src 'none'; sandbox; frame-ancestors 'none'"
MIMES = {kind.token: kind.mime for kind in KINDS}
log = logging.getLogger(__name__)


@requires(Capability.VIEW)
@require_safe
def evidence_file(request: HttpRequest, pk: int) -> HttpResponse:
    """The scan as a file to save: never inside a page, and never as anything but what it is."""
    file = get_object_or_404(EvidenceFile, pk=pk)
    try:
        data = store.read(file.sha256)
    except store.Damaged as problem:
        log.error("Evidence %s of %s %s: %s", file.pk, file.subject_type, file.subject_id, problem)
        raise Http404(
            gettext("%(file_name)s is missing or damaged; restore it from the backup.") % {"file_name": file.file_name}
        ) from None
    response = HttpResponse(data, content_type=MIMES[file.kind])
    response.headers["Content-Disposition"] = content_disposition_header(True, file.file_name) or "attachment"
    response.headers["X-Content-Type-Options"] = "nosniff"
    response.headers["Content-Security-Policy"] = POLICY
    response.headers["Cache-Control"] = "private, no-store"
    return response


class EvidenceForm(forms.Form):
    """A scan and what it shows."""

    file = forms.FileField(
        label=_("Scan"),
        help_text=format_lazy(
            _("PDF, JPEG or PNG, at most {size} MB. It cannot be removed again."), size=MAX_BYTES // 1024**2
        ),
    )
    note = forms.CharField(label=_("What it shows"), required=False, max_length=250)


class AddEvidence(Page, FormView):
    """Attach a scan to one thing. An app gives `find_subject` and the capability."""

    template_name = "register/evidence_form.html"
    form_class = EvidenceForm
    page_title = _("Attach a scan")

    def find_subject(self) -> Model:
        """The thing of the address. Raises Http404."""
        raise NotImplementedError

    def back_url(self, subject: Model) -> str:
        """The page that lists what is attached."""
        return subject.get_absolute_url()  # type: ignore[attr-defined, no-any-return]

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        own(self.find_subject())
        return super().get(request, *args, **kwargs)

    def post(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        own(self.find_subject())
        return super().post(request, *args, **kwargs)

    def get_lead(self) -> str:
        return gettext("To %(find_subject)s") % {"find_subject": self.find_subject()}

    def get_form(self, form_class: Any = None) -> Any:
        return prepared(super().get_form(form_class))

    def form_valid(self, form: Any) -> HttpResponse:
        subject, upload = self.find_subject(), form.cleaned_data["file"]
        try:
            # One byte more than is allowed shows that there is more.
            made = attach(
                subject, upload.name, upload.read(MAX_BYTES + 1), form.cleaned_data["note"], self.request.user
            )
        except BadFile as refusal:
            form.add_error("file", str(refusal))
            return self.form_invalid(form)
        messages.success(self.request, gettext("Attached: %(made)s.") % {"made": made})
        return HttpResponseRedirect(self.back_url(subject))

    def form_invalid(self, form: Any) -> HttpResponse:
        return self.render_to_response(self.get_context_data(form=form), status=422)

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        return super().get_context_data(cancel_url=self.back_url(self.find_subject()), **kwargs)


class WithdrawForm(forms.Form):
    """Why a scan does not count."""

    because = forms.CharField(label=_("Why"), widget=forms.Textarea(attrs={"rows": 3}), max_length=1000)


class WithdrawEvidence(ConfirmPage):
    """Withdraw a scan of the app's own kinds of things, with a reason; it stays on file."""

    page_title = _("Withdraw a scan")
    act_label = _("Withdraw it")
    warns = True
    done_message = _("Withdrawn: {0}. It stays on file.")
    subjects: ClassVar[tuple[type[Model], ...]] = ()

    def get_queryset(self) -> QuerySet[EvidenceFile]:
        return EvidenceFile.objects.filter(subject_type__in=[type_of(model) for model in self.subjects])

    def find_subject(self) -> Model:
        """What the scan is attached to."""
        model = next(model for model in self.subjects if type_of(model) == self.object.subject_type)
        return get_object_or_404(model._default_manager.all(), pk=self.object.subject_id)

    def back_url(self, subject: Model) -> str:
        """The page that lists what is attached."""
        return subject.get_absolute_url()  # type: ignore[attr-defined, no-any-return]

    def get_sentence(self) -> str:
        return gettext("%(file_name)s will no longer count as evidence. It stays on file with the reason.") % {
            "file_name": self.object.file_name
        }

    def get_cancel_url(self) -> str:
        return self.back_url(self.find_subject())

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        return super().get_context_data(form=prepared(WithdrawForm(self.request.POST or None)), **kwargs)

    def act(self) -> str:
        withdraw(self.object, self.request.POST.get("because", ""), self.request.user)
        return self.back_url(self.find_subject())
