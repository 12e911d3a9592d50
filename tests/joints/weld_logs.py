"""Logs of controllers and procedures to hold them against."""

from datetime import date
from decimal import Decimal as D
from itertools import count
from typing import Any

from django.contrib.auth.models import User

from tests.wps.factory import KNOWN_CODE
from wps.models import Procedure, ProcedureRevision, ProcedureRun

_numbers = count(1)
HEAD = "time [s];joint;run;current [A];voltage [V];speed [mm/min]"
RANGES = {
    "current_min_a": D(220), "current_max_a": D(260), "voltage_min_v": D(25), "voltage_max_v": D(28),
    "speed_min_mm_min": D(350), "speed_max_mm_min": D(450),
}  # fmt: skip


def make_procedure(**run: Any) -> ProcedureRevision:
    """An approved revision with a root run 1 and a fill run 2."""
    author, _ = User.objects.get_or_create(username="coordinator")
    procedure = Procedure.objects.create(number=f"WPS log {next(_numbers)}", title="Sample")
    draft = ProcedureRevision.objects.create(procedure=procedure, letter="A", code=KNOWN_CODE, author=author)
    for order, layer in ((1, "root"), (2, "fill")):
        ProcedureRun.objects.create(revision=draft, order=order, layer=layer, process="135", **(RANGES | run))
    approver, _ = User.objects.get_or_create(username="second_coordinator")
    approved = {"status": "approved", "approved_by": approver, "approved_name": "Ines Duarte"}
    mine = ProcedureRevision.objects.filter(pk=draft.pk)
    mine.update(status="checked", checked_by=approver, checked_name="Ines Duarte", checked_on=date(2026, 3, 1))
    mine.update(**approved, approved_on=date(2026, 3, 2))
    draft.refresh_from_db()
    return draft


def log(*rows: str, head: str = HEAD) -> bytes:
    """A log in UTF-8."""
    return "\n".join([head, *rows, ""]).encode()
