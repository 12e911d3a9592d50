"""The page of one certificate, and the form that enters or changes it."""

from typing import Any

from django.core.exceptions import BadRequest
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from codes.editions import Edition, editions_of
from codes.parse import Plain
from codes.variables import label_of
from qualifications.certificate_form import CertificateForm
from qualifications.changes import changes_of_certificate
from qualifications.clocks import Clock, clock_of
from qualifications.designations import WELDER, read_designation
from qualifications.models import Certificate, Person
from qualifications.past import past_of
from qualifications.periods import edition_of
from qualifications.pieces import PIECES_AT_MOST
from qualifications.sheets import certificate_view
from qualifications.views.scans import scans_of
from register.base.forms import sections
from register.base.views import Act, DetailPage, FormPage
from register.held.firm import firm_settings
from register.own_units.reader import units_of
from register.own_units.words import sentence_in, typed_of
from register.plants.rows import own
from register.roles import Capability


class CertificatePage(DetailPage):
    """One certificate on the date asked about: state, range line by line, events, who changed what."""

    required_capability = Capability.VIEW
    template_name = "qualifications/certificate.html"
    queryset = Certificate.objects.select_related("person").prefetch_related("events")

    def get_page_title(self) -> str:
        return gettext("Certificate %(number)s") % {"number": self.object.number}

    def get_lead(self) -> str:
        held = self.object
        return gettext("%(code)s, held by %(name)s") % {"code": held.standard_and_kind, "name": held.person.name}

    def get_facts(self) -> list[tuple[str, ...]]:
        held = self.object
        designation = held.designation or self.view.written
        option, until = held.get_option_display(), _day(held.printed_until)
        # What the standard does not know is not missing: only ISO 9606-1 designates, what lives on use has no end.
        used = clock_of(held) is Clock.USED
        return [
            (gettext("Holder"), held.person.name, held.person.get_absolute_url()),
            *([(gettext("Designation"), designation)] if designation or held.code == WELDER else []),
            (gettext("Test piece welded on"), _day(held.welded_on)),
            (gettext("Results accepted on"), _day(held.results_on)),
            (gettext("Issued on"), _day(held.issued_on)),
            *([(gettext("Revalidation option"), option)] if option or not used else []),
            *([(gettext("Valid until, as printed"), until)] if until or not used else []),
            (gettext("WPS of the test"), held.wps),
            (gettext("Examiner"), held.examiner),
            (gettext("Examining body"), held.examining_body),
            (gettext("Employer at the test"), held.employer_then),
            (gettext("Job knowledge"), held.job_knowledge),
        ]

    def get_acts(self) -> list[Act]:
        view = self.view
        pk = self.object.pk
        used = clock_of(self.object) is Clock.USED
        pdf = Act(gettext("PDF"), reverse("qualifications:certificate_sheet", args=[pk]))
        change = Act(gettext("Change"), reverse("qualifications:certificate_edit", args=[pk]))
        if view.state.reason == "revoked":
            # Nothing that is signed later brings it back; the entry itself may be corrected below.
            return [pdf, change] if view.may_edit else [pdf]
        late = gettext("Confirm") if view.state.valid else gettext("Enter a signature made in time")
        sign = gettext("Record welds made") if used else late
        confirm = Act(
            sign, reverse("qualifications:confirm", args=[pk]), main=view.state.valid and view.state.until is not None
        )
        acts = [confirm] if view.may_confirm else []
        acts.append(pdf)
        if view.may_edit and self.object.option == Certificate.Option.B:
            acts.append(Act(gettext("Prolong"), reverse("qualifications:prolong", args=[pk])))
        if view.may_edit and used:
            acts.append(Act(gettext("Renewal test"), reverse("qualifications:renew", args=[pk])))
        if view.may_edit:
            acts.append(change)
            acts.append(Act(gettext("Revoke"), reverse("qualifications:revoke", args=[pk]), warns=True))
        return acts

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        self.view = certificate_view(self.object, self.on, self.request.user, firm_settings())  # facts and acts read it
        system = units_of(self.request)
        return super().get_context_data(
            view=self.view,
            system=system,
            tested=[
                [(label_of(name), sentence_in(said, system, typed=typed_of(name, said))) for name, said in piece]
                for piece in self.view.tested
            ],
            scans=scans_of(self.object),
            may_attach=self.may(Capability.RECORD_CONFIRMATION),
            withdraw_name="qualifications:scan_withdraw" if self.may(Capability.RECORD_CONFIRMATION) else "",
            history=changes_of_certificate(self.object),
            past=past_of(self.object, self.on, timezone.localdate()),
            **kwargs,
        )


