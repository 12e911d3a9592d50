"""PDFs of people: what falls due, a certificate, a pocket card."""

from collections.abc import Iterator
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import get_object_or_404
from django.utils.text import slugify
from django.views.decorators.http import require_safe

from qualifications.due_order import ORDERS
from qualifications.models import Certificate, Person
from qualifications.offers import fetched
from qualifications.paper.pdfs import card_pdf, certificate_pdf, due_pdf
from qualifications.views.due import DueList
from register.base.asof import asked_date
from register.held.firm import firm_settings
from register.roles import Capability, requires

PDF_POLICY = "default-src 'none'; object-src 'self'; style-src 'unsafe-inline'; frame-ancestors 'none'"
"""Viewers of browsers bring styles of their own; a PDF may load nothing."""


class DueSheet(DueList):
    """The list of what falls due as PDF, arranged and narrowed down as the page is."""

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        self.items()
        narrowed = f"By {ORDERS[self.order]}. {'; '.join(self.narrowed())}."
        return pdf_response(due_pdf(self.groups(), self.on, narrowed), f"due-{self.on.isoformat()}")

    def narrowed(self) -> Iterator[str]:
        """How the list was narrowed down, in words."""
        for field in self.form:
            value = self.form.cleaned_data.get(field.name)
            if field.name == "mine" and value:
                yield "own people only"
            elif value and field.name != "by":
                words = dict(getattr(field.field, "choices", ())).get(value, value)
                yield f"{field.label} {words}"


@requires(Capability.VIEW)
@require_safe
def certificate_sheet(request: HttpRequest, pk: int) -> HttpResponse:
    """One certificate as PDF, on the date asked about."""
    held = get_object_or_404(fetched(Certificate.objects.all()), pk=pk)
    on = asked_date(request)
    made = certificate_pdf(held, on, request.user, firm_settings())
    return pdf_response(made, f"certificate-{slugify(held.number) or held.pk}-{on.isoformat()}")


@requires(Capability.VIEW)
@require_safe
def pocket_card(request: HttpRequest, pk: int) -> HttpResponse:
    """The pocket card of a person as PDF, on the date asked about."""
    person = get_object_or_404(Person, pk=pk)
    on = asked_date(request)
    held = list(fetched(person.certificates.all()))
    made = card_pdf(person, held, on, request.user, firm_settings())
    return pdf_response(made, f"card-{slugify(person.identification) or person.pk}-{on.isoformat()}")


def pdf_response(data: bytes, stem: str) -> HttpResponse:
    """A PDF to be shown or saved; it is made anew each time, as it speaks of one day."""
    response = HttpResponse(data, content_type="application/pdf")
    response.headers["Content-Disposition"] = f'inline; filename="{stem}.pdf"'
    response.headers["Content-Security-Policy"] = PDF_POLICY
    response.headers["Cache-Control"] = "private, no-store"
    return response
