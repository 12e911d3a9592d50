"""Several confirmations at once: choose, review with the evidence, sign. All are recorded, or none."""

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext, ngettext
from django.utils.translation import gettext_lazy as _

from codes.readings import Settings
from qualifications import events
from qualifications.clocks import Clock
from qualifications.event_forms import full_name
from qualifications.events import Signature
from qualifications.models import Certificate, WeldLogBatch, WeldLogEntry
from qualifications.offers import fetched
from qualifications.periods import is_judged
from qualifications.proposals import Proposal, proposal, since
from register.base.views import PlainPage
from register.held.firm import firm_settings
from register.plants.reach import current
from register.roles import Capability, can
from register.signing import SigningForm

AHEAD_DAYS = 90


def candidates(
    user: Any,
    today: date,
    settings: Settings,
    keys: frozenset[int] | None = None,
    batch: WeldLogBatch | None = None,
) -> list[Proposal]:
    """The certificates the user may confirm, the most urgent first; only those of `keys` where given.

    Left out are the ones that need nothing in the next ninety days, unless asked for by key; with a file of the log,
    those for which no weld in it speaks. Three queries.
    """
    rows = fetched(Certificate.objects.all())
    rows = rows if keys is None else rows.filter(pk__in=keys)
    rows = rows if batch is None else rows.filter(person__weld_log__source=batch).distinct()
    if not can(user, Capability.RECORD_CONFIRMATION):
        rows = rows.filter(person__supervisor=user)
    # Whoever is lent here is confirmed at the own plant.
    held = [one for one in rows if current().holds(one.person.plant_id)]
    log = _log_of(held, today)
    found = [_one_by_one(proposal(one, log.get(one.person_id, []), today, settings), today, settings) for one in held]
    if batch is not None:
        found = [p for p in found if any(entry.source_id == batch.pk for entry in p.entries)]
    elif keys is None:
        found = [p for p in found if _urgent(p, today)]
    return sorted(found, key=lambda p: (p.by or date.max, p.certificate.person.name, p.certificate.number))


def _log_of(held: list[Certificate], today: date) -> dict[int, list[WeldLogEntry]]:
    people = {c.person_id for c in held}
    by_person: dict[int, list[WeldLogEntry]] = {}
    for entry in WeldLogEntry.objects.filter(on__range=(since(held, today), today), person__in=people):
        by_person.setdefault(entry.person_id, []).append(entry)
    return by_person


def _one_by_one(found: Proposal, today: date, settings: Settings) -> Proposal:
    """What must be said knowingly is signed on a page of its own."""
    cautions = events.cautions(found.certificate, today, today, settings)
    return replace(found, problem=" ".join(cautions)) if cautions and not found.problem else found


def _urgent(found: Proposal, today: date) -> bool:
    if not is_judged(found.certificate):
        return False
    if found.clock is Clock.USED and found.entries and not found.state.valid:
        return True
    return found.state.valid and found.by is not None and found.by <= today + timedelta(days=AHEAD_DAYS)


class ConfirmMany(PlainPage):
    """Choose (GET), review (POST step=review), sign (POST step=sign). ?file= takes the proposals of a log file."""

    required_capability = Capability.CONFIRM_OWN_PEOPLE
    template_name = "qualifications/confirm_many.html"
    page_title = _("Confirm several certificates")

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        kwargs.setdefault("step", "choose")
        batch = self.batch()
        if "rows" not in kwargs:
            kwargs["rows"] = candidates(self.request.user, timezone.localdate(), firm_settings(), batch=batch)
        kwargs.setdefault("signs", full_name(self.request.user))
        kwargs.setdefault("ahead", AHEAD_DAYS)
        kwargs.setdefault("signing", SigningForm(request=self.request))
        return super().get_context_data(today=timezone.localdate(), batch=batch, **kwargs)

    def batch(self) -> WeldLogBatch | None:
        """The file of the log that the address names."""
        key = self.request.GET.get("file", "")
        return WeldLogBatch.objects.filter(pk=int(key)).first() if key.isdecimal() and len(key) < 12 else None

    def post(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        keys = _keys(request.POST.getlist("certificate"))
        if not keys:
            context = self.get_context_data(problem=gettext("Nothing is chosen: tick the certificates to confirm."))
            return self.render_to_response(context, status=422)
        rows = candidates(request.user, timezone.localdate(), firm_settings(), keys)
        if {p.certificate.pk for p in rows} != keys:
            raise PermissionDenied(
                gettext("One of these certificates is not on file, or its holder does not report to you.")
            )
        if request.POST.get("step") != "sign":
            return self.render_to_response(self.get_context_data(rows=rows, step="review"))
        return self.sign(rows)

    def sign(self, rows: list[Proposal]) -> HttpResponse:
        """Record all of them, or none."""
        request, today = self.request, timezone.localdate()
        signing = SigningForm(request.POST, request=request)
        problem = _unready(rows, request)
        if not problem:
            wrong = " ".join(text for texts in signing.errors.values() for text in texts)
            problem = wrong or _sign(rows, request, today)
        if problem:
            # As it was sent: a weld that was unticked must not be signed for at the second attempt.
            rows = [replace(one, ticked=_welds(one, request)) for one in rows]
            sent = {"agreed": request.POST.get("agree") == "yes", "by_role": request.POST.get("by_role", "")}
            context = self.get_context_data(rows=rows, step="review", problem=problem, signing=signing, **sent)
            return self.render_to_response(context, status=422)
        done = ngettext("%(number)s certificate confirmed.", "%(number)s certificates confirmed.", len(rows))
        messages.success(request, done % {"number": len(rows)})
        return HttpResponseRedirect(reverse("qualifications:due"))


def _unready(rows: list[Proposal], request: HttpRequest) -> str:
    """Why nothing can be signed yet."""
    blocked = [p for p in rows if p.problem]
    if blocked:
        return gettext("%(blocked)s of these cannot be confirmed here; take them out.") % {"blocked": len(blocked)}
    bare = next((p for p in rows if not _welds(p, request)), None)
    if bare is not None:
        return gettext("No weld is ticked for %(number)s of %(name)s.") % {
            "number": bare.certificate.number,
            "name": bare.certificate.person.name,
        }
    return "" if request.POST.get("agree") == "yes" else gettext("Tick the statement above the button.")


def _welds(one: Proposal, request: HttpRequest) -> tuple[WeldLogEntry, ...]:
    """The welds that were ticked as the evidence of one certificate."""
    ticked = _keys(request.POST.getlist(f"weld_{one.certificate.pk}"))
    return tuple(entry for entry in one.entries if entry.pk in ticked)


def _sign(rows: list[Proposal], request: HttpRequest, today: date) -> str:
    """ "" where all are recorded, the reason where none is."""
    role = request.POST.get("by_role", "").strip()[:120]
    name = full_name(request.user)
    signatures = {p.certificate.pk: Signature(today, name, request.user, role, welds=_welds(p, request)) for p in rows}
    try:
        events.confirm_each([p.certificate for p in rows], signatures, today, firm_settings())
    except ValueError as refusal:
        return gettext("None was recorded. %(refusal)s") % {"refusal": refusal}
    return ""


def _keys(texts: list[str]) -> frozenset[int]:
    return frozenset(int(text) for text in texts if text.isdecimal() and len(text) < 12)
