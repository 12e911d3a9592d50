"""The whole answers given last, for joints that ask the same: those of a job mostly do.

An answer follows from what the joint asks, the offers, the day and the readings alone. The offers are read anew for
every question and compared; so nothing that was written, here or by another process, is ever missed.
"""

from collections import OrderedDict
from collections.abc import Mapping
from dataclasses import dataclass, field
from operator import itemgetter
from threading import Lock
from typing import Any

from django.utils.translation import get_language

from joints.answers import JointAnswer, ProcedureAnswer
from joints.coverage import answer, ranked_procedures
from joints.day import Day
from joints.demands import JointDemand, joint_demand
from joints.models import Job, Joint
from qualifications.offers import CertificateOffer
from wps.offers import ProcedureOffer

DAYS, DEMANDS = 8, 64
"""Days (with readings, plant and language) that are kept, and answers for each."""

Ranked = Mapping[str, tuple[ProcedureAnswer, ...]]


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
    key = _key(demand)
    try:
        with _lock:
            known = _of(here)
            found = known.answers.pop(key, None)
            if found is not None:
                known.answers[key] = found
    except TypeError:  # a value that cannot be a key
        return _anew(demand, here)
    if found is None:
        found = _anew(demand, here)
        with _lock:
            known.answers[key] = found
            while len(known.answers) > DEMANDS:
                known.answers.popitem(last=False)
    return found


def _anew(demand: JointDemand, here: Day) -> tuple[JointAnswer, Ranked]:
    ranked = {
        phase.phase: ranked_procedures(phase, demand, here.procedures, here.on, here.settings)
        for phase in demand.phases
    }
    return answer(demand, here.procedures, here.certificates, here.on, here.settings), ranked


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


def _key(demand: JointDemand) -> tuple[Any, ...]:
    """All that a joint asks; its number is no part of an answer."""
    phases = tuple(
        (one.phase, one.place, one.notes, tuple(tuple(sorted(d.items(), key=itemgetter(0))) for d in one.demands))
        for one in demand.phases
    )
    return phases, demand.requirements.key, demand.tack_length
