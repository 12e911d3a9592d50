"""The printed sheet of a calculation."""

from datetime import date
from pathlib import Path

from django.conf import settings
from django.template.loader import render_to_string

from codes.calc.calculation import Calculation
from codes.units import System
from register.base.pdf import PAPERS, OwnFiles, render
from register.calculations.families import Family
from register.calculations.shown import Shown, ranges

CSS = Path(__file__).resolve().parent / "calculation.css"


def sheet_pdf(asked: Calculation, answer: Shown, family: Family, on: date, system: System) -> bytes:
    """The bytes of the sheet. Raises register.base.pdf.RefusedAddress."""
    context = {
        "answer": answer,
        "title": family.title,
        "on": on,
        "firm": settings.FIRM_NAME,
        "caution": family.caution,
        "ends": [(label, str(span)) for label, span in ranges(asked, system)],
    }
    html = render_to_string("calculations/sheet.html", context)
    paper = PAPERS["letter" if system is System.US else "a4"][1]
    return render(html, OwnFiles(CSS), paper, on)[0]
