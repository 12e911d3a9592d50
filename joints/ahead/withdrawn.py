"""Joints welded to a procedure that was withdrawn afterwards, as far as weld values were taken in for them."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from joints.models import Job, WeldRunFinding
from wps.models import Status


@dataclass(frozen=True, slots=True)
class Welded:
    """A joint, the procedure its weld values were judged against, and why and when that was withdrawn."""

    joint: str
    joint_id: int | None
    revision_id: int
    procedure: str
    taken_in: date
    ended_on: date
    why: str
    url: str

    @property
    def sentence(self) -> str:
        """Example: "B101/3 was welded to WPS 014 rev C, withdrawn on 2027-03-02: wrong gas."."""
        why = f": {self.why.rstrip('.')}" if self.why else ""
        return f"{self.joint} was welded to {self.procedure}, withdrawn on {self.ended_on}{why}."


def welded_to_withdrawn(job: Job, on: date) -> tuple[Welded, ...]:
    """As of a day: withdrawals up to it. Weld values that came in after the end of a procedure are there too."""
    runs = WeldRunFinding.objects.filter(
        job=job, revision__status=Status.WITHDRAWN, revision__ended_on__lte=on, uploaded_at__date__lte=on
    ).select_related("revision__procedure", "joint__assembly")
    found: dict[tuple[Any, ...], Welded] = {}
    for run in runs.order_by("joint__assembly__order_key", "joint__order_key", "uploaded_at", "order"):
        named = f"{run.joint.assembly.mark}/{run.joint.number}" if run.joint else run.joint_text or "A joint not named"
        key = run.joint_id or named, run.revision_id
        if key not in found:
            found[key] = Welded(
                named, run.joint_id, run.revision_id, str(run.revision), run.uploaded_at.date(),
                run.revision.ended_on, run.revision.ended_reason, run.get_absolute_url(),
            )  # fmt: skip
    return tuple(found.values())


def counted(joints: Sequence[Welded]) -> str:
    """How many, in words."""
    if not joints:
        return "No weld values of this job were taken in for a procedure that was withdrawn since."
    verb = "was" if len(joints) == 1 else "were"
    return (
        f"{len(joints)} joint{'s' if len(joints) != 1 else ''} {verb} welded to a procedure that was withdrawn since."
    )
