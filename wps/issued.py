"""Issued sheets: rendered once for each state of a revision, kept with their hash, and served from there.

A draft has no issued sheet: `preview` renders it anew each time, with its watermark.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from hashlib import sha256
from typing import Any

from django.db import transaction
from django.db.models import Min
from django.utils.timezone import localdate
from django.utils.translation import gettext

from register.audit import record_act
from register.held.firm import firm_settings
from register.pdf_signing import CannotSign, as_issued
from register.plants.models import Plant
from register.plants.reach import of_plant, whole, within
from register.roles import Capability, check
from wps.models import FROZEN, IssuedSheet, Procedure, ProcedureRelease, ProcedureRevision, Status
from wps.sheets import Choice, Sheet, SheetError, sheet
from wps.witness import LATER_FACTS, SHEET_FACTS

STATES_TO_COME = 2
"""An approved revision is superseded or withdrawn once; one turn is left over."""

IN_FORCE = "In force"
"""The word of a sheet that may be welded to."""


class Overtaken(SheetError):
    """The revision became something else while its sheet was rendered: nothing was issued."""


def is_issuable(revision: ProcedureRevision) -> bool:
    """True for a revision that was approved once, whatever became of it."""
    return revision.status in FROZEN and revision.approved_on is not None


def day_of_approval(revision: ProcedureRevision) -> date:
    """The day for which a sheet is issued. Raises SheetError for a revision that was never approved."""
    if not is_issuable(revision) or revision.approved_on is None:
        raise SheetError(
            gettext("%(revision)s was never approved; only an approved revision has an issued sheet.")
            % {"revision": revision}
        )
    return revision.approved_on


def find(revision: ProcedureRevision, choice: Choice) -> IssuedSheet | None:
    """The sheet issued of the revision as it stands now, bytes included, or None. One query."""
    return IssuedSheet.objects.filter(
        revision=revision, state=revision.status, kind=choice.kind, paper=choice.paper, units=choice.units
    ).first()


def issue(revision: ProcedureRevision, choice: Choice, by: Any, status_url: str) -> IssuedSheet:
    """The issued sheet, rendered and kept if it is not there yet. Raises PermissionDenied, SheetError.

    Two people who ask at once get the same bytes: whoever comes second gets those of the first. A revision that ends
    meanwhile is read and rendered anew, so that the sheet says what it is now.
    """
    check(by, Capability.PRINT_SHEET)
    for _ in range(STATES_TO_COME):
        approved_on = day_of_approval(revision)
        if found := find(revision, choice):
            return found
        made = sheet(revision, choice, approved_on, status_url, firm_settings())
        try:
            return keep(revision, made, by)
        except Overtaken as overtaken:
            refusal = overtaken
            revision = ProcedureRevision.objects.select_related("procedure").get(pk=revision.pk)
    raise refusal


def keep(revision: ProcedureRevision, made: Sheet, by: Any) -> IssuedSheet:
    """Put a sheet on file that was rendered of the revision as it stands; one that is there already stays.

    The status is asked again, and held until the sheet is on file: raises Overtaken where it is another by now.
    A sheet of a procedure that is released to a plant may be issued there: it changes nothing, and is kept at its home.
    """
    choice = made.choice
    try:
        pdf = as_issued(made.pdf, f"{revision}, issued")
    except CannotSign as refusal:
        raise SheetError(gettext("%(refusal)s Nothing was issued.") % {"refusal": refusal}) from None
    with within(of_plant(revision.home_plant)), transaction.atomic():
        _refuse_overtaken(revision)
        kept, is_new = IssuedSheet.objects.get_or_create(
            revision=revision, state=revision.status, kind=choice.kind, paper=choice.paper, units=choice.units,
            defaults={
                "check_code": made.check_code, "sha256": sha256(pdf).hexdigest(), "sides": made.pages, "pdf": pdf,
                "issued_by": by.get_full_name() or by.get_username(),
            },
        )  # fmt: skip
        if is_new:
            after = {name: getattr(kept, name) for name in (*SHEET_FACTS, *LATER_FACTS)}
            record_act(by, "issued a sheet", revision, after={k: str(v) for k, v in after.items()})
    return kept


def _refuse_overtaken(revision: ProcedureRevision) -> None:
    """Hold the revision, and raise Overtaken where its status is not the one that was rendered."""
    now = ProcedureRevision.objects.select_for_update(of=("self",)).only("status").get(pk=revision.pk)
    if now.status != revision.status:
        raise Overtaken(
            gettext("%(revision)s became %(status)s while its sheet was made. Nothing was issued; print it again.")
            % {"revision": revision, "status": now.get_status_display()}
        )


def preview(revision: ProcedureRevision, choice: Choice, by: Any, on: date) -> Sheet:
    """The watermarked sheet of a draft, kept nowhere. It has no address to scan. Raises as `issue`."""
    check(by, Capability.PRINT_SHEET)
    return sheet(revision, choice, on, settings=firm_settings())


@dataclass(frozen=True, slots=True)
class Standing:
    """What anybody may learn of a sheet by its check code: nothing that is not printed on one."""

    number: str
    letter: str
    title: str
    word: str
    sentence: str

    @property
    def warns(self) -> bool:
        """True for a sheet that nobody may weld to."""
        return self.word != IN_FORCE


def standing(code: str, on: date) -> Standing | None:
    """Whether the sheets with a check code are in force on a day, or None where no such sheet was issued.

    Whoever holds the sheet may know, of whichever plant it is.
    """
    with whole():
        return _standing(code, on)


def _standing(code: str, on: date) -> Standing | None:
    found = (
        IssuedSheet.objects.filter(check_code=code)
        .select_related("revision__procedure")
        .defer("pdf", "revision__window", "revision__preparation")
        .first()
    )
    if found is None:
        return None
    revision = found.revision
    word, sentence = _words(revision, on)
    if word == IN_FORCE and (over := _released_until(code, revision, on)):
        word, sentence = _at_home_only(revision, over)
    return Standing(revision.procedure.number, revision.letter, revision.procedure.title, word, sentence)


def _released_until(code: str, revision: ProcedureRevision, on: date) -> list[ProcedureRelease]:
    """The releases that are over on a day, of plants where a sheet with this code, issued before, may still lie."""
    first = IssuedSheet.objects.filter(check_code=code).aggregate(first=Min("issued_at"))["first"]
    every = list(revision.procedure.releases.select_related("plant").order_by("plant__name", "until"))
    still = {one.plant_id for one in every if one.until is None or one.until >= on}
    over = {one.plant_id: one for one in every if one.until and one.until < on and one.until >= localdate(first)}
    return [one for plant, one in over.items() if plant not in still]


def _at_home_only(revision: ProcedureRevision, over: Iterable[ProcedureRelease]) -> tuple[str, str]:
    home = revision.procedure.plant
    ended = " ".join(
        f"At {one.plant} it is withdrawn since {one.until}, the last day of its release: "
        f"do not weld to this sheet there; destroy it."
        for one in over
    )
    return f"In force at {home} only", f"This is the current revision. It may be used at {home}. {ended}"


def sheets_at(procedure: Procedure, plant: Plant) -> list[IssuedSheet]:
    """The sheets in force that may lie at a plant to which a procedure is released: one of each check code."""
    found = IssuedSheet.objects.filter(revision__procedure=procedure, revision__status=Status.APPROVED)
    found = found.filter(state=Status.APPROVED).exclude(revision__procedure__plant=plant).defer("pdf")
    return list({one.check_code: one for one in found.select_related("revision__procedure").order_by("pk")}.values())


def _words(revision: ProcedureRevision, on: date) -> tuple[str, str]:
    if revision.status == Status.APPROVED and revision.approved_on and revision.approved_on > on:
        return "Not yet in force", f"Approved, in force from {revision.approved_on.isoformat()}."
    if revision.status == Status.APPROVED:
        return IN_FORCE, "This is the current revision. It may be used."
    if revision.status == Status.SUPERSEDED:
        newer = revision.procedure.revisions.filter(status=Status.APPROVED).first()
        by = f"by revision {newer.letter}" if newer else "and no revision is in force now"
        return "Superseded", f"Superseded {by}. Do not weld to this sheet; destroy it and ask for the current one."
    return "Withdrawn", "Withdrawn. Do not weld to this sheet; destroy it and ask the welding coordinator."
