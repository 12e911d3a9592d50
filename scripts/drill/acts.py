"""What people do while the shop is broken, and what must hold afterwards."""

import http.client
import threading
from collections.abc import Callable
from dataclasses import dataclass, field
from hashlib import sha256
from itertools import cycle, product
from typing import Any
from zipfile import ZipFile

from scripts.drill.client import Client, Reply
from scripts.drill.shop import Shop

HEAD = "Assembly;Joint number;Weld type;Grade 1;Grade 2;Thickness 1;Thickness 2;Throat a;Position;Process"
SHEETS = cycle(
    {"kind": kind, "paper": paper, "units": units}
    for kind, paper, units in product(("cell", "full"), ("a4", "letter"), ("si", "us"))
)
"""The batches of sheets in turn: the first of each kind issues all of them."""
SMALL, LARGE = 60, 1200
"""Rows of a list that is taken in within the request, and of one that a worker takes in."""


def list_of(mark: str, rows: int) -> bytes:
    """A list of welds as CSV."""
    lines = [f"{mark}-{n // 40};{n};fillet;S355J2+N;S355J2+N;12;20;5;PB;135" for n in range(rows)]
    return "\n".join([HEAD, *lines]).encode()


@dataclass
class Asked:
    """One thing that somebody asked for while the shop was broken, and the answer if any came."""

    what: str
    path: str
    fields: dict[str, str] = field(default_factory=dict)
    reply: Reply | None = None

    @property
    def confirmed(self) -> bool:
        """True if the register answered that it is so."""
        return self.reply is not None and self.reply.status == 302


@dataclass
class Round:
    """What one round asks for, with the keys of what it made ready."""

    number: int
    batches: dict[str, int]
    revision: int
    asked: list[Asked]
    last_work: int = 0
    """The newest piece of work before the round."""


class Acts:
    """Makes rounds ready, has three people act at once, and looks afterwards."""

    def __init__(self, shop: Shop) -> None:
        from django.contrib.auth.models import User

        from joints.models import Job
        from register.demo import PASSWORD
        from wps.models import ProcedureRevision

        self.shop, self.password = shop, PASSWORD
        self.marta, self.henrik = (User.objects.get(username=name) for name in ("marta", "henrik"))
        self.job = Job.objects.create(number="DRILL", title="Lists taken in while the shop is broken")
        self.procedure = next(one.procedure for one in ProcedureRevision.objects.order_by("pk") if _renewable(one))
        self.session: dict[str, str] = {}

    def sign_in(self) -> None:
        """Sign in once; the session outlives the web, as it does in a browser."""
        client = Client(self.shop.port)
        client.sign_in("marta", self.password)
        self.session = client.cookies

    def ready(self, number: int, sheets: bool = False) -> Round:
        """A checked revision that waits for approval, two lists that wait to be taken in; `sheets`: a batch of them."""
        from django.urls import reverse
        from django.utils import timezone

        from joints.imports.batch import take_in
        from register.background.models import Work
        from wps.workflow import check_revision, start_revision

        sizes = {"small": SMALL, "large": LARGE}
        batches = {
            name: take_in(self.job, f"{name} {number}.csv", list_of(f"{name[0]}{number}", rows), {}, self.marta).pk
            for name, rows in sizes.items()
        }
        draft = self.procedure.revisions.order_by("-pk")[0]
        if not draft.is_open:  # else the approval of an earlier round was cut off
            draft = start_revision(self.procedure, self.henrik)
            check_revision(draft, self.marta, timezone.localdate())
        signed = {"signing_password": self.password}
        asked = [Asked(name, reverse("joints:import_confirm", args=[pk])) for name, pk in batches.items()]
        asked.append(Asked("approval", reverse("wps:revision_approve", args=[draft.pk]), signed))
        if sheets:
            asked.append(Asked("sheets", reverse("wps:all_sheets"), next(SHEETS)))
        last = Work.objects.order_by("-pk").values_list("pk", flat=True).first()
        return Round(number, batches, draft.pk, asked, last or 0)

    def act(self, this: Round) -> list[threading.Thread]:
        """Ask for everything at once, each on a connection of its own. The threads end with the answers."""
        threads = [threading.Thread(target=self._ask, args=(one,)) for one in this.asked]
        for thread in threads:
            thread.start()
        return threads

    def _ask(self, one: Asked) -> None:
        client = Client(self.shop.port)
        client.cookies = dict(self.session)
        try:
            one.reply = client.post(one.path, one.fields)
        except (OSError, http.client.HTTPException):
            one.reply = None


