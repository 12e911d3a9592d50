"""Sheets of one procedure revision as PDF: for the cell on one side, or the full specification.

`sheet` renders anew each time; `wps.issued` keeps what was rendered of an approved revision.
"""

import re
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date
from hashlib import sha256
from typing import Any

from django.conf import settings as site
from django.db.models import prefetch_related_objects
from django.template.loader import render_to_string
from django.utils.translation import gettext

from codes.parse import BadField
from codes.readings import DEFAULTS, Settings
from codes.units import System
from register.languages import in_own_language
from register.papers.codes import qr
from wps.languages import CATALOGUES, LANGUAGES, translated
from wps.languages.notes import TRANSLATED
from wps.models import ProcedureRevision
from wps.sheet_cautions import DEFERENCE
from wps.sheet_content import canonical, check_code, code_as_shown, sheet_content
from wps.sheet_data import prepared, sheet_data
from wps.sheet_fields import sections
from wps.sheet_fit import first_size, room
from wps.sheet_render import ORDINARY, PAPERS, TYPE_SIZES, Attached, pdf
from wps.sheet_runs import LARGE, LARGE_IN_FULL

CELL, FULL = "cell", "full"
OTHER_LANGUAGES = {f"{CELL}-{code}": code for code in CATALOGUES}
"""Kinds of sheet for the cell in other languages than the one that was approved, as "cell-de"."""
KINDS = {
    CELL: "sheet for the cell",
    **{kind: f"sheet for the cell, {LANGUAGES[code]}" for kind, code in OTHER_LANGUAGES.items()},
    FULL: "full specification",
}
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
                raise SheetError(
                    gettext('%(field)s: "%(value)s" is not a sheet we make; use one of: %(known)s')
                    % {"field": field, "value": value, "known": ", ".join(known)}
                )

    @property
    def system(self) -> System:
        """The units to print in."""
        return System(self.units)

    @property
    def is_cell(self) -> bool:
        """True for a sheet for the cell, in whatever language."""
        return self.kind != FULL

    @property
    def language(self) -> str:
        """The language to print in. Example: "de"."""
        return OTHER_LANGUAGES.get(self.kind, "en")


@dataclass(frozen=True, slots=True)
class Place:
    """What a sheet for the cell says of one assembly at one workstation: the turns of the rotator (turn, joints)."""

    heading: str
    stops: tuple[tuple[str, str], ...]
    has_rotator: bool


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
    place: Place | None = None,
) -> Sheet:
    """One sheet. `on`: the day for ranges and file dates of a draft; an approved revision takes its approval's.

    `status_url` is the address behind the QR code, "{code}" in it standing for the check code; "" prints none.
    Raises SheetError where the window cannot be read.
    """
    ready = before_rendering(revision, choice, on, status_url, settings, place)
    found, pages = pdf(ready.html, choice.paper, ready.day, ready.attached, ready.sizes)
    return Sheet(choice, found, ready.code, pages)


@dataclass(frozen=True, slots=True)
class Ready:
    """All that the renderer needs of a sheet: the sizes of type are tried in turn until it fits."""

    html: str
    code: str
    day: date
    attached: Attached
    sizes: tuple[str, ...]


@in_own_language
def before_rendering(
    revision: ProcedureRevision,
    choice: Choice,
    on: date,
    status_url: str,
    settings: Settings = DEFAULTS,
    place: Place | None = None,
) -> Ready:
    """As `sheet`, up to where no database is needed any more. Raises SheetError."""
    day = revision.approved_on or on
    with read_once(revision):
        content = sheet_content(revision)
        code = check_code(content)
        html, begin = _html(revision, choice, day, code, status_url.replace("{code}", code), settings, place)
    name = f"{file_stem(revision, choice)}.json"
    data = canonical({"check_code": code, "content": content})
    attached = Attached(name, f"What {revision} states, as JSON; check code {code_as_shown(code)}", data)
    sizes = (*(TYPE_SIZES[begin:] if choice.is_cell else ()), ORDINARY)
    return Ready(html, code, day, attached, sizes)


@contextmanager
def read_once(revision: ProcedureRevision) -> Iterator[None]:
    """Runs and records of a revision are asked for eight times over a sheet: the database is asked once for each, and
    what it said is forgotten with the sheet, so that whoever holds the revision never reads what was.
    """
    already = dict(getattr(revision, "_prefetched_objects_cache", {}))
    prefetch_related_objects([revision], "runs", "records")
    try:
        yield
    finally:
        vars(revision)["_prefetched_objects_cache"] = already


@in_own_language
def sheet_html(
    revision: ProcedureRevision, choice: Choice, on: date, code: str, status_url: str, settings: Settings = DEFAULTS
) -> str:
    """The sheet before it is laid out. Raises SheetError."""
    return _html(revision, choice, on, code, status_url, settings)[0]


def _html(
    revision: ProcedureRevision,
    choice: Choice,
    on: date,
    code: str,
    status_url: str,
    settings: Settings,
    place: Place | None = None,
) -> tuple[str, int]:
    """The sheet before it is laid out, and the size of type to begin with."""
    try:
        data = sheet_data(revision, choice.system, on, settings, choice.is_cell)
        full = sections(revision, choice.system) if choice.kind == FULL else ()
    except BadField as bad:
        raise SheetError(
            gettext("%(revision)s cannot be printed: %(bad)s. Correct the field in the draft.")
            % {"revision": revision, "bad": bad}
        ) from None
    context: Mapping[str, Any] = {
        "sheet": data,
        "place": place,
        "sections": full,
        "prepared": prepared(revision, choice.system),
        "revision": revision,
        "firm": getattr(site, "FIRM_NAME", ""),
        "kind": KINDS[CELL if choice.is_cell else FULL],
        "translation": TRANSLATED if choice.language in CATALOGUES else "",
        "code": code_as_shown(code),
        "qr": qr(status_url) if status_url else "",
        "deference": DEFERENCE,
    }
    catalogue = CATALOGUES.get(choice.language)
    said = catalogue.heading if catalogue else str
    begin = first_size(data, context["prepared"], choice.paper, TYPE_SIZES, said)
    size = TYPE_SIZES[begin] if choice.is_cell else ORDINARY
    shares = data.runs.shares(room(choice.paper, size), said, LARGE if choice.is_cell else LARGE_IN_FULL)
    html = render_to_string(TEMPLATES[CELL if choice.is_cell else FULL], {**context, "shares": shares})
    return translated(html, catalogue) if catalogue else html, begin


def file_stem(revision: ProcedureRevision, choice: Choice) -> str:
    """The name of the file without its ending. Example: "WPS-014-rev-C-cell-us"."""
    named = f"{revision.procedure.number}-rev-{revision.letter}"
    parts = re.findall(r"[A-Za-z0-9]+", named)
    units = "" if choice.units == "si" else f"-{choice.units}"
    return f"{'-'.join(parts)}-{choice.kind}{units}"
