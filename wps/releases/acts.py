"""Releasing and taking back, each written to the trail in the transaction of the act."""

from datetime import date
from typing import Any

from django.db import IntegrityError, transaction

from register.audit import record_act
from register.plants.models import Plant
from register.roles import Capability, check
from wps.models import Procedure, ProcedureRelease


@transaction.atomic
def release(procedure: Procedure, plant: Plant, from_on: date, ground: str, by: Any) -> ProcedureRelease:
    """Let a plant weld to a procedure of another. Raises PermissionDenied, ValueError naming field and remedy."""
    check(by, Capability.APPROVE_PROCEDURE)
    if plant.pk == procedure.plant_id:
        raise ValueError(f"Released to: {procedure} is of {plant} itself; choose another plant.")
    if not ground.strip():
        raise ValueError("Why it holds there: state it, the auditor will ask.")
    made = ProcedureRelease(procedure=procedure, plant=plant, from_on=from_on, ground=ground.strip()[:300])
    made.by_name = by.get_full_name() or by.get_username()
    try:
        with transaction.atomic():
            made.save()
    except IntegrityError:
        raise ValueError(f"Released to: {plant} has it already; take that release back first.") from None
    record_act(by, "released", procedure, after=said(made))
    return made


@transaction.atomic
def take_back(one: ProcedureRelease, last: date, by: Any) -> None:
    """Let a release end. Raises PermissionDenied; ValueError where it has ended already."""
    check(by, Capability.APPROVE_PROCEDURE)
    held = ProcedureRelease.objects.select_for_update(of=("self",)).get(pk=one.pk)
    if held.until is not None:
        raise ValueError(f"It was taken back already, as of {held.until.isoformat()}.")
    held.until = max(last, held.from_on)
    held.save()
    record_act(by, "took back the release of", held.procedure, after=said(held))


def said(one: ProcedureRelease) -> dict[str, str | None]:
    """A release as the trail keeps it."""
    until = one.until.isoformat() if one.until else None
    return {"to": str(one.plant), "from": one.from_on.isoformat(), "until": until, "ground": one.ground}
