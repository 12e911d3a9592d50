"""The life of a revision: draft, checked, approved, then superseded or withdrawn. Every step is written to the log.

Each act asks for the right of whoever does it (PermissionDenied), and refuses with a sentence (Refused) where the
revision is not ready for it. All steps of an act stand or fall together.
"""

from collections.abc import Sequence
from datetime import date
from typing import Any

from django.db import transaction
from django.utils.translation import gettext

from codes.readings import DEFAULTS, Settings
from codes.verdict import Outcome
from register.audit import record_act
from register.roles import Capability, check
from wps.completeness import missing
from wps.content import COPIED, content
from wps.judgement import judge
from wps.letters import next_letter
from wps.models import Procedure, ProcedureRevision, ProcedureRun, Status
from wps.witness import as_checked, identity


class Refused(ValueError):
    """An act that cannot be done now; the message says why and what would help."""


@transaction.atomic
def start_procedure(number: str, title: str, code: str, by: Any) -> ProcedureRevision:
    """A new procedure with the empty draft of its revision A."""
    check(by, Capability.EDIT_PROCEDURE)
    procedure = Procedure.objects.create(number=number, title=title)
    draft = ProcedureRevision.objects.create(procedure=procedure, letter="A", code=code, **_author(by))
    record_act(by, "started", draft)
    return draft


@transaction.atomic
def start_revision(procedure: Procedure, by: Any) -> ProcedureRevision:
    """A draft that copies the newest revision: window, runs, preparation and supporting records."""
    check(by, Capability.EDIT_PROCEDURE)
    Procedure.objects.select_for_update().get(pk=procedure.pk)
    newest = procedure.revisions.order_by("-pk").first()
    if newest is None:
        raise Refused(gettext("%(procedure)s has no revision to copy.") % {"procedure": procedure})
    if newest.is_open:
        raise Refused(
            gettext("%(newest)s is still %(status)s: finish or withdraw it first.")
            % {"newest": newest, "status": newest.get_status_display()}
        )
    draft = ProcedureRevision(procedure=procedure, letter=next_letter(newest.letter), **_author(by))
    for name in COPIED:
        setattr(draft, name, getattr(newest, name))
    draft.save()
    draft.records.set(newest.records.all())
    copy_runs(newest.runs.all(), draft)
    record_act(by, "started", draft, note=f"copied from revision {newest.letter}")
    return draft


def copy_runs(runs: Sequence[ProcedureRun], draft: ProcedureRevision) -> None:
    """The same runs for a draft."""
    for run in runs:
        run.pk, run.revision, run._state.adding = None, draft, True
        run.save()


def note_editor(revision: ProcedureRevision, by: Any) -> None:
    """Remember that somebody wrote in an open revision; a checked one is a draft again. The caller saves."""
    if not revision.is_open:
        raise Refused(
            gettext("%(revision)s is %(status)s: start a new revision to change it.")
            % {"revision": revision, "status": revision.get_status_display()}
        )
    name = by.get_username()
    if name not in revision.editors:
        revision.editors = [*revision.editors, name]
    revision.status = Status.DRAFT
    revision.checked_by, revision.checked_name, revision.checked_on = None, "", None


def not_theirs_to_check(revision: ProcedureRevision, by: Any) -> str:
    """Why somebody may not mark the revision as checked whatever it states, or ""."""
    if revision.status != Status.DRAFT:
        return gettext("%(revision)s is %(status)s; only a draft is checked.") % {
            "revision": revision,
            "status": revision.get_status_display(),
        }
    if by.get_username() in revision.editors or by.pk == revision.author_id:
        return gettext("You wrote in %(revision)s. It is checked by somebody else.") % {"revision": revision}
    return ""


def why_not_check(revision: ProcedureRevision, by: Any) -> str:
    """Why somebody may not mark the revision as checked, or ""."""
    if reason := not_theirs_to_check(revision, by):
        return reason
    if lacking := missing(revision):
        return gettext("%(revision)s does not state yet: %(lacking)s.") % {
            "revision": revision,
            "lacking": "; ".join(one.sentence for one in lacking),
        }
    return ""


@transaction.atomic
def check_revision(revision: ProcedureRevision, by: Any, on: date) -> ProcedureRevision:
    """A complete draft becomes checked. Raises Refused."""
    check(by, Capability.CHECK_PROCEDURE)
    held = _held(revision)
    if reason := why_not_check(held, by):
        raise Refused(reason)
    held.status, held.checked_on = Status.CHECKED, on
    held.checked_by, held.checked_name = by, _name(by)
    held.save()
    after = {"status": Status.CHECKED, "checked": as_checked(held)}
    record_act(by, "checked", held, before={"status": Status.DRAFT}, after=after)
    return held


