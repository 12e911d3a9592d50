"""`manage.py coverage FILE --job NUMBER`: is every joint of a file covered? Exit codes for a pipeline."""

import json
import sys
from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.exceptions import BadRequest
from django.core.management.base import CommandError
from django.utils import timezone

from joints.api.answer import answer_out
from joints.imports.files import check_size
from joints.imports.table import MAX_BYTES, Refusal
from joints.listed import BadList, Listed, answered, counts, explained, read_joints
from joints.models import Job
from joints.ready import day_of
from register.base.asof import read_date
from register.management.base import RegisterCommand

ALL_COVERED, SOME_NOT, BAD_INPUT = 0, 1, 2


class Command(RegisterCommand):
    """Nothing is saved: the file is read as an import would read it, and asked of the day."""

    help = "Answer every joint of a CSV or XLSX file. Exit 0: all covered, 1: some outside or not stated, 2: bad input."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("file", help="CSV or XLSX with one weld a row, or - to read it from standard input")
        parser.add_argument("--job", required=True, help="number of the job whose requirements count")
        parser.add_argument("--on", default="", help="the day asked about, YYYY-MM-DD; today unless stated")
        parser.add_argument("--json", action="store_true", help="one JSON object instead of lines")
        parser.add_argument("--explain", action="store_true", help="with --json: what is missed, by clause and margin")

    def handle(self, *args: Any, file: str, job: str, on: str, **options: Any) -> None:
        try:
            asked = read_date(on) if on else timezone.localdate()
            found_job = Job.objects.filter(number=job).first()
            if found_job is None:
                raise Refusal(f"No job {job} is on file.")
            joints = read_joints(_bytes(file), found_job)
        except BadList as bad:
            for one in bad.problems:
                self.stderr.write(f"row {one.row}, {one.column}: {one.message}")
            raise CommandError(f"{bad}. Nothing was answered.", returncode=BAD_INPUT) from None
        except (Refusal, BadRequest, OSError) as refusal:
            raise CommandError(str(refusal), returncode=BAD_INPUT) from None
        day = day_of(asked)
        found = list(answered(joints, found_job, day))
        if options["json"]:
            rows = [_plain(one, found_job, day, options["explain"]) for one in found]
            said = {"on": asked.isoformat(), "job": found_job.number, "counts": counts(found), "joints": rows}
            self.stdout.write(json.dumps(said, ensure_ascii=False, indent=1))
        else:
            self._lines(found)
        if any(one.result.outcome.value != "covered" for one in found):
            sys.exit(SOME_NOT)

    def _lines(self, found: list[Listed]) -> None:
        for one in found:
            name = f"{one.joint.assembly.mark}/{one.joint.number}"
            self.stdout.write(f"{one.row}\t{name}\t{one.result.outcome.value}\t{one.result.sentence}")
        total = ", ".join(f"{number} {name}" for name, number in sorted(counts(found).items()))
        self.stderr.write(f"{len(found)} joints: {total}")


def _bytes(file: str) -> bytes:
    """The file, no longer than a list may be. Raises Refusal, OSError."""
    if file == "-":
        data = sys.stdin.buffer.read(MAX_BYTES + 1)
    else:
        with Path(file).open("rb") as opened:
            data = opened.read(MAX_BYTES + 1)
    check_size(len(data))
    return data


def _plain(one: Listed, job: Job, day: Any, explain: bool) -> dict[str, Any]:
    result, joint = one.result, one.joint
    plain: dict[str, Any] = {
        "row": one.row,
        "assembly": joint.assembly.mark,
        "number": joint.number,
        "outcome": result.outcome.value,
        "sentence": result.sentence,
        "reasons": list(result.reasons),
        "procedures_final": list(result.final.labels),
        "procedures_tack": list(result.tack.labels),
    }
    if explain:
        plain["answer"] = answer_out(explained(joint, job, day), joint.named, missed_only=True)
    return plain
