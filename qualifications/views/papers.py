"""PDFs of people: what falls due, a certificate, a pocket card."""

from collections.abc import Callable, Iterator
from typing import Any

from django.core.exceptions import BadRequest
from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import get_object_or_404
from django.views.decorators.http import require_safe

from codes.units import System
from qualifications.due import WITHIN
from qualifications.due_order import ORDERS
from qualifications.models import Certificate, Person
from qualifications.offers import fetched
from qualifications.paper.pdfs import NARROWED, card_draft, certificate_draft, due_draft
from qualifications.views.due import DueList
from register.base.asof import asked_date
from register.languages import in_own_language
from register.papers.printing import POLICY, Draft, PaperChoice, PaperError, respond
from register.plants.models import Plant
from register.plants.reach import current
from register.roles import Capability, requires


class DueSheet(DueList):
    """The list of what falls due as PDF, arranged and narrowed down as the page is."""

    @in_own_language
    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        items = self.items()
        narrowed = list(self.narrowed())
        plant = Plant.objects.filter(pk=current().one).first() if current().one else _only_plant()
        whole = plant is not None and not narrowed and self.order == "horizon"
        said = " ".join(
            (f"Arranged by {ORDERS[self.order]}.", *(f"{one}." for one in narrowed), *([] if whole else [NARROWED]))
        )
        draft = due_draft(plant or Plant(), self.groups(), self.on, said, items)
        return answered(request, draft, with_code=whole)

    def narrowed(self) -> Iterator[str]:
        """How the list was narrowed down, in words."""
        for field in self.form:
            value = self.form.cleaned_data.get(field.name)
            if field.name == "mine" and value:
                yield "own people only"
            elif value and field.name != "by" and (field.name, value) != ("within", WITHIN[-1]):
                words = dict(getattr(field.field, "choices", ())).get(value, value)
                yield f"{field.label} {words}"


def _only_plant() -> Plant | None:
    """The plant of a register of one."""
    found = list(Plant.objects.order_by("pk")[:2])
    return found[0] if len(found) == 1 else None


@requires(Capability.VIEW)
@require_safe
def certificate_sheet(request: HttpRequest, pk: int) -> HttpResponse:
    """One certificate as PDF (?paper=a4|letter, units=si|us), on the date asked about."""
    held = get_object_or_404(fetched(Certificate.objects.all()), pk=pk)
    return answered(request, lambda system: certificate_draft(held, asked_date(request), system))


@requires(Capability.VIEW)
@require_safe
def pocket_card(request: HttpRequest, pk: int) -> HttpResponse:
    """The pocket card of a person as PDF (?units=si|us), on the date asked about."""
    person = get_object_or_404(Person, pk=pk)
    return answered(request, lambda system: card_draft(person, asked_date(request), system))


def answered(request: HttpRequest, make: Callable[[System], Draft] | Draft, with_code: bool = True) -> HttpResponse:
    """A paper in the units asked for. Raises BadRequest for a paper or units that there are not."""
    try:
        draft = make if isinstance(make, Draft) else make(PaperChoice.of(request).system)
        return respond(request, draft, with_code)
    except PaperError as refusal:
        raise BadRequest(str(refusal)) from None


def pdf_response(data: bytes, stem: str) -> HttpResponse:
    """A PDF to be shown or saved, made anew each time."""
    response = HttpResponse(data, content_type="application/pdf")
    response.headers["Content-Disposition"] = f'inline; filename="{stem}.pdf"'
    response.headers["Content-Security-Policy"] = POLICY
    response.headers["Cache-Control"] = "private, no-store"
    return response
