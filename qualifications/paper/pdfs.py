"""The PDFs of people. Each says for which day it was made; the bytes are the same for the same day and record."""

from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import Any

from django.conf import settings as site
from django.template.loader import render_to_string

from codes.readings import DEFAULTS, Settings
from qualifications.due import Group
from qualifications.models import Certificate, Person
from qualifications.paper.field_list import field_lists
from qualifications.sheets import CertificateView, certificate_view
from register.base.pdf import PAPERS, OwnFiles, render

HERE = Path(__file__).resolve().parent
CARD = "85.6mm 54mm"
CARD_SIZES = ("6.6pt", "6pt", "5.4pt")
DEFERENCE = (
    "From the register of the welding coordinator, who answers for it. The certificate itself, the text of the "
    "standard, local codes and licensed practice count."
)


def due_pdf(groups: Sequence[Group], on: date, narrowed: str = "") -> bytes:
    """The list of what falls due, under the headings of its order; empty headings are left out."""
    context = {"groups": [group for group in groups if group.items], "on": on, "narrowed": narrowed}
    return _paper("qualifications/due_sheet.html", context, on)


def certificate_pdf(
    certificate: Certificate, on: date, user: Any, settings: Settings = DEFAULTS, paper: str = "a4"
) -> bytes:
    """One certificate in the order of its code's field list, with its state on a day, results and signatures."""
    view = certificate_view(certificate, on, user, settings)
    signed = [line for line in view.events if line.voided is None and line.event.kind != "correction"]
    context = {"view": view, "lists": field_lists(certificate, settings), "signed": signed, "on": on}
    return _paper("qualifications/certificate_sheet.html", context, on, paper)


def card_pdf(
    person: Person, certificates: Sequence[Certificate], on: date, user: Any, settings: Settings = DEFAULTS
) -> bytes:
    """A card for the pocket: who, what is valid on the day and until when, then a side for each valid certificate."""
    views = [certificate_view(one, on, user, settings) for one in certificates]
    valid = [(view, card_lines(view)) for view in views if view.state.valid]
    html = render_to_string("qualifications/card_sheet.html", _common(on) | {"person": person, "valid": valid})
    return render(html, OwnFiles(HERE / "card.css"), CARD, on, sizes=CARD_SIZES)[0]


ON_CARD = ("process", "product", "weld_type", "filler_group", "deposit_t", "parent_t", "diameter", "position",
           "aws_position", "mechanisation")  # fmt: skip
"""What a card says of a range, the rest being on the certificate."""


def card_lines(view: CertificateView) -> list[tuple[str, str]]:
    """The first combination's limits on the variables that fit on a card; conditions are left to the certificate."""
    found: dict[str, list[str]] = {}
    lines = view.ranges[0].lines if view.ranges else ()
    for line in lines:
        if line.variable in ON_CARD:
            found.setdefault(line.label, []).append(line.allowed + (f" ({line.when})" if line.when else ""))
    return [(label, "; ".join(dict.fromkeys(said))) for label, said in found.items()]


def _paper(template: str, context: dict[str, Any], on: date, paper: str = "a4") -> bytes:
    html = render_to_string(template, _common(on) | context)
    return render(html, OwnFiles(HERE / "paper.css"), PAPERS[paper][1], on)[0]


def _common(on: date) -> dict[str, Any]:
    return {"firm": getattr(site, "FIRM_NAME", ""), "deference": DEFERENCE, "on": on}