def why_not_approve(revision: ProcedureRevision, by: Any, on: date, settings: Settings = DEFAULTS) -> str:
    """Why somebody may not approve the revision on a day, or ""."""
    if revision.status != Status.CHECKED:
        return gettext("%(revision)s is %(status)s; only a checked revision is approved.") % {
            "revision": revision,
            "status": revision.get_status_display(),
        }
    if by.get_username() in revision.editors or by.pk == revision.author_id:
        return gettext("You wrote in %(revision)s. It is approved by somebody other than its author.") % {
            "revision": revision
        }
    if lacking := missing(revision):
        return gettext("%(revision)s does not state yet: %(lacking)s.") % {
            "revision": revision,
            "lacking": "; ".join(one.sentence for one in lacking),
        }
    judgement = judge(revision, on, settings)
    if judgement.outcome is not Outcome.COVERED:
        what = "not prequalified" if revision.is_prequalified else "not covered by its records"
        return gettext("%(revision)s is %(what)s. %(sentence)s") % {
            "revision": revision,
            "what": what,
            "sentence": judgement.sentence,
        }
    before = _approved(revision)
    if before is not None and before.approved_on is not None and before.approved_on > on:
        return gettext("%(before)s was approved on %(approved_on)s, after %(on)s.") % {
            "before": before,
            "approved_on": before.approved_on,
            "on": on,
        }
    return ""


@transaction.atomic
def approve(revision: ProcedureRevision, by: Any, on: date, settings: Settings = DEFAULTS) -> ProcedureRevision:
    """A checked revision comes into force on a day, and the one before it ends on that day. Raises Refused.

    Completeness and coverage are asked anew. What was found is written to the log with the approval.
    """
    check(by, Capability.APPROVE_PROCEDURE)
    held = _held(revision)
    if reason := why_not_approve(held, by, on, settings):
        raise Refused(reason)
    before = _approved(held)
    if before is not None:
        _end(before, Status.SUPERSEDED, f"superseded by revision {held.letter}", by, on)
    held.status, held.approved_on = Status.APPROVED, on
    held.approved_by, held.approved_name = by, _name(by)
    held.save()
    after = {"status": Status.APPROVED, "approved_on": on.isoformat(), "content": content(held)}
    after["identity"] = identity(held)
    record_act(by, "approved", held, before={"status": Status.CHECKED}, after=after)
    return held


@transaction.atomic
def withdraw(revision: ProcedureRevision, by: Any, on: date, reason: str) -> ProcedureRevision:
    """A draft, a checked or an approved revision ends for a reason. Raises Refused."""
    held = _held(revision)
    check(by, Capability.APPROVE_PROCEDURE if held.status == Status.APPROVED else Capability.EDIT_PROCEDURE)
    if held.status not in (Status.DRAFT, Status.CHECKED, Status.APPROVED):
        raise Refused(gettext("%(held)s is already %(status)s.") % {"held": held, "status": held.get_status_display()})
    if not reason.strip():
        raise Refused(gettext("Say why it is withdrawn."))
    if held.approved_on is not None and on < held.approved_on:
        raise Refused(
            gettext("%(held)s was approved on %(approved_on)s; it cannot end before that.")
            % {"held": held, "approved_on": held.approved_on}
        )
    return _end(held, Status.WITHDRAWN, reason.strip(), by, on)


def _end(revision: ProcedureRevision, status: Status, reason: str, by: Any, on: date) -> ProcedureRevision:
    was = revision.status
    revision.status, revision.ended_on, revision.ended_reason = status, on, reason
    revision.ended_by, revision.ended_name = by, _name(by)
    revision.save()
    after = {"status": status, "ended_on": on.isoformat()}
    record_act(
        by,
        "withdrew" if status == Status.WITHDRAWN else "superseded",
        revision,
        before={"status": was},
        after=after,
        note=reason,
    )
    return revision


def _held(revision: ProcedureRevision) -> ProcedureRevision:
    """The revision as it is on file, held until the act is done."""
    return ProcedureRevision.objects.select_for_update(of=("self",)).select_related("procedure").get(pk=revision.pk)


def _approved(revision: ProcedureRevision) -> ProcedureRevision | None:
    return ProcedureRevision.objects.filter(procedure_id=revision.procedure_id, status=Status.APPROVED).first()


def _name(by: Any) -> str:
    return by.get_full_name() or by.get_username()


def _author(by: Any) -> dict[str, Any]:
    return {"author": by, "author_name": _name(by), "editors": [by.get_username()]}
