"""From a content and a template to a paper on file: rendered once, served from there ever after."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from hashlib import sha256
from pathlib import Path
from typing import Any

from django.conf import settings as site
from django.db import transaction
from django.db.models import Model
from django.http import HttpRequest, HttpResponse, HttpResponseNotModified
from django.template.loader import render_to_string
from django.utils.http import content_disposition_header
from django.utils.translation import gettext

from codes.units import System
from register.audit import record_act
from register.base.pdf import ORDINARY, PAPERS, SHARED, Attached, OwnFiles, render
from register.languages import in_own_language
from register.models import AuditEntry
from register.own_units.reader import usual_units
from register.papers.codes import canonical, check_code, code_as_shown, digest, qr
from register.papers.kept import bytes_of
from register.papers.kinds import Kind
from register.papers.models import PrintedPaper
from register.papers.witness import PRINTED, facts_of
from register.roles import Capability, can

STYLE = SHARED["paper.css"][0]
UNITS = {System.SI.value: "SI units", System.US.value: "US customary units"}
POLICY = "default-src 'none'; object-src 'self'; style-src 'unsafe-inline'; frame-ancestors 'none'"
"""Viewers of browsers bring styles of their own; a PDF may load nothing."""
DEFERENCE = (
    "From the register of the welding coordinator, who answers for it. It supports, and never replaces, the text of "
    "the standards it names, local codes and law, and the judgement of licensed and qualified persons."
)


class PaperError(ValueError):
    """Why a paper cannot be made, in words for whoever asked."""


@dataclass(frozen=True, slots=True)
class PaperChoice:
    """On which paper, in which units. Raises PaperError for what there is not."""

    paper: str = "a4"
    units: str = "si"

    def __post_init__(self) -> None:
        for name, known in (("paper", PAPERS), ("units", UNITS)):
            value = getattr(self, name)
            if value not in known:
                raise PaperError(
                    gettext('%(name)s: "%(value)s" is not one we print; use one of: %(known)s')
                    % {"name": name, "value": value, "known": ", ".join(known)}
                )

    @property
    def system(self) -> System:
        """The units to print in."""
        return System(self.units)

    @classmethod
    def of(cls, request: HttpRequest) -> "PaperChoice":
        """As the address asks, in the reader's own units where it does not say. Raises PaperError."""
        asked = {"units": usual_units(request).value} | request.GET.dict()
        return cls(**{name: asked[name] for name in ("paper", "units") if name in asked})


@dataclass(frozen=True, slots=True)
class Draft:
    """A paper before it is printed. `context` is made only where it has to be rendered.

    `check_code` names the day, the words (`content`) and the facts together, so that one code always stands for one set
    of facts as of one day: where a limit moves by less than the rounding for show, the words are the same and the code
    is another. Where the words alone are others, there are two papers with the same facts, and both are current.
    """

    kind: Kind
    subject: Model
    title: str
    stem: str  # register.papers.names.plain
    on: date
    content: Mapping[str, Any]
    template: str
    context: Callable[[], dict[str, Any]]
    sizes: tuple[str, ...] = (ORDINARY,)
    landscape: bool = False
    mark: str = field(default="")
    style: Path = STYLE
    size: str = ""
    """Where it is always of one size, whichever paper is chosen."""
    sides: int = 1
    """What it is meant to fit on: the sizes of type are tried for that."""
    facts: Mapping[str, Any] = field(kw_only=True)
    facts_sha256: str = field(init=False)
    check_code: str = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "facts_sha256", digest(self.facts))
        object.__setattr__(self, "check_code", check_code(self.stated))

    @property
    def stated(self) -> dict[str, Any]:
        """What the check code is reckoned from; it travels inside the paper, so that anybody can reckon it again."""
        return {"as_of": self.on.isoformat(), "content": self.content, "facts_sha256": self.facts_sha256}


