"""All clauses with mark and tick: the page, what is still to check, the list taken away, and the tick itself."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any
from urllib.parse import urlencode

from django.contrib import messages
from django.core.exceptions import BadRequest
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.http.response import HttpResponseBase
from django.urls import reverse
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from codes.clauses import Mark
from register.base.exports import csv_response, xlsx_response
from register.base.pages import PlainPage
from register.held.firm import check_clause, latest_checks
from register.held.grades import latest_grades
from register.held.models import ClauseCheck
from register.held.tables import HeldClause, held_clauses
from register.held.views import to_ask
from register.roles import Capability, requires

OPEN = "open"
"""Value of `show`: only what rests on no full public source and is not ticked."""


@dataclass(frozen=True, slots=True)
class Row:
    """A clause with the tick that counts; `at` is its place among all, by which the page is found again."""

    at: int
    clause: HeldClause
    check: ClauseCheck | None

    @property
    def is_open(self) -> bool:
        """True where neither a public source nor the firm confirmed it."""
        return self.check is None and self.clause.mark is not Mark.CONFIRMED


def clause_rows() -> list[Row]:
    """Every clause, by standard and reference. One query."""
    checks = latest_checks()
    found = ((clause, checks.get(clause.key)) for clause in held_clauses())
    return [
        Row(at, clause, check if check is not None and check.agrees else None)
        for at, (clause, check) in enumerate(found)
    ]


class ClausesPage(PlainPage):
    """The standards with what is still to be checked, and the clauses of one (`standard`); all as CSV or XLSX too."""

    required_capability = Capability.VIEW
    template_name = "register/clauses.html"
    page_title = _("Clauses and tables")
    lead = _("Lay each one beside your own copy of the standard and tick it. Verdicts name those that nobody ticked.")

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        wanted = request.GET.get("export", "")
        if not wanted:
            return super().get(request, *args, **kwargs)
        make = {"csv": csv_response, "xlsx": xlsx_response}.get(wanted)
        if make is None:
            raise BadRequest(gettext("The list can be taken away as csv or xlsx."))
        rows, standard = clause_rows(), self.standard
        return make(_plain(self._shown([row for row in rows if standard in ("", row.clause.standard)])), "clauses")

    @property
    def standard(self) -> str:
        """The standard asked for, "" for none."""
        return self.request.GET.get("standard", "")

    def _shown(self, rows: Sequence[Row]) -> list[Row]:
        only_open = self.request.GET.get("show") == OPEN
        return [row for row in rows if row.is_open or not only_open]

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        every, standard = clause_rows(), self.standard
        standards = _standards(every)
        shown = self._shown(every)
        names = [one["name"] for one in standards if any(row.clause.standard == one["name"] for row in shown)]
        if standard and standard not in [one["name"] for one in standards]:
            raise BadRequest(gettext("No clause of “%(standard)s” is held here.") % {"standard": standard[:60]})
        return super().get_context_data(
            rows=[row for row in shown if row.clause.standard == standard],
            standard=standard,
            following=next((name for name in names if name > standard), ""),
            standards=[one for one in standards if one["name"] in names],
            settled=len(standards) - len(names),
            show=self.request.GET.get("show", ""),
            may_tick=self.may(Capability.SET_READINGS),
            ask=to_ask(self.may(Capability.SET_READINGS)),
            grades=[one for one in latest_grades().values() if not one.withdrawn],
            own_mark=Mark.OWN.value,
            **kwargs,
        )


def _standards(every: Sequence[Row]) -> list[dict[str, Any]]:
    """Each standard with its number of clauses, and how many are still to be checked."""
    found: dict[str, dict[str, Any]] = {}
    for row in every:
        one = found.setdefault(row.clause.standard, {"name": row.clause.standard, "held": 0, "open": 0})
        one["held"] += 1
        one["open"] += row.is_open
    return list(found.values())


def _plain(rows: Sequence[Row]) -> Iterator[tuple[Any, ...]]:
    yield "Standard", "Clause", "How sure", "Public source", "Checked by", "On", "Note"
    for row in rows:
        done = (row.check.by_name, row.check.at.date(), row.check.note) if row.check else ("", "", "")
        yield row.clause.standard, row.clause.ref, row.clause.mark.value, row.clause.cited, *done


@requires(Capability.SET_READINGS)
def check(request: HttpRequest) -> HttpResponse:
    """Tick a clause, or take the tick back; then on to where one was. Who opens the address is led to the clauses."""
    if request.method != "POST":
        return HttpResponseRedirect(reverse("held:clauses"))
    agrees = request.POST.get("agrees") == "yes"
    clause = request.POST.get("clause", "")
    try:
        done = check_clause(request.user, clause, agrees, request.POST.get("note", ""))
    except ValueError as refusal:
        messages.error(request, str(refusal))
    else:
        messages.success(request, gettext("Noted. %(done)s.") % {"done": done})
    return HttpResponseRedirect(reverse("held:clauses") + _place(clause, request.POST.get("show") == OPEN))


def _place(clause: str, only_open: bool) -> str:
    """The part of the address that leads back to a clause, or to the next one where it is shown no longer."""
    rows = clause_rows()
    mine = next((row for row in rows if row.clause.key == clause), None)
    if mine is None:
        return f"?show={OPEN}" if only_open else ""
    if not only_open:
        return f"?{urlencode({'standard': mine.clause.standard})}#c{mine.at}"
    following = next((row for row in rows[mine.at :] if row.is_open), None)
    if following is None:
        return f"?show={OPEN}"
    return f"?{urlencode({'show': OPEN, 'standard': following.clause.standard})}#c{following.at}"
