"""Findings on logs of weld values stay with their joint: its key is part of what is sealed.

The column itself is emptied when the joint is deleted, so a seal cannot hold it.
"""

from collections.abc import Iterator

from joints.models import Joint
from joints.weld_values.models import WeldRunFinding

JOINT = "joint"
"""Under this name the details of a finding hold the key of its joint; those of earlier versions did not."""
ROWS_AT_ONCE = 2000


def unlike() -> Iterator[str]:
    """In a sentence each: findings that stand with another joint than the one they were made for."""
    rows = WeldRunFinding.objects.order_by("pk").only("job_id", "joint_id", "joint_text", "run_text", "details")
    for row in rows.iterator(ROWS_AT_ONCE):
        own = row.details.get(JOINT, row.joint_id) if isinstance(row.details, dict) else row.joint_id
        if own != row.joint_id and (row.joint_id is not None or Joint.objects.filter(pk=own).exists()):
            yield f"The finding “{row}” (row {row.pk}) stands with another joint than the one that it was made for."
