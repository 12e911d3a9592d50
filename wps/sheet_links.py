"""Which sheets of a revision somebody may open: those issued, and for whoever may print, any paper and units."""

from dataclasses import dataclass
from datetime import datetime
from urllib.parse import urlencode

from django.urls import reverse
from django.utils.translation import gettext

from codes.units import System
from wps.issued import is_issuable
from wps.models import IssuedSheet, ProcedureRevision, Status
from wps.sheet_content import code_as_shown
from wps.sheet_render import PAPERS
from wps.sheets import KINDS, UNITS


@dataclass(frozen=True, slots=True)
class IssuedLine:
    """One sheet on file. `url` is empty for one of an earlier state, which is no longer handed out."""

    words: str
    url: str
    check_code: str
    issued_at: datetime
    issued_by: str
    state: str


@dataclass(frozen=True, slots=True)
class SheetChoice:
    """What the page offers. `make`: the address of a new sheet, "" for whoever may not print.

    `print_words`: what its button says; `kept_words`: what becomes of a sheet of something that was never approved.
    """

    issued: tuple[IssuedLine, ...]
    make: str
    print_words: str
    kept_words: str
    is_issuable: bool
    units: str
    paper: str
    kinds: tuple[tuple[str, str], ...] = tuple(KINDS.items())
    papers: tuple[tuple[str, str], ...] = tuple((token, name) for token, (name, _) in PAPERS.items())
    systems: tuple[tuple[str, str], ...] = tuple(UNITS.items())


def is_us(revision: ProcedureRevision) -> bool:
    """True for a procedure that is written in US units."""
    return "us" in (revision.window.get("unit_system") or ())


def sheet_choice(revision: ProcedureRevision, may_print: bool, system: System = System.SI) -> SheetChoice:
    """The sheets of a revision. One query."""
    address = reverse("wps:revision_sheet", args=[revision.pk])
    sheets = IssuedSheet.objects.filter(revision=revision).defer("pdf")
    issuable = is_issuable(revision)
    return SheetChoice(
        issued=tuple(_line(one, revision, address) for one in sheets),
        make=address if may_print else "",
        print_words=_print_words(revision),
        kept_words="" if issuable else _not_kept(revision),
        is_issuable=issuable,
        **offered_first(system),
    )


def offered_first(system: System) -> dict[str, str]:
    """Units and paper of a sheet as its reader is used to them."""
    return {"units": "us", "paper": "letter"} if system is System.US else {"units": "si", "paper": "a4"}


def _print_words(revision: ProcedureRevision) -> str:
    if is_issuable(revision):
        return gettext("Open the sheet")
    return gettext("Print the draft") if revision.status == Status.DRAFT else gettext("Print it unapproved")


def _not_kept(revision: ProcedureRevision) -> str:
    if revision.status == Status.DRAFT:
        return gettext("A draft is printed with a watermark and kept nowhere.")
    if revision.status == Status.CHECKED:
        return gettext("Until it is approved it is printed with a watermark and kept nowhere.")
    return gettext("It was never approved: it is printed with a watermark and kept nowhere.")


def _line(sheet: IssuedSheet, revision: ProcedureRevision, address: str) -> IssuedLine:
    asked = urlencode({"kind": sheet.kind, "paper": sheet.paper, "units": sheet.units})
    words = f"{KINDS[sheet.kind]}, {PAPERS[sheet.paper][0]}, {UNITS[sheet.units]}"
    return IssuedLine(
        words=f"{words[0].upper()}{words[1:]}",
        url=f"{address}?{asked}" if sheet.state == revision.status else "",
        check_code=code_as_shown(sheet.check_code),
        issued_at=sheet.issued_at,
        issued_by=sheet.issued_by,
        state=sheet.get_state_display(),
    )
