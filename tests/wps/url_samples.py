"""Things for the addresses of the wps app, for the access test."""

from itertools import count

from django.contrib.auth.models import User

from tests.wps.factory import KNOWN_CODE, make_record
from wps import workflow
from wps.models import ProcedureRevision

_numbers = count(1)


def _draft() -> ProcedureRevision:
    """A draft to a real code: the access test does not know the made-up one."""
    author, _ = User.objects.get_or_create(username="coordinator")
    return workflow.start_procedure(f"WPS sample {next(_numbers)}", "Sample", KNOWN_CODE, author)


def _revision() -> dict[str, object]:
    return {"pk": _draft().pk}


def _procedure() -> dict[str, object]:
    return {"pk": _draft().procedure_id}


def _record() -> dict[str, object]:
    return {"pk": make_record(f"WPQR sample {next(_numbers)}", code=KNOWN_CODE).pk}


SAMPLES = {
    "wps:procedure": _procedure,
    "wps:revision_new": _procedure,
    "wps:revision": _revision,
    "wps:revision_edit": _revision,
    "wps:revision_live": _revision,
    "wps:revision_check": _revision,
    "wps:revision_approve": _revision,
    "wps:revision_withdraw": _revision,
    "wps:record": _record,
    "wps:record_edit": _record,
}
HARMLESS_POSTS = {"wps:revision_live": "judges what is typed and saves nothing"}
