"""What goes back to the detailer, on paper: what was changed from the model, then what is asked."""

from itertools import islice

from django.conf import settings as site
from django.template.loader import render_to_string
from django.utils import timezone

from joints.models import Job
from joints.weld_data.report import CHANGED, PROPOSED, QUESTION, report_rows
from qualifications.paper.pdfs import HERE
from register.base.pdf import PAPERS, OwnFiles, render
from register.languages import in_own_language

AT_MOST = 600
"""Lines on paper; the file names them all."""
TITLES = {
    CHANGED: ("Changed from the model", "Now"),
    QUESTION: ("Questions", "What is right?"),
    PROPOSED: ("Proposed, not taken over", "Proposed"),
}
DEFERENCE = (
    "From the register of the welding coordinator. A change of weld data is no design: the designer says what each "
    "weld must carry. The text of the standard, local codes and licensed practice count."
)


@in_own_language
def changes_pdf(job: Job) -> bytes:
    """The list for the detailer as PDF."""
    rows = report_rows(job)
    next(rows)
    every = list(islice(rows, AT_MOST + 1))
    groups = [(*titles, [row for row in every[:AT_MOST] if row[2] == kind]) for kind, titles in TITLES.items()]
    on = timezone.localdate()
    context = {
        "job": job,
        "groups": [group for group in groups if group[2]],
        "more": len(every) > AT_MOST,
        "on": on,
        "firm": getattr(site, "FIRM_NAME", ""),
        "deference": DEFERENCE,
    }
    html = render_to_string("joints/changes_sheet.html", context)
    return render(html, OwnFiles(HERE / "people.css"), PAPERS["a4"][1], on)[0]