class CertificateFormPage(FormPage):
    """What a new certificate and one on file share: the edition's own fields, a piece added on request."""

    required_capability = Capability.EDIT_PEOPLE
    template_name = "qualifications/certificate_form.html"
    model = Certificate
    form_class = CertificateForm

    def get_edition(self) -> Edition | None:
        """The edition whose fields the form shows."""
        return edition_of(self.get_code())

    def get_code(self) -> str:
        """The standard and edition of the certificate."""
        raise NotImplementedError

    def get_drafts(self) -> list[dict[str, Plain]]:
        """Test pieces to fill in at first."""
        return []

    def piece_count(self) -> int:
        """How many test pieces the form shows. Raises BadRequest for a number that is none."""
        asked = self.request.GET.get("pieces", "") or self.request.POST.get("pieces", "")
        if asked and not (asked.isdecimal() and len(asked) < 4 and 1 <= int(asked) <= PIECES_AT_MOST):
            raise BadRequest(
                gettext("A certificate has 1 to %(pieces_at_most)s test pieces, not “%(asked)s”.")
                % {"pieces_at_most": PIECES_AT_MOST, "asked": asked[:10]}
            )
        stored = len(self.object.pieces) if self.object is not None and self.object.pk else 0
        return max(int(asked or 1), stored, len(self.get_drafts()), 1)

    def get_form_kwargs(self) -> dict[str, Any]:
        made = {"edition": self.get_edition(), "pieces": self.piece_count(), "drafts": self.get_drafts()}
        return super().get_form_kwargs() | made

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        context = super().get_context_data(**kwargs)
        form = context["form"]
        count = form.piece_count
        more = self.request.GET.copy()
        more["pieces"] = str(count + 1)
        context.update(
            sections=sections(form, form.plan),
            code=self.get_code(),
            judged=form.edition is not None,
            piece_count=count,
            more_url="?" + more.urlencode() if form.edition is not None and count < PIECES_AT_MOST else "",
        )
        return context


class CertificateNew(CertificateFormPage):
    """A new certificate of one person: first the standard, or a designation to read, then the form."""

    saved_message = _("Certificate {0} is on file.")

    def dispatch(self, request: HttpRequest, *args: Any, **kwargs: Any) -> Any:
        self.read = read_designation(request.GET.get("designation", ""))
        return super().dispatch(request, *args, **kwargs)

    @property
    def person(self) -> Person:
        """Whose certificate it is."""
        found: Person = own(get_object_or_404(Person, pk=self.kwargs["person"]))
        return found

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        if not self.get_code():
            return self.choose()
        return super().get(request, *args, **kwargs)

    def choose(self) -> HttpResponse:
        """The page before the form: which standard?"""
        context = {
            "page_title": gettext("A new certificate"),
            "lead": gettext("for %(person)s") % {"person": self.person},
            "editions": {known.key: known for kind in Certificate.Kind.values for known in editions_of(kind)}.values(),
            "problem": self.read.problem,
            "typed": self.request.GET.get("designation", ""),
            "cancel_url": self.person.get_absolute_url(),
        }
        return render(self.request, "qualifications/certificate_choose.html", context)

    def find_object(self) -> Certificate:
        return Certificate(person=self.person, code=self.get_code(), employer_then=self.person.employer)

    def get_code(self) -> str:
        asked = (self.request.GET.get("code") or self.request.POST.get("code") or self.read.code).strip()[:60]
        known = edition_of(asked) if asked else None
        return known.key if known else asked

    def get_drafts(self) -> list[dict[str, Plain]]:
        return self.read.pieces

    def get_initial(self) -> dict[str, Any]:
        known = self.get_edition()
        kind = known.kinds[0] if known and len(known.kinds) == 1 else ""
        return super().get_initial() | {"designation": self.read.text, "kind": kind}

    def get_page_title(self) -> str:
        return gettext("A new certificate")

    def get_lead(self) -> str:
        return gettext("%(code)s, for %(person)s") % {"code": self.get_code(), "person": self.person}

    def get_cancel_url(self) -> str:
        return self.person.get_absolute_url()

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        return super().get_context_data(read=self.read, **kwargs)


class CertificateEdit(CertificateFormPage):
    """A certificate on file; its standard stays."""

    saved_message = _("Saved: {0}.")
    queryset = Certificate.objects.select_related("person")

    def get_queryset(self) -> QuerySet[Certificate]:
        return self.queryset.all()

    def get_code(self) -> str:
        return self.object.code if self.object is not None else ""

    def get_page_title(self) -> str:
        return gettext("Change certificate %(number)s") % {"number": self.object.number}

    def get_lead(self) -> str:
        return gettext("%(code)s, held by %(name)s") % {"code": self.object.code, "name": self.object.person.name}


def _day(day: Any) -> str:
    return day.isoformat() if day else ""
