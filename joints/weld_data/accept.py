"""Taking findings over: on somebody's word a joint is changed, and each field with its reason is kept."""

from collections.abc import Collection, Iterable, Sequence
from decimal import Decimal
from typing import Any

from django.db import models, transaction
from django.utils.translation import gettext

from joints.models import Job, Joint
from joints.weld_data.check import Found, check_job
from joints.weld_data.finding import Change
from joints.weld_data.models import WeldDataChange
from joints.weld_data.rules import RULES
from joints.weld_data.words import field_words
from register.audit import record_act
from register.trail.sealing import gathered, keep_rows

Field = tuple[int, str]
"""A joint by its key, and the name of a field."""


class NotTaken(ValueError):
    """Nothing was taken over; the message says why and what to do."""


def accept(job: Job, keys: Collection[str], by: Any) -> int:
    """Take over the findings of those keys, all of them or none, and return how many fields changed.

    Raises NotTaken where one of them is no longer there, or where two change one field of one joint.
    """
    with transaction.atomic(), gathered():
        _locked(job)
        return _write(job, _chosen(job, keys), by)


def accept_rule(job: Job, rule: str, by: Any) -> tuple[int, list[Joint]]:
    """Take over all that one rule proposes; how many fields changed, and the joints that were left for somebody to
    choose, because two proposals differ over one of their fields. Raises NotTaken where nothing is left.
    """
    if rule not in RULES:
        raise NotTaken(gettext("There is no rule %(rule)s; nothing was changed.") % {"rule": rule})
    with transaction.atomic(), gathered():
        _locked(job)
        found = list(check_job(job))
        disputed = disputed_fields(found)
        own = [one for one in found if one.finding.rule == rule]
        taken, left = undisputed(own, disputed), disputed_joints(own, disputed)
        if not taken and left:
            raise NotTaken(
                gettext(
                    "Two proposals differ for each joint of this kind. Tick the one that is right; nothing was changed."
                )
            )
        if not taken:
            raise NotTaken(gettext("Nothing of this kind is left to take over."))
        return _write(job, taken, by), left


def disputed_fields(found: Iterable[Found]) -> frozenset[Field]:
    """The fields for which two proposals differ, whatever their rules: nobody but a person chooses between them."""
    proposed: dict[Field, set[str]] = {}
    for one in found:
        for change in one.finding.changes:
            proposed.setdefault((one.joint.pk, change.field), set()).add(change.after)
    return frozenset(field for field, ways in proposed.items() if len(ways) > 1)


def is_disputed(one: Found, disputed: Collection[Field]) -> bool:
    """Whether a finding proposes something for such a field."""
    return any((one.joint.pk, change.field) in disputed for change in one.finding.changes)


def undisputed(found: Iterable[Found], disputed: Collection[Field]) -> list[Found]:
    """The findings that can be taken over without a choice; of those that propose the very same the first."""
    taken: dict[Field, Found] = {}
    for one in found:
        fields = [(one.joint.pk, change.field) for change in one.finding.changes]
        if fields and not is_disputed(one, disputed) and not any(field in taken for field in fields):
            taken |= dict.fromkeys(fields, one)
    return list({id(one): one for one in taken.values()}.values())


def disputed_joints(found: Iterable[Found], disputed: Collection[Field]) -> list[Joint]:
    """The joints of the findings that need a choice, each once."""
    return list({one.joint.pk: one.joint for one in found if is_disputed(one, disputed)}.values())


def _locked(job: Job) -> None:
    """Hold the job, so that two people do not take over the same at once."""
    Job.objects.select_for_update().get(pk=job.pk)


def _chosen(job: Job, keys: Collection[str]) -> list[Found]:
    if not keys:
        raise NotTaken(gettext("Nothing was chosen. Tick what is to be taken over."))
    wanted = set(keys)
    found = [one for one in check_job(job) if one.key in wanted and one.finding.changes]
    if missing := len(wanted) - len(found):
        raise NotTaken(
            gettext(
                "%(missing)s of %(wanted)s no longer stand as they were shown: somebody changed the joints "
                "meanwhile. Look at the list again; nothing was changed."
            )
            % {"missing": missing, "wanted": len(wanted)}
        )
    _refuse_twice(found)
    return found


def _refuse_twice(found: Iterable[Found]) -> None:
    seen: set[tuple[int, str]] = set()
    for one in found:
        for change in one.finding.changes:
            if (one.joint.pk, change.field) in seen:
                raise NotTaken(
                    gettext(
                        "Two proposals for the %(field)s of %(joint)s of %(assembly)s were chosen; choose one of "
                        "them. Nothing was changed."
                    )
                    % {"field": field_words(change.field), "joint": one.joint, "assembly": one.joint.assembly}
                )
            seen.add((one.joint.pk, change.field))


def _write(job: Job, found: Sequence[Found], by: Any) -> int:
    rows = [row for one in found for row in _rows(job, one, by)]
    for joint in {one.joint.pk: one.joint for one in found}.values():
        titles = dict.fromkeys(RULES[one.finding.rule].title for one in found if one.joint.pk == joint.pk)
        _change(joint, [c for one in found if one.joint.pk == joint.pk for c in one.finding.changes], titles, by)
    keep_rows(WeldDataChange, rows)
    joints = len({one.joint.pk for one in found})
    record_act(by, "took over corrections of weld data", job, after={"fields": len(rows), "joints": joints})
    return len(rows)


def _change(joint: Joint, changes: Iterable[Change], titles: Iterable[str], by: Any) -> None:
    for change in changes:
        setattr(joint, change.field, _value(change))
    joint._change_reason = f"weld data: {', '.join(titles)}"[:100]
    joint._history_user = by
    joint.save()


def _value(change: Change) -> Any:
    """The plain value as its field holds it."""
    if isinstance(Joint._meta.get_field(change.field), models.DecimalField):
        return Decimal(change.after) if change.after else None
    return change.after


def _rows(job: Job, one: Found, by: Any) -> list[WeldDataChange]:
    finding = one.finding
    return [
        WeldDataChange(
            joint=one.joint,
            job=job,
            assembly_mark=one.joint.assembly.mark,
            joint_number=one.joint.number,
            rule=finding.rule,
            field=change.field,
            before=change.before,
            after=change.after,
            reason=finding.reason,
            clause=str(finding.clause)[:250],
            mark=finding.clause.mark.value,
            by_name=by.get_username(),
        )
        for change in finding.changes
    ]
