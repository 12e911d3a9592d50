"""What machines send in: lists of joints as a proposal, and logs of weld values to be judged."""

from collections.abc import Iterator
from typing import Any

from django.conf import settings
from django.db import transaction
from django.http import HttpRequest
from django.shortcuts import get_object_or_404
from ninja import Path, Query, Router, Schema
from ninja import Status as Answered
from pydantic import Field

from joints.api.schemas import ListOut, LogJudged
from joints.imports.batch import take_in
from joints.imports.table import MAX_BYTES, Refusal
from joints.models import ImportBatch, Job, WeldRunFinding
from joints.weld_values.take_in import take_in as judge_log
from register.api.entries import Key, Text
from register.api.problems import Problem
from register.api.service import answers
from register.api.tokens import Needs, asked_by
from register.audit import record_act
from register.systems.scopes import Scope
from wps.models import ProcedureRevision, Status

router = Router(tags=["Sending in"])
CHUNK = 64 * 1024


class FileName(Schema):
    """How the file is called."""

    file_name: Text = Field(min_length=1, max_length=200, description="as it is to be known here, such as list.csv")


class LogFile(FileName):
    """How the log is called, and the revision that it was welded to."""

    revision: Key = Field(description="key of an approved or superseded revision of a procedure")


def raw(*kinds: str) -> dict[str, Any]:
    """How the description says that the body is a file."""
    body = {"schema": {"type": "string", "format": "binary"}}
    return {"requestBody": {"required": True, "content": dict.fromkeys(kinds, body)}}


@router.post(
    "/jobs/{key}/joint-lists",
    auth=Needs(Scope.PROPOSE_JOINTS),
    response=answers(ListOut, 201, 404, 409, 413),
    summary="Propose joints",
    url_name="joint_lists",
    openapi_extra=raw("text/csv", "application/octet-stream"),
)
def propose(request: HttpRequest, key: Path[Key], asked: Query[FileName]) -> Answered:
    """A list of welds as CSV or XLSX in the body. It is read and kept to be looked at; no joint is written.

    A person takes it in on the page `look_at`. Rows that cannot be taken are named in `problems`.
    """
    job, by = get_object_or_404(Job, pk=key), asked_by(request)
    data = b"".join(_chunks(request, MAX_BYTES))
    try:
        with transaction.atomic():
            batch = take_in(job, asked.file_name, data, {}, by)
            after = {"file": batch.file_name, "rows": batch.row_count, "sha256": batch.sha256}
            record_act(by, "sent in a list of welds", job, after=after)
    except Refusal as refusal:
        raise Problem(409 if "already" in str(refusal) else 422, str(refusal)) from None
    return Answered(201, _list(batch))


@router.get(
    "/joint-lists/{key}",
    auth=Needs(Scope.PROPOSE_JOINTS),
    response=answers(ListOut, 200, 404),
    summary="What became of a list",
    url_name="joint_list",
)
def joint_list(request: HttpRequest, key: Path[Key]) -> dict[str, Any]:
    """Whether a person has taken it in yet."""
    return _list(get_object_or_404(ImportBatch, pk=key))


@router.post(
    "/jobs/{key}/weld-values",
    auth=Needs(Scope.WRITE_WELD_VALUES),
    response=answers(LogJudged, 201, 404, 409, 413),
    summary="Have weld values judged",
    url_name="weld_values",
    openapi_extra=raw("text/csv", "application/gzip"),
)
def weld_values(request: HttpRequest, key: Path[Key], asked: Query[LogFile]) -> Answered:
    """A log of current, voltage and travel speed as CSV (or packed with gzip) in the body, against one revision.

    The findings are kept, the samples are not; the same log again is refused with 409.
    """
    job, by = get_object_or_404(Job, pk=key), asked_by(request)
    frozen = ProcedureRevision.objects.filter(status__in=(Status.APPROVED, Status.SUPERSEDED))
    revision = frozen.select_related("procedure").filter(pk=asked.revision).first()
    if revision is None:
        wrong = [{"field": "revision", "message": "is no approved revision on file; see /revisions?status=approved"}]
        raise Problem(422, "No approved revision has this key.", wrong)
    try:
        chunks = _chunks(request, settings.BODY_LIMIT)
        found = judge_log(job, revision, asked.file_name, chunks, by)
    except Refusal as refusal:
        raise Problem(409 if "already" in str(refusal) else 422, str(refusal)) from None
    return Answered(201, _judged(found, revision))


def _chunks(request: HttpRequest, most: int) -> Iterator[bytes]:
    """The body as it comes in. Raises Problem where it is empty or longer than `most` [bytes]."""
    size = 0
    while chunk := request.read(CHUNK):
        size += len(chunk)
        if size > most:
            raise Problem(413, f"At most {most // 1024**2} MB are read at once. Nothing was saved; split the file.")
        yield chunk
    if not size:
        raise Problem(422, "The body is empty: send the file itself, as curl does with --data-binary @file.")


def _list(batch: ImportBatch) -> dict[str, Any]:
    same = ("id", "job_id", "file_name", "sha256", "status", "problems", "uploaded_by", "uploaded_at")
    plain = {name: getattr(batch, name) for name in (*same, "confirmed_by", "confirmed_at")}
    errors = sum(not problem.get("is_note") for problem in batch.problems)
    return plain | {"rows": batch.row_count, "errors": errors, "look_at": batch.get_absolute_url()}


def _judged(found: list[WeldRunFinding], revision: ProcedureRevision) -> dict[str, Any]:
    counted = [one.outcome for one in found]
    return {
        "sha256": found[0].sha256,
        "revision": str(revision),
        "outside": counted.count("outside"),
        "not_stated": counted.count("not stated"),
        "runs": [_run(one) for one in found],
        "look_at": found[0].get_absolute_url(),
    }


def _run(one: WeldRunFinding) -> dict[str, Any]:
    same = ("id", "joint_id", "outcome", "samples", "arc_seconds", "details")
    return {name: getattr(one, name) for name in same} | {"joint": one.joint_text, "run": one.run_text}
