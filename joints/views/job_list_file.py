"""The joints of a job as a list to be taken away, in the columns in which it is read."""

from django.core.exceptions import BadRequest
from django.http import HttpRequest
from django.http.response import HttpResponseBase
from django.shortcuts import get_object_or_404
from django.utils.translation import gettext

from joints.imports.list_out import list_rows
from joints.models import Job
from register.base import exports
from register.roles import Capability, requires

MAKERS = {"csv": exports.csv_response, "xlsx": exports.xlsx_response}


@requires(Capability.VIEW)
def job_list_file(request: HttpRequest, pk: int, kind: str) -> HttpResponseBase:
    """CSV or XLSX; a list too long for XLSX is told to go as CSV."""
    job = get_object_or_404(Job, pk=pk)
    try:
        return MAKERS[kind](list_rows(job), f"joints-of-job-{job.pk}")
    except ValueError as refusal:
        raise BadRequest(gettext("This list is too long: %(refusal)s.") % {"refusal": refusal}) from refusal
