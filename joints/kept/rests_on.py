"""What the answers to the joints of some jobs rest on, each part as a mark that changes whenever the part does.

A kept result holds the marks that were read before it was reckoned. Where one differs now, the result is stale, and
the part is named. Every version of a row is kept (register.models.Recorded), so counting versions finds each write,
whatever the order in which transactions end.
"""

from collections.abc import Mapping, Sequence
from datetime import date
from hashlib import sha256
from typing import Any

from django.conf import settings as register_settings
from django.db.models import Count, Max, QuerySet

from codes.readings import Settings
from joints.models import Assembly, Job, Joint, Workstation
from qualifications.lending.models import Loan
from qualifications.reading import stamp
from register.models import Recorded
from wps.reading import versions_in_force
from wps.releases.models import ProcedureRelease

Marks = dict[str, str]
WORDS = {
    "joints": "the joints",
    "jobs": "what the jobs require",
    "places": "the workstations",
    "procedures": "the procedures in force or their records",
    "people": "certificates, confirmations or people",
    "plants": "who is lent, or what is released, between plants",
    "readings": "the readings of doubtful rules",
    "version": "the register itself, which is a newer version",
}


def rests_on(jobs: Sequence[int], on: date, settings: Settings) -> Marks:
    """The marks of all parts, for jobs by their keys on a day. A dozen short queries."""
    of_jobs = {"assembly__job__in": jobs}
    joints = (_state(Joint.every.filter(**of_jobs)), _versions(Joint, of_jobs))
    assemblies = (_state(Assembly.objects.filter(job__in=jobs)), _versions(Assembly, {"job__in": jobs}))
    return {
        "joints": _mark(joints, assemblies),
        "jobs": _mark(list(Job.objects.filter(pk__in=jobs).order_by("pk").values_list("pk", "changed_at"))),
        "places": _mark(_state(Workstation.objects.all()), _versions(Workstation, {})),
        "procedures": _mark(sorted(versions_in_force(on).items())),
        "people": _mark(stamp()),
        "plants": _mark(*(_versions(model, {}) for model in (Loan, ProcedureRelease))),
        "readings": _mark(sorted(settings.items())),
        "version": _mark(register_settings.VERSION),
    }


def changed(before: Mapping[str, str], now: Mapping[str, str]) -> list[str]:
    """What changed, in words, in the order of WORDS."""
    return [words for part, words in WORDS.items() if before.get(part) != now.get(part)]


def _state(rows: QuerySet[Any]) -> dict[str, Any]:
    return rows.order_by().aggregate(Count("pk"), Max("changed_at"))


def _versions(model: type[Recorded], chosen: Mapping[str, Any]) -> dict[str, Any]:
    kept = model.history.model._default_manager.filter(**chosen)  # type: ignore[attr-defined]
    return dict(kept.order_by().aggregate(Count("history_id"), Max("history_id")))


def _mark(*parts: object) -> str:
    return sha256(repr(parts).encode()).hexdigest()[:16]
