"""Sheets of one procedure revision as PDF: for the cell on one side, or the full specification.

`sheet` renders anew each time; `wps.issued` keeps what was rendered of an approved revision.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from hashlib import sha256
from typing import Any

from django.conf import settings as site
from django.template.loader import render_to_string

from codes.parse import BadField
from codes.readings import DEFAULTS, Settings
from codes.units import System
from register.papers.codes import qr
from wps.models import ProcedureRevision
from wps.sheet_cautions import DEFERENCE
from wps.sheet_content import canonical, check_code, code_as_shown, sheet_content
from wps.sheet_data import prepared, sheet_data
from wps.sheet_fields import sections
from wps.sheet_fit import first_size, room
from wps.sheet_render import ORDINARY, PAPERS, TYPE_SIZES, Attached, pdf

CELL, FULL = "cell", "full"
KINDS = {CELL: "sheet for the cell", FULL: "full specification"}
UNITS = {System.SI.value: "SI units", System.US.value: "US customary units"}
TEMPLATES = {CELL: "wps/sheet.html", FULL: "wps/sheet_full.html"}


class SheetError(ValueError):
    """Why a sheet cannot be made; the message names the field and the remedy."""


@dataclass(frozen=True, slots=True)
class Choice:
    """Which sheet is wanted. Raises SheetError for what there is not."""

    kind: str = CELL
    paper: str = "a4"
    units: str = "si"

    def __post_init__(self) -> None:
        for field, known in (("kind", KINDS), ("paper", PAPERS), ("units", UNITS)):
            value = getattr(self, field)
            if value not in known:
                raise SheetError(f'{field}: "{value}" is not a sheet we make; use one of: {", ".join(known)}')

    @property
    def system(self) -> System:
        """The units to print in."""
        return System(self.units)


@dataclass(frozen=True, slots=True)
class Sheet:
    """A rendered sheet: its bytes, what names them, and how many sides it has."""

    choice: Choice
    pdf: bytes
    check_code: str
    pages: int

    @property
    def sha256(self) -> str:
        """The hash of the bytes."""
        return sha256(self.pdf).hexdigest()


def sheet(
    revision: ProcedureRevision,
    choice: Choice,
    on: date,
    status_url: str = "",
    settings: Settings = DEFAULTS,
) -> Sheet:
    """One sheet. `on`: the day for ranges and file dates of a draft; an approved revision takes its approval's.

    `status_url` is the address behind the QR code, "{code}" in it standing for the check code; "" prints none.
    Raises SheetError where the window cannot be read.
    """
    content = sheet_content(revision)
    code = check_code(content)
    day = revision.approved_on or on
    html, begin = _html(revision, choice, day, code, status_url.replace("{code}", code), settings)
    name = f"{file_stem(revision, choice)}.json"
    data = canonical({"check_code": code, "content": content})
    attached = Attached(name, f"What {revision} states, as JSON; check code {code_as_shown(code)}", data)
    found, pages = pdf(html, choice.paper, day, attached, one_side=choice.kind == CELL, begin=begin)
    return Sheet(choice, found, code, pages)


def sheet_html(
    revision: ProcedureRevision, choice: Choice, on: date, code: str, status_url: str, settings: Settings = DEFAULTS
) -> str:
    """The sheet before it is laid out. Raises SheetError."""
    return _html(revision, choice, on, code, status_url, settings)[0]


def _html(
    revision: ProcedureRevision, choice: Choice, on: date, code: str, status_url: str, settings: Settings
) -> tuple[str, int]:
    """The sheet before it is laid out, and the size of type to begin with."""
    try:
        data = sheet_data(revision, choice.system, on, settings, choice.kind == CELL)
        full = sections(revision, choice.system) if choice.kind == FULL else ()
    except BadField as bad:
        raise SheetError(f"{revision} cannot be printed: {bad}. Correct the field in the draft.") from None
    context: Mapping[str, Any] = {
        "sheet": data,
        "sections": full,
        "prepared": prepared(revision),
        "revision": revision,
        "firm": getattr(site, "FIRM_NAME", ""),
        "kind": KINDS[choice.kind],
        "code": code_as_shown(code),
        "qr": qr(status_url) if status_url else "",
        "deference": DEFERENCE,
    }
    begin = first_size(data, context["prepared"], choice.paper, TYPE_SIZES)
    size = TYPE_SIZES[begin] if choice.kind == CELL else ORDINARY
    shares = data.runs.shares(room(choice.paper, size))
    return render_to_string(TEMPLATES[choice.kind], {**context, "shares": shares}), begin


def file_stem(revision: ProcedureRevision, choice: Choice) -> str:
    """The name of the file without its ending. Example: "WPS-014-rev-C-cell-us"."""
    named = f"{revision.procedure.number}-rev-{revision.letter}"
    parts = re.findall(r"[A-Za-z0-9]+", named)
    units = "" if choice.units == "si" else f"-{choice.units}"
    return f"{'-'.join(parts)}-{choice.kind}{units}"
