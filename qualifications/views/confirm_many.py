"""Several confirmations at once: choose, review with the evidence, sign. All are recorded, or none."""

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.urls import reverse
from django.utils import timezone

from codes.limits import LimitSet
from codes.validity import State
from qualifications import events
from qualifications.event_forms import full_name
from qualifications.events import Signature
from qualifications.evidence import proposed, window
from qualifications.models import Certificate, WeldLogEntry
from qualifications.offers import fetched, limits
from qualifications.periods import is_judged, validity
from register.base.views import PlainPage
from register.roles import Capability, can

AHEAD_DAYS = 90


@dataclass(frozen=True, slots=True)
class Candidate:
    """A certificate that may be confirmed today, with the welds that speak for it."""

    certificate: Certificate
    state: State
    by: date | None
    entries: tuple[WeldLogEntry, ...]
    problem: str

    @property
    def evidence(self) -> str:
        """The latest welds as the evidence of the confirmation, three at most."""
        return "\n".join(entry.text for entry in self.entries[:3])


def candidates(user: Any, today: date, keys: frozenset[int] | None = None) -> list[Candidate]:
    """The certificates the user may confirm, the most urgent first; only those of `keys` where given.

    Left out are the ones that need nothing in the next ninety days, unless asked for by key. Three queries.
    """
    rows = fetched(Certificate.objects.all())
    rows = rows if keys is None else rows.filter(pk__in=keys)
    if not can(user, Capability.RECORD_CONFIRMATION):
        rows = rows.filter(person__supervisor=user)
    held = list(rows)
    first, last = window(today)
    log = list(WeldLogEntry.objects.filter(on__range=(first, last), person__in={c.person_id for c in held}))
    by_person: dict[int, list[WeldLogEntry]] = {}
    for entry in log:
        by_person.setdefault(entry.person_id, []).append(entry)
    found = [_candidate(one, by_person.get(one.person_id, []), today) for one in held]
    urgent = [c for c in found if keys is not None or _urgent(c, today)]
    return sorted(urgent, key=lambda c: (c.by or date.max, c.certificate.person.name, c.certificate.number))


def _candidate(certificate: Certificate, log: list[WeldLogEntry], today: date) -> Candidate:
    state = validity(certificate).state(today)
    sets: tuple[LimitSet, ...] = limits(certificate)[0]
    due = next((due.by for due in state.dues if due.act == "confirmation"), None)
    entries = proposed(log, sets, certificate.person_id, today)
    problem = events.obstacle(certificate, today, today)
    if not problem and not entries:
        problem = "No weld inside its range in the log of the last six months."
    return Candidate(certificate, state, due, entries, problem)


def _urgent(candidate: Candidate, today: date) -> bool:
    if not is_judged(candidate.certificate) or not candidate.state.valid:
        return False
    return candidate.by is not None and candidate.by <= today + timedelta(days=AHEAD_DAYS)


class ConfirmMany(PlainPage):
    """Choose (GET), review (POST step=review), sign (POST step=sign)."""

    required_capability = Capability.CONFIRM_OWN_PEOPLE
    template_name = "qualifications/confirm_many.html"
    page_title = "Confirm several certificates"

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        kwargs.setdefault("step", "choose")
        if "rows" not in kwargs:
            kwargs["rows"] = candidates(self.request.user, timezone.localdate())
        kwargs.setdefault("signs", full_name(self.request.user))
        kwargs.setdefault("ahead", AHEAD_DAYS)
        return super().get_context_data(today=timezone.localdate(), **kwargs)

    def post(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        keys = _keys(request.POST.getlist("certificate"))
        if not keys:
            context = self.get_context_data(problem="Nothing is chosen: tick the certificates to confirm.")
            return self.render_to_response(context, status=422)
        rows = candidates(request.user, timezone.localdate(), keys)
        if {c.certificate.pk for c in rows} != keys:
            raise PermissionDenied("One of these certificates is not on file, or its holder does not report to you.")
        if request.POST.get("step") != "sign":
            return self.render_to_response(self.get_context_data(rows=rows, step="review"))
        return self.sign(rows)

    def sign(self, rows: list[Candidate]) -> HttpResponse:
        """Record all of them, or none."""
        request, today = self.request, timezone.localdate()
        blocked = [c for c in rows if c.problem]
        problem = f"{len(blocked)} of these cannot be confirmed here; take them out." if blocked else ""
        if not problem and request.POST.get("agree") != "yes":
            problem = "Not signed: tick the statement above the button."
        if not problem:
            problem = _sign(rows, request, today)
        if problem:
            context = self.get_context_data(rows=rows, step="review", problem=problem)
            return self.render_to_response(context, status=422)
        messages.success(request, f"{len(rows)} certificate{'s' if len(rows) > 1 else ''} confirmed.")
        return HttpResponseRedirect(reverse("qualifications:due"))


def _sign(rows: list[Candidate], request: HttpRequest, today: date) -> str:
    """ "" where all are recorded, the reason where none is."""
    role = request.POST.get("by_role", "").strip()[:120]
    signatures = {
        c.certificate.pk: Signature(
            today,
            full_name(request.user),
            request.user,
            role,
            c.evidence,
            {"weld_log": ",".join(str(e.pk) for e in c.entries[:3])},
        )
        for c in rows
    }
    try:
        events.confirm_each([c.certificate for c in rows], signatures, today)
    except ValueError as refusal:
        return f"None was recorded. {refusal}"
    return ""


def _keys(texts: list[str]) -> frozenset[int]:
    return frozenset(int(text) for text in texts if text.isdecimal() and len(text) < 12)
