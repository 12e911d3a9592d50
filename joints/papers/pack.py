"""The audit pack of a job: joint, procedure, record, person, evidence, one behind the other.

The coverage report of every assembly comes first; then, each once, the procedures that cover its joints, the records
these rest on, the certificates of those who may weld, and the scans of records and certificates.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date
from hashlib import sha256
from itertools import accumulate
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from django.db.models import Model
from django.urls import reverse
from django.utils.translation import gettext

from codes.verdict import Outcome
from joints.day import Day
from joints.models import Assembly, Job, Joint
from joints.papers import coverage, weld_map
from joints.ready import day_of
from qualifications.models import Certificate
from qualifications.offers import fetched
from qualifications.paper.pdfs import certificate_draft
from register.audit import record_act
from register.background.kinds import Facts, Refused, background
from register.background.progress import Progress
from register.evidence import store
from register.evidence.models import EvidenceFile
from register.languages import in_own_language
from register.papers import made
from register.papers.bundle import Bundle, Part
from register.papers.codes import status_address
from register.papers.kept import Altered, bytes_of
from register.papers.kinds import Kind
from register.papers.names import plain
from register.papers.printing import Draft, PaperChoice, for_reader, rendered
from register.roles import Capability, can
from wps import issued, record_paper
from wps.models import ProcedureRevision, TestRecord
from wps.sheets import FULL, Choice, SheetError

ASSEMBLIES, PROCEDURES, RECORDS, PEOPLE = "Joints, by assembly", "Procedures", "Test records", "People"
FORMS = {"pdf": "one PDF with bookmarks", "zip": "a ZIP with every paper, the scans and a list of hashes"}


@dataclass
class Pack:
    """A pack in the making: what its joints rest on, found assembly by assembly.

    `address`: where the codes of its papers lead, as `status_address` gives it.
    """

    job: Job
    on: date
    choice: PaperChoice
    by: Any
    bundle: Bundle
    address: str = ""
    revisions: set[int] = field(default_factory=set)
    certificates: set[int] = field(default_factory=set)
    counts: dict[str, int] = field(default_factory=dict)
    absent: list[str] = field(default_factory=list)


def about_job(job_id: int, **how: str) -> Facts:
    """The job it is for."""
    job = Job.objects.filter(pk=job_id).first()
    return [(gettext("Job"), str(job), job.get_absolute_url())] if job else []


@background("Make an audit pack", Capability.VIEW, refusals=(SheetError, Altered), about=about_job)
def audit_pack(progress: Progress, job_id: int, on: str, form: str, paper: str, units: str, address: str = "") -> None:
    """Make the pack and keep it for whoever may look."""
    job = Job.objects.filter(pk=job_id).first()
    if job is None:
        raise Refused(gettext("This job is no longer on file."))
    with TemporaryDirectory(prefix="pack-") as folder:
        choice, bundle = PaperChoice(paper, units), Bundle(Path(folder) / "parts")
        pack = Pack(job, date.fromisoformat(on), choice, progress.by, bundle, address or status_address())
        steps = job.assemblies.count() + 1
        for step, what in enumerate(build(pack), start=1):
            progress(min(step, steps), steps, what)
        name = f"audit-pack-{job.number}-{on}.{form}".replace(" ", "-").replace("/", "-")
        path = made.room_for(progress.work.pk, name)
        unfinished = Path(folder) / name
        write(pack, unfinished, form)
        digest = sha256(unfinished.read_bytes()).hexdigest()
        # Another device may hold the temporary folder.
        path.write_bytes(unfinished.read_bytes())
    with progress.whole():
        record_act(progress.by, "made an audit pack", job, after={"file": name, "sha256": digest, "on": on})
        url = reverse("joints:made_file", args=[progress.work.pk, name])
        said = f"The pack is ready: {len(pack.bundle.parts)} parts."
        progress.outcome(said, url, "Take it away", result={"sha256": digest})


def build(pack: Pack) -> Iterator[str]:
    """Make the parts one by one; yields what was made last."""
    day = day_of(pack.on)
    for assembly in Assembly.objects.filter(job=pack.job).select_related("job", "geometry"):
        _assembly(pack, assembly, day)
        yield str(assembly)
    for revision in ProcedureRevision.objects.filter(pk__in=pack.revisions).select_related("procedure"):
        _procedure(pack, revision)
        yield str(revision)
    for record in TestRecord.objects.filter(supports__in=pack.revisions).distinct():
        _paper(pack, record_paper.draft(record, pack.on, pack.choice.system), (RECORDS, record.number))
        _scans(pack, record, (RECORDS, record.number))
        yield record.number
    held = fetched(Certificate.objects.filter(pk__in=pack.certificates)).order_by("person__name", "number")
    for certificate in held:
        _person(pack, certificate)
        yield str(certificate)


def _assembly(pack: Pack, assembly: Assembly, day: Day) -> None:
    for joint in Joint.objects.filter(assembly=assembly).select_related("final_workstation", "tack_workstation"):
        answer = day.explain(joint, pack.job)
        pack.counts[answer.outcome.value] = pack.counts.get(answer.outcome.value, 0) + 1
        for phase in answer.phases:
            pack.revisions |= {one.revision_id for one in phase.covering}
            pack.certificates |= {one.certificate_id for one in phase.people}
    place = (ASSEMBLIES, str(assembly))
    _paper(pack, coverage.draft(assembly, pack.on, pack.choice.system), place)
    if getattr(assembly, "geometry", None) is not None:
        _paper(pack, weld_map.draft(assembly, pack.on, pack.choice.system), place)


def _paper(pack: Pack, draft: Draft, place: tuple[str, ...]) -> None:
    data = for_reader(draft, pack.choice, pack.by, pack.address)
    pack.bundle.add(f"{_folder(place)}/{draft.stem}.pdf", draft.title, place, data)


def _procedure(pack: Pack, revision: ProcedureRevision) -> None:
    """The full specification as it was issued; whoever may not issue one gets those that are."""
    choice = Choice(FULL, pack.choice.paper, pack.choice.units)
    kept = issued.find(revision, choice)
    if kept is None and can(pack.by, Capability.PRINT_SHEET):
        kept = issued.issue(revision, choice, pack.by, pack.address)
    place = (PROCEDURES,)
    if kept is None:
        kept = revision.sheets.filter(state=revision.status).first()
    if kept is None:
        pack.absent.append(f"{revision}: no sheet of it is issued")
        return
    pack.bundle.add(f"{_folder(place)}/{plain(str(revision))}.pdf", str(revision), place, bytes_of(kept))


def _person(pack: Pack, certificate: Certificate) -> None:
    place = (PEOPLE, certificate.person.name)
    draft = certificate_draft(certificate, pack.on, pack.choice.system)
    data = for_reader(draft, pack.choice, pack.by, pack.address)
    title = f"{certificate.number}, {certificate.code}"
    pack.bundle.add(f"{_folder(place)}/{plain(certificate.number)}.pdf", title, place, data)
    for subject in (certificate, *certificate.events.all()):
        _scans(pack, subject, place)


def _scans(pack: Pack, subject: Model, place: tuple[str, ...]) -> None:
    files = EvidenceFile.objects.filter(subject_type=subject._meta.label_lower, subject_id=str(subject.pk))
    for scan in files.filter(withdrawn_at__isnull=True):
        try:
            data = store.read(scan.sha256)
        except store.Damaged as problem:
            pack.absent.append(f"{scan.file_name} of {subject}: {problem}")
            continue
        ending = {"pdf": "pdf", "jpeg": "jpg", "png": "png"}.get(scan.kind, scan.kind)
        stem = plain(scan.file_name.rpartition(".")[0] or scan.file_name)
        pack.bundle.add(f"{_folder(place)}/scan-{stem}.{ending}", f"Scan: {scan.file_name}", place, data, scan=True)


def _folder(place: tuple[str, ...]) -> str:
    return "/".join(plain(name) for name in place)


def write(pack: Pack, target: Path, form: str) -> None:
    """The pack as a file; its cover lists all parts."""
    if form == "pdf":
        for part in pack.bundle.leave_out_unreadable():
            why = "it is damaged and cannot be bound; the ZIP holds it as it was attached"
            pack.absent.append(f"{part.title}, under {', '.join(part.place)}: {why}")
    cover = rendered(_cover(pack, form), pack.choice, "")[0]
    facts = {"job": str(pack.job), "on": pack.on.isoformat(), "joints": pack.counts, "absent": pack.absent}
    if form == "zip":
        pack.bundle.write_zip(target, (("cover.pdf", cover),), **facts)
    else:
        pack.bundle.write_pdf(target, cover, f"Audit pack, {pack.job}", **facts)


def _starts(pack: Pack) -> list[int]:
    """On which side each part begins where all are bound behind the cover."""
    sides = pack.bundle.sides()
    at = rendered(_draft(pack, [0] * len(sides)), pack.choice, "")[1] + 1
    return list(accumulate(sides[:-1], initial=at)) if sides else []


@in_own_language
def _cover(pack: Pack, form: str) -> Draft:
    """The first side: what the pack holds and on which side, and what it lacks."""
    return _draft(pack, _starts(pack) if form == "pdf" else [])


def _draft(pack: Pack, starts: Sequence[int]) -> Draft:
    content = pack.bundle.manifest(job=str(pack.job), on=pack.on.isoformat(), counts=pack.counts, absent=pack.absent)
    groups: dict[str, list[Any]] = {}
    for at, part in enumerate(pack.bundle.parts):
        groups.setdefault(part.place[0], []).append((part, _named(part), starts[at] if starts else ""))

    def context() -> dict[str, Any]:
        return {
            "what": "Audit pack",
            "lead": f"{pack.job.title} · as of {pack.on.isoformat()}",
            "job": pack.job,
            "counts": {one.value: pack.counts[one.value] for one in Outcome if one.value in pack.counts},
            "bound": bool(starts),
            "total": sum(pack.counts.values()),
            "absent": pack.absent,
            "groups": list(groups.items()),
            # Its parts have codes of their own; the pack is no paper that could be superseded.
            "code": "",
        }

    template = "joints/papers/pack_sheet.html"
    # Printed by nobody: it has no code, and nothing is asked of it later.
    title, nothing = f"Audit pack, {pack.job}", {}
    return Draft(KIND, pack.job, title, "audit-pack", pack.on, content, template, context, facts=nothing)


def _named(part: Part) -> str:
    """A part by its title, with what it stands under where the title does not say so: a person, a record of a scan."""
    return " · ".join((*(one for one in part.place[1:] if one not in part.title), part.title))


KIND = Kind("audit-pack", "audit pack", lambda subject_id, on: None, lambda subject_id, on: None)
