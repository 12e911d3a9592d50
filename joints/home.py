"""What needs a decision today, for whoever asks."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from django.contrib.auth.models import User
from django.db.models import Count, Q
from django.utils.translation import gettext, ngettext

from joints.filters import WELDED, running
from joints.models import ImportBatch, Job, Joint, Workstation
from qualifications.due import CONFIRMATION, DueItem, falls_due
from qualifications.models import Certificate
from qualifications.offers import certificate_offers
from register.held.firm import firm_settings
from register.plants.reach import current
from register.roles import Capability, Role, can
from wps.models import FROZEN, ProcedureRevision, Status, TestRecord

SOON = (30,)
AT_MOST = 12


@dataclass(frozen=True, slots=True)
class Draft:
    """A revision that waits for somebody."""

    revision: ProcedureRevision
    waits_for: str
    own: bool
    """True where whoever asks wrote it, so that the next step is somebody else's or still the writing."""


@dataclass(frozen=True, slots=True)
class Deadline:
    """What falls due or has lapsed, and whether whoever asks may sign it."""

    item: DueItem
    may_confirm: bool


@dataclass(frozen=True, slots=True)
class Step:
    """A step of the way to a first answer, and whether it is done."""

    words: str
    url_name: str
    done: bool


def drafts(user: Any) -> list[Draft]:
    """The revisions that this user can take a step further, then those of this user's own that are still open."""
    waiting = ProcedureRevision.objects.filter(status__in=(Status.DRAFT, Status.CHECKED)).select_related("procedure")
    own = [Draft(one, _waits_for(one, True), True) for one in waiting.filter(author=user).order_by("changed_at")]
    if not can(user, Capability.CHECK_PROCEDURE):
        return own[:AT_MOST]
    others = waiting.exclude(author=user).order_by("changed_at")[:AT_MOST]
    return [*(Draft(one, _waits_for(one, False), False) for one in others), *own[:AT_MOST]]


def _waits_for(revision: ProcedureRevision, own: bool) -> str:
    act = gettext("approval") if revision.status == Status.CHECKED else gettext("checking")
    return (
        gettext("%(act)s by somebody else") % {"act": act}
        if own
        else gettext("%(act)s; written by %(author_name)s") % {"act": act, "author_name": revision.author_name}
    )


def dues(on: date, user: Any) -> list[DueItem]:
    """What is to be decided, what lapsed lately and what falls due within thirty days, in this order; whoever confirms
    own people sees these first.
    """
    settings = firm_settings()
    found = list(falls_due(certificate_offers(settings), on, SOON, settings=settings))
    own_first = can(user, Capability.CONFIRM_OWN_PEOPLE)
    found.sort(key=lambda item: (own_first and item.supervisor_id != user.pk, not item.is_decision))
    return found


def deadlines(found: Sequence[DueItem], user: Any) -> list[Deadline]:
    """The first of what falls due, each with whether this user may sign its confirmation (as events.may_confirm)."""
    anybody, own = can(user, Capability.RECORD_CONFIRMATION), can(user, Capability.CONFIRM_OWN_PEOPLE)
    here = current()
    return [
        Deadline(
            item,
            item.act == CONFIRMATION
            and here.holds(item.plant_id)
            and (anybody or (own and item.supervisor_id == user.pk)),
        )
        for item in found[:AT_MOST]
    ]


def jobs_running(on: date) -> list[Job]:
    """The jobs that are welded on the day and have joints."""
    rows = running(Job.objects.annotate(joint_count=Count("assemblies__joints", filter=WELDED)), on)
    return list(rows.filter(joint_count__gt=0).order_by("ends_on", "number")[:AT_MOST])


def open_lists(user: Any) -> list[ImportBatch]:
    """Lists that were sent in and wait to be taken in."""
    if not can(user, Capability.IMPORT_JOINTS):
        return []
    return list(
        ImportBatch.objects.filter(status=ImportBatch.UPLOADED).select_related("job").defer("rows", "problems")[:5]
    )


def first_steps(user: Any) -> list[Step]:
    """The way from an empty register to the first answer, with links for whoever may go it; empty once walked."""
    steps = [
        Step(gettext("Enter a test record of a procedure (WPQR)"), "wps:record_new", TestRecord.objects.exists()),
        Step(
            gettext("Write a procedure on it, and have it approved"),
            "wps:procedure_list",
            ProcedureRevision.objects.filter(status__in=FROZEN).exists(),
        ),
        Step(
            gettext("Add the people who weld, with their certificates"),
            "qualifications:person_list",
            Certificate.objects.exists(),
        ),
        Step(gettext("Name the workstations"), "joints:workstation_list", Workstation.objects.exists()),
        Step(gettext("Start a job and take in the list of its welds"), "joints:job_list", Joint.objects.exists()),
    ]
    if all(step.done for step in steps):
        return []
    if can(user, Capability.MANAGE_USERS):
        steps.insert(1, accounts_step())
    return steps if can(user, Capability.EDIT_RECORD) else [replace(step, url_name="") for step in steps]


def accounts_step() -> Step:
    """A procedure is never approved by its author: a shop of one account would stop there."""
    held = Q(groups__name=Role.COORDINATOR) | Q(plant_roles__role=Role.COORDINATOR)
    approvers = User.objects.filter(held, is_active=True).distinct().count()
    return Step(
        gettext("Make an account for a second approver: nobody approves a procedure that they wrote"),
        "users:new",
        approvers > 1,
    )


def summary(jobs: int, waiting: int, due: Sequence[DueItem], empty: bool = False, begun: bool = False) -> str:
    """The day in one sentence. Example: "2 jobs are being welded; 1 certificate has lapsed.".

    `empty`: no step to a first answer is done yet; `begun`: some are, others not.
    """
    asked, lapsed = sum(item.is_decision for item in due), sum(item.is_lapse for item in due)
    falls = len(due) - asked - lapsed
    parts = [
        (jobs, ngettext("%(n)s job is being welded", "%(n)s jobs are being welded", jobs)),
        (waiting, ngettext("%(n)s procedure waits for you", "%(n)s procedures wait for you", waiting)),
        (asked, ngettext("%(n)s failed test is to be decided on", "%(n)s failed tests are to be decided on", asked)),
        (lapsed, ngettext("%(n)s certificate has lapsed", "%(n)s certificates have lapsed", lapsed)),
        (falls, ngettext("%(n)s falls due within 30 days", "%(n)s fall due within 30 days", falls)),
    ]
    said = "; ".join(part % {"n": n} for n, part in parts if n)
    if not said and empty:
        return gettext("The register is empty: begin with what was tested.")
    if not said and begun:
        return gettext("The register is begun: the next step is below.")
    return f"{said}." if said else gettext("Nothing needs a decision.")