def _renewable(revision: Any) -> bool:
    """True if this is the newest revision of its procedure, in force, and its copy could be approved today."""
    from django.utils import timezone

    from codes.verdict import Outcome
    from wps.judgement import judge

    newest = revision.procedure.revisions.order_by("-pk")[0]
    return (
        newest.status == "approved" == revision.status
        and judge(newest, timezone.localdate()).outcome is Outcome.COVERED
    )


def problems(this: Round) -> list[str]:
    """What is lost or half done after a round; nothing where all is well."""
    found: list[str] = []
    for asked in this.asked:
        look: Callable[[Round, Asked], list[str]] = {"approval": _approval, "sheets": _sheets}.get(asked.what, _list)
        found += [f"round {this.number}, {asked.what}: {text}" for text in look(this, asked)]
    return found


def _list(this: Round, asked: Asked) -> list[str]:
    from joints.models import ImportBatch, Joint
    from register.background.models import State, Work
    from register.models import AuditEntry

    batch = ImportBatch.objects.get(pk=this.batches[asked.what])
    taken = batch.status == ImportBatch.CONFIRMED
    rows = SMALL if asked.what == "small" else LARGE
    joints = Joint.objects.filter(source=batch).count()
    versions = Joint.history.filter(source_id=batch.pk).count()
    entries = AuditEntry.objects.filter(act="took in a list of welds", after__file=batch.file_name).count()
    works = [one for one in Work.objects.all()[:50] if one.arguments.get("batch_id") == batch.pk]
    done = sum(one.state == State.DONE for one in works)
    wanted = (rows, rows, 1, 1) if taken else (0, 0, 0, 0)
    found: list[str] = []
    if (joints, versions, entries, done) != wanted:
        found.append(f"{joints} joints, {versions} versions, {entries} entries, {done} works done; {wanted} wanted")
    if unfinished := [one for one in works if not one.finished]:
        found.append(f"{len(unfinished)} works never ended")
    if failed := [one.message for one in works if one.state == State.FAILED]:
        found.append(f"failed: {failed}")
    if asked.confirmed and not taken:
        found.append(f"the answer led to {asked.reply and asked.reply.location}, but it is not on file")
    return found


def _approval(this: Round, asked: Asked) -> list[str]:
    from register.models import AuditEntry
    from wps.models import ProcedureRevision

    revision: Any = ProcedureRevision.objects.get(pk=this.revision)
    approved = revision.status == "approved"
    entries = AuditEntry.objects.filter(
        act="approved", subject_type="wps.procedurerevision", subject_id=str(revision.pk)
    ).count()
    in_force = revision.procedure.revisions.filter(status="approved").count()
    found: list[str] = []
    if entries != int(approved):
        found.append(f"it is {revision.status} with {entries} entries in the trail")
    if in_force != 1:
        found.append(f"{in_force} revisions in force")
    if asked.confirmed and not approved:
        found.append(f"confirmed, but it is {revision.status}")
    return found


def _sheets(this: Round, asked: Asked) -> list[str]:
    """Of every revision in force one sheet, issued once with its act, and the ZIP holds their very bytes."""
    from register.background.models import State, Work
    from register.papers import made
    from wps.models import IssuedSheet, ProcedureRevision

    works = list(Work.objects.filter(pk__gt=this.last_work, function="wps.sheet_batch.all_sheets"))
    found = [f"{one.get_state_display()}: {one.message}" for one in works if one.state != State.DONE]
    if asked.confirmed and not works:
        found.append("the answer said that it was begun, but no work is on file")
    for work in [one for one in works if one.state == State.DONE]:
        path = made.path_of(work.pk, work.result_url.rpartition("/")[2])
        data = path.read_bytes() if path.exists() else b""
        if sha256(data).hexdigest() != work.result["sha256"]:
            found.append("the ZIP is not the one that was made")
            continue
        with ZipFile(path) as packed:
            inside = [sha256(packed.read(name)).hexdigest() for name in packed.namelist() if name.endswith(".pdf")]
        known = set(IssuedSheet.objects.filter(**asked.fields).values_list("sha256", flat=True))
        in_force = ProcedureRevision.objects.filter(status="approved").count()
        # The approval of the round may fall between the beginning of the work and its end: then the revision that it
        # ended is left out and named, and the new one was not in force yet when the work began.
        named = "Left out" in work.message
        if len(inside) != in_force - named or not known.issuperset(inside):
            found.append(f"{len(inside)} sheets in the ZIP, {in_force} revisions in force, or some are not on file")
    return found
