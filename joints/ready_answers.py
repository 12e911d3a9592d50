"""The whole answers given last, in memory, for joints that ask the same: those of a job mostly do.

An answer follows from what the joint asks, the offers, the day and the readings alone. The offers are read anew for
every question and compared; so nothing that was written, here or by another process, is ever missed.
"""

from collections import OrderedDict
from dataclasses import dataclass, field
from threading import Lock

from django.utils.translation import get_language

from joints.answers import JointAnswer
from joints.day import Day, Ranked
from joints.demands import joint_demand
from joints.models import Job, Joint
from qualifications.offers import CertificateOffer
from wps.offers import ProcedureOffer

DAYS, DEMANDS = 8, 64
"""Days (with readings, plant and language) that are kept, and answers for each."""


@dataclass
class _Kept:
    """The answers that follow from these offers."""

    procedures: tuple[ProcedureOffer, ...]
    certificates: tuple[CertificateOffer, ...]
    answers: OrderedDict[object, tuple[JointAnswer, Ranked]] = field(default_factory=OrderedDict)


_kept: OrderedDict[object, _Kept] = OrderedDict()
_lock = Lock()


def explained(day: Day, joint: Joint, job: Job) -> tuple[JointAnswer, Ranked]:
    """The answer to one joint with every finding, and phase -> every procedure that serves it, nearest first."""
    demand, here = joint_demand(joint, job, day.settings), day.at(job.plant_id)
    # All that a joint asks; its number is no part of an answer.
    key = tuple(phase.key for phase in demand.phases), demand.requirements.key, demand.tack_length
    with _lock:
        known = _of(here)
        found = known.answers.pop(key, None)
        if found is not None:
            known.answers[key] = found
    if found is None:
        found = here.explained(demand), here.ranked_for(demand)
        with _lock:
            known.answers[key] = found
            while len(known.answers) > DEMANDS:
                known.answers.popitem(last=False)
    return found


def _of(here: Day) -> _Kept:
    """What is kept for a day; begun anew where the offers are others."""
    key = here.on, here.plant, tuple(sorted(here.settings.items())), get_language()
    known = _kept.pop(key, None)
    if known is None or known.procedures != here.procedures or known.certificates != here.certificates:
        known = _Kept(here.procedures, here.certificates)
    _kept[key] = known
    while len(_kept) > DAYS:
        _kept.popitem(last=False)
    return known
