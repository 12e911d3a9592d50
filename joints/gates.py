"""The gates of the application standard: what it asks of a record before its ranges count, and of tacks.

Which gates there are is the standard's own package's business (codes.editions, kind "gate"); this module only hands
it the facts of record, joint and job.
"""

from datetime import date

from codes.limits import LimitSet
from codes.readings import Settings
from codes.verdict import Verdict
from joints.demands import JointDemand, PhaseDemand
from wps.offers import RecordOffer


def gate_sets(record: RecordOffer, standard: str, on: date, settings: Settings) -> tuple[LimitSet, ...]:
    """What the application standard asks of this record; nothing where the job names none."""
    return ()


def tack_length_verdict(phase: PhaseDemand, joint: JointDemand, settings: Settings) -> Verdict | None:
    """The shortest tack, by the application standard; None where it says nothing."""
    return None
