"""The printed sheet of a calculation."""

from datetime import date
from pathlib import Path

from django.conf import settings
from django.template.loader import render_to_string

from codes.units import System
from register.base.pdf import PAPERS, OwnFiles, render
from register.calculations.families import Family
from register.calculations.shown import Shown

CSS = Path(__file__).resolve().parent / "calculation.css"


def sheet_pdf(answer: Shown, family: Family, on: date, system: System) -> bytes:
    """The bytes of the sheet. Raises register.base.pdf.RefusedAddress."""
    context = {
        "answer": answer,
        "title": family.title,
        "on": on,
        "firm": settings.FIRM_NAME,
        "us": system is System.US,
        "caution": family.caution,
    }
    html = render_to_string("calculations/sheet.html", context)
    paper = PAPERS["letter" if system is System.US else "a4"][1]
    return render(html, OwnFiles(CSS), paper, on)[0]
