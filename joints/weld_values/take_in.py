"""A log judged against the runs of a procedure, and its summary kept."""

from collections.abc import Iterable
from decimal import Decimal
from typing import Any

from django.db import transaction
from django.utils.translation import gettext

from codes.values import Interval
from joints.imports.table import Refusal
from joints.models import Job, Joint
from joints.weld_values.figures import MOST_DIGITS
from joints.weld_values.findings import MICRO, RunLog, Window
from joints.weld_values.judge import judged
from joints.weld_values.lines import Log
from joints.weld_values.models import WeldRunFinding
from joints.weld_values.witness import JOINT
from register.audit import record_act
from register.trail.sealing import keep_rows
from wps.models import ProcedureRevision, ProcedureRun
from wps.runs import RANGES

WATCHED = ("current", "voltage", "travel_speed")


def window_of(run: ProcedureRun) -> Window:
    """The ranges that the run states; one end is enough."""
    found = {}
    for name, lo, hi, unit in RANGES:
        ends = getattr(run, lo), getattr(run, hi)
        if name in WATCHED and any(end is not None for end in ends):
            found[name] = Interval(*ends, unit)
    return found


def windows_of(revision: ProcedureRevision) -> dict[str, Window]:
    """The word of a run to its window: its number, and its name where it has one ("1", "root")."""
    found: dict[str, Window] = {}
    for run in revision.runs.all():
        for word in filter(None, (str(run.order), run.layer.strip().casefold())):
            found.setdefault(word, window_of(run))
    return found


def take_in(job: Job, revision: ProcedureRevision, name: str, chunks: Iterable[bytes], by: Any) -> list[WeldRunFinding]:
    """The findings of a log, kept. Raises Refusal; then nothing is kept."""
    held = windows_of(revision)
    if not held:
        raise Refusal(
            gettext("%(revision)s states no runs, so there is nothing to hold the log against.")
            % {"revision": revision}
        )
    log = Log(chunks)
    found = judged(log, lambda joint, run: held.get(_plain(run)))
    if not found:
        raise Refusal(gettext("The log holds no sample."))
    _refuse_known(job, revision, log.sha256)
    joints = joints_by_word(job)
    rows = [
        _row(one, order, joints.get(_plain(one.joint)), job=job, revision=revision, file_name=name[:250],
             sha256=log.sha256, uploaded_by=by.get_full_name() or by.get_username())
        for order, one in enumerate(found)
    ]  # fmt: skip
    with transaction.atomic():
        keep_rows(WeldRunFinding, rows)
        outside = sum(row.outcome == "outside" for row in rows)
        record_act(by, "judged a log of weld values", job, after={"file": name, "runs": len(rows), "outside": outside})
    return rows


def _refuse_known(job: Job, revision: ProcedureRevision, sha: str) -> None:
    known = WeldRunFinding.objects.filter(job=job, revision=revision, sha256=sha).first()
    if known is not None:
        raise Refusal(
            gettext(
                "This log was judged against %(revision)s already, by %(uploaded_by)s on %(uploaded_at)s. "
                "Its findings are on file below the form."
            )
            % {"revision": revision, "uploaded_by": known.uploaded_by, "uploaded_at": f"{known.uploaded_at:%Y-%m-%d}"}
        )


def joints_by_word(job: Job) -> dict[str, Joint | None]:
    """What a log may call a joint: "mark/number", or its number where only one joint of the job has it."""
    found: dict[str, Joint | None] = {}
    for joint in Joint.objects.filter(assembly__job=job).select_related("assembly"):
        number = _plain(joint.number)
        found[number] = None if number in found else joint
    for joint in Joint.objects.filter(assembly__job=job).select_related("assembly"):
        found[_plain(f"{joint.assembly.mark}/{joint.number}")] = joint
    return found


def _plain(word: str) -> str:
    """A word of a log without case, blanks at the ends, and the zeros in front of a number."""
    plain = word.strip().casefold()
    return str(int(plain)) if plain.isdecimal() and len(plain) <= MOST_DIGITS else plain


def _row(one: RunLog, order: int, joint: Joint | None, **facts: Any) -> WeldRunFinding:
    return WeldRunFinding(
        joint=joint,
        joint_text=one.joint[:80],
        run_text=one.run[:40],
        outcome=one.outcome,
        samples=one.samples,
        arc_seconds=Decimal(one.arc_micros) / MICRO,
        details=one.plain() | {JOINT: joint.pk if joint is not None else None},
        order=order,
        **facts,
    )
