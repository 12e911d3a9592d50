"""Addresses of the common ground that take arguments."""

from datetime import date

from django.contrib.auth.models import User

from register.background.models import Work
from register.evidence import store
from register.evidence.models import EvidenceFile
from register.held.models import FirmGrade
from register.systems.models import SystemToken


def _evidence() -> dict[str, object]:
    data = b"%PDF-1.7\nstartxref\n9\n%%EOF\n"
    facts = {"subject_type": "register.auditentry", "subject_id": "1", "file_name": "scan.pdf", "kind": "pdf"}
    made = EvidenceFile.objects.create(sha256=store.keep(data), size=len(data), added_by="qa", **facts)
    return {"pk": made.pk}


def _work() -> dict[str, object]:
    by = User.objects.get(username="coordinator")
    return {"pk": Work.objects.create(label="Count", title="sheep", function="x", asked_by=by, asked_by_name="x").pk}


def _system() -> dict[str, object]:
    day = date(2099, 1, 1)
    return {"pk": SystemToken.objects.create(name="Cell 3", digest="0" * 64, scopes=["read:due"], expires_on=day).pk}


def _grade() -> dict[str, object]:
    stated = {"group": "3.1", "bands": "50:700", "source": "data sheet 12", "why": "gantry rails"}
    return {"pk": FirmGrade.objects.create(name="Plate X700", by_name="coordinator", **stated).pk}


SAMPLES = {
    "background:work": _work,
    "background:state": _work,
    "background:give_up": _work,
    "systems:system": _system,
    "systems:revoke": _system,
    "evidence:file": _evidence,
    "users:change": lambda: {"pk": User.objects.get(username="auditor").pk},
    "users:factor": lambda: {"pk": User.objects.get(username="auditor").pk},
    "users:password": lambda: {"pk": User.objects.get(username="auditor").pk},
    "held:tables": lambda: {"package": "iso_9606_1_2012"},
    "held:grade_withdraw": _grade,
    "calc:family": lambda: {"family": "heat"},
    "calc:sheet": lambda: {"family": "heat"},
    "held:reading": lambda: {"key": "iso_9606_1_mode_136"},
}

HARMLESS_POSTS = {
    "own_password": "changes one's own password and nothing else",
    "own_units": "chooses the units of one's own account and nothing else",
    "second:set_up": "sets up one's own second factor and nothing else",
    "second:new_codes": "makes one's own recovery codes and nothing else",
    "second:take_away": "takes one's own second factor away and nothing else",
    "plants:choose": "remembers the plant in one's own session",
}
