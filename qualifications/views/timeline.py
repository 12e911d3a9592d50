"""The page of one process: everybody who is or was qualified for it, past, now and the next two years."""

from typing import Any

from django import forms
from django.core.exceptions import BadRequest
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from codes.terms import both_names
from qualifications.models import Certificate
from qualifications.offers import certificate_offers
from qualifications.timeline import rows, view_of
from register.base.views import PlainPage
from register.held.firm import firm_settings
from register.roles import Capability

PAGE_ROWS = 50


class TimelineForm(forms.Form):
    """Which process, and people as what."""

    process = forms.ChoiceField(required=False)
    kind = forms.ChoiceField(
        choices=[("", _("any")), *Certificate.Kind.choices], required=False, label=_("Certificates as")
    )


class Timeline(PlainPage):
    """When each person is qualified for a process."""

    required_capability = Capability.VIEW
    template_name = "qualifications/timeline.html"
    page_title = _("Timeline of a process")

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        offers = certificate_offers(firm_settings())
        held = sorted({process for one in offers for process in one.processes})
        form = self.form_for(held)
        process, kind = form.cleaned_data["process"], form.cleaned_data["kind"]
        found = [row for row in rows(offers, self.on, process) if not kind or row.kind == kind] if process else []
        start, end = view_of(self.on)
        page = self.page_number()
        return super().get_context_data(
            form=form,
            process=process,
            rows=found[(page - 1) * PAGE_ROWS : page * PAGE_ROWS],
            count=len(found),
            valid=sum(row.valid for row in found),
            start=start,
            end=end,
            more=self._next(page) if len(found) > page * PAGE_ROWS else "",
            **kwargs,
        )

    def form_for(self, held: list[str]) -> TimelineForm:
        """The choice of process, the first held where none is chosen. Raises BadRequest."""
        given = self.request.GET.copy()
        if not given.get("process") and held:
            given["process"] = held[0]
        form = TimelineForm(given)
        form.fields["process"].choices = [(p, both_names("process", p)) for p in held]
        if not form.is_valid():
            raise BadRequest(gettext("No certificate on file is of such a process or kind."))
        return form

    def page_number(self) -> int:
        """The page asked for; what is no page number is the first one."""
        text = self.request.GET.get("page", "1")
        return max(1, int(text)) if text.isdecimal() and len(text) < 6 else 1

    def _next(self, page: int) -> str:
        kept = self.request.GET.copy()
        kept["page"] = str(page + 1)
        return "?" + kept.urlencode()