@in_own_language
def printed(draft: Draft, choice: PaperChoice, by: Any, address: str) -> PrintedPaper:
    """The paper on file, rendered and kept if it is not there yet.

    Two who ask at once get the same bytes: whoever comes second gets those of the first.
    """
    asked = {"kind": draft.kind.token, "check_code": draft.check_code, "paper": choice.paper, "units": choice.units}
    if found := PrintedPaper.everything.filter(**asked).first():
        return _again(found, draft, by)
    data, sides = rendered(draft, choice, address)
    with transaction.atomic():
        kept, is_new = PrintedPaper.everything.get_or_create(
            **asked,
            defaults={
                "subject_type": draft.subject._meta.label_lower, "subject_id": str(draft.subject.pk),
                "title": draft.title[:200], "on": draft.on, "sha256": sha256(data).hexdigest(), "sides": sides,
                "pdf": data, "made_by": by.get_full_name() or by.get_username(), "facts_sha256": draft.facts_sha256,
            },
        )  # fmt: skip
        if is_new:
            record_act(by, f"{PRINTED}{draft.kind.words}", draft.subject, after=facts_of(kept))
    return kept if is_new else _again(kept, draft, by)


def _again(kept: PrintedPaper, draft: Draft, by: Any) -> PrintedPaper:
    """A paper on file that says the very same of another thing: printed of that one too, once, in the trail."""
    subject = {"subject_type": draft.subject._meta.label_lower, "subject_id": str(draft.subject.pk)}
    if (kept.subject_type, kept.subject_id) == tuple(subject.values()):
        return kept
    act = f"{PRINTED}{draft.kind.words}"
    asked = {"after__sha256": kept.sha256, "after__check_code": kept.check_code}
    if not AuditEntry.everything.filter(act=act, **subject, **asked).exists():
        record_act(by, act, draft.subject, after=facts_of(kept))
    return kept


@in_own_language
def for_reader(draft: Draft, choice: PaperChoice, by: Any, address: str) -> bytes:
    """The paper on file for whoever may print; others get the one on file, or a copy without a check code.

    Who may only look writes nothing, and a code that is not on file could not be answered for.
    """
    if can(by, Capability.PRINT_SHEET):
        return bytes_of(printed(draft, choice, by, address))
    asked = {"kind": draft.kind.token, "check_code": draft.check_code}
    found = PrintedPaper.objects.filter(**asked, paper=choice.paper, units=choice.units).first()
    return bytes_of(found) if found else rendered(draft, choice, "", with_code=False)[0]


@in_own_language
def rendered(draft: Draft, choice: PaperChoice, address: str, with_code: bool = True) -> tuple[bytes, int]:
    """The bytes and the number of sides. Raises RefusedAddress."""
    code = draft.check_code
    context = {
        "title": draft.title,
        "on": draft.on,
        "firm": getattr(site, "FIRM_NAME", ""),
        "code": code_as_shown(code) if with_code else "",
        "qr": qr(address.replace("{code}", code)) if address else "",
        "deference": DEFERENCE,
        "mark": draft.mark,
        "us_units": choice.system is System.US,
        **draft.context(),
    }
    html = render_to_string(draft.template, context)
    attached = Attached(
        f"{draft.stem}.json",
        f"What {draft.title} states, as JSON; check code {code_as_shown(code)}",
        canonical({"check_code": code, **draft.stated}),
    )
    size = draft.size or PAPERS[choice.paper][1]
    size = " ".join(reversed(size.split())) if draft.landscape else size
    return render(html, OwnFiles(draft.style), size, draft.on, (attached,), draft.sizes, draft.sides)


def respond(request: HttpRequest, draft: Draft, with_code: bool = True) -> HttpResponse:
    """The paper as the address asks for it; without a code where nobody could answer for it. Raises PaperError."""
    from register.papers.codes import status_address

    choice = PaperChoice.of(request)
    choice = replace(choice, paper="a4") if draft.size else choice
    if with_code:
        data = for_reader(draft, choice, request.user, status_address(request))
    else:
        data = rendered(draft, choice, "", with_code=False)[0]
    etag = f'"{sha256(data).hexdigest()}"'
    if request.headers.get("If-None-Match") == etag:
        return HttpResponseNotModified(headers={"ETag": etag})
    response = HttpResponse(data, content_type="application/pdf")
    response.headers["Content-Disposition"] = content_disposition_header(False, f"{draft.stem}.pdf") or "inline"
    response.headers["Content-Security-Policy"] = POLICY
    response.headers["ETag"] = etag
    response.headers["Cache-Control"] = "private, no-cache"
    return response
