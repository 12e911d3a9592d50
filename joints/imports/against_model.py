"""What stands on file other than the list or the model said when it last came."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from joints.imports.fields import STATED_FIELDS, plain_of
from joints.models import Job, Joint, JointAsSent


@dataclass(frozen=True, slots=True)
class Differs:
    """One field of a joint: what was sent, and what stands on file; "" is not stated."""

    joint: Joint
    field: str
    sent: str
    now: str


def differs_of(joint: Joint) -> tuple[Differs, ...]:
    """The fields in which a joint departs from what was sent; none where it was entered by hand."""
    sent = JointAsSent.objects.filter(joint=joint).first()
    return tuple(_differs(joint, sent)) if sent is not None else ()


def differs_in(job: Job) -> Iterator[Differs]:
    """The same for all joints of a job that are still welded, in their order."""
    around = ("assembly", "final_workstation", "tack_workstation", "as_sent")
    joints = Joint.objects.filter(assembly__job=job, as_sent__isnull=False).select_related(*around)
    yield from each_of(joints.order_by("assembly__order_key", "assembly_id", "order_key", "pk").iterator(1000))


def each_of(joints: Iterable[Joint]) -> Iterator[Differs]:
    """The same for joints that come with what was sent of them."""
    for joint in joints:
        yield from _differs(joint, joint.as_sent)


def _differs(joint: Joint, sent: JointAsSent) -> Iterator[Differs]:
    """A field of which nothing was sent is an addition, not a departure: it is not reported."""
    for name in STATED_FIELDS:
        said, now = sent.values.get(name, ""), plain_of(joint, name)
        if said and said != now:
            yield Differs(joint, name, said, now)
