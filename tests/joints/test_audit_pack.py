"""The audit pack of a job: joint, procedure, record, person and evidence, as one PDF and as a ZIP."""

import json
import re
import zipfile
from datetime import date
from hashlib import sha256
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from django.urls import reverse
from PIL import Image
from pypdf import PdfReader, PdfWriter

from joints.models import Assembly, AssemblyGeometry, Joint
from joints.papers.pack import Pack, _draft, _named, audit_pack, build, write
from register.audit import acts_on
from register.background.models import State, Work
from register.evidence.acts import attach
from register.papers import made
from register.papers.bundle import Bundle, Part
from register.papers.printing import PaperChoice
from tests.joints.makers import make_joint
from tests.qualifications.make import certificate, event
from tests.wps.iso import iso_record

ON = date(2026, 3, 2)
PDF = b"%PDF-1.7\n1 0 obj<<>>endobj\ntrailer<<>>\nstartxref\n0\n%%EOF\n"
pytestmark = pytest.mark.django_db


@pytest.fixture
def joint() -> Joint:
    return make_joint()


@pytest.fixture
def folder(tmp_path: Path, settings: Any) -> Path:
    settings.MADE_DIR = str(tmp_path / "made")
    return tmp_path


def packed(joint: Joint, by: Any, folder: Path, address: str = "") -> Pack:
    pack = Pack(joint.assembly.job, ON, PaperChoice(), by, Bundle(folder / "parts"), address)
    assert list(build(pack)) == [str(joint.assembly)]
    return pack


def outline(items: Any) -> list[Any]:
    return [outline(item) if isinstance(item, list) else item.title for item in items]


def test_one_pdf_has_bookmarks_and_the_list_of_hashes(joint: Joint, auditor: Any, folder: Path) -> None:
    pack = packed(joint, auditor, folder)
    write(pack, folder / "pack.pdf", "pdf")
    reader = PdfReader(folder / "pack.pdf")
    title = f"Audit pack, {joint.assembly.job}"
    mark = str(joint.assembly)
    assert outline(reader.outline) == [title, "Joints, by assembly", [mark, [f"{mark}, coverage"]]]
    assert "1 joint: 1 outside" in reader.pages[0].extract_text()
    listed = json.loads(reader.attachments["manifest.json"][0])
    assert [part["sha256"] for part in listed["parts"]] == [part.sha256 for part in pack.bundle.parts]


def test_a_zip_lists_what_is_in_it_and_is_the_same_again(joint: Joint, auditor: Any, folder: Path) -> None:
    pack = packed(joint, auditor, folder)
    write(pack, folder / "pack.zip", "zip")
    with zipfile.ZipFile(folder / "pack.zip") as found:
        listed = json.loads(found.read("manifest.json"))
        for part in listed["parts"]:
            assert sha256(found.read(part["file"])).hexdigest() == part["sha256"]
        assert {part["file"] for part in listed["parts"]} | {"manifest.json"} == set(found.namelist())
        cover = "".join(
            "".join(side.extract_text().split()) for side in PdfReader(BytesIO(found.read("cover.pdf"))).pages
        )
        assert all(part["file"] in cover for part in listed["parts"] if part["file"] != "cover.pdf")
        assert "Packside" not in cover and "bound" not in cover
    first = (folder / "pack.zip").read_bytes()
    write(pack, folder / "pack.zip", "zip")
    assert (folder / "pack.zip").read_bytes() == first


def test_scans_come_along_each_as_it_is(tmp_path: Path, coordinator: Any) -> None:
    """A picture keeps its bytes in the ZIP, and has a side of its own in the PDF."""
    from joints.papers.pack import RECORDS, _scans

    out = BytesIO()
    Image.new("RGB", (60, 40), "white").save(out, "PNG")
    record, pack = iso_record(), Pack(make_joint().assembly.job, ON, PaperChoice(), coordinator, Bundle(tmp_path / "p"))
    attach(record, "side of the test piece.png", out.getvalue(), "macro", coordinator)
    _scans(pack, record, (RECORDS, record.number))
    (part,) = pack.bundle.parts
    assert part.name == "Test-records/WPQR-012/scan-side-of-the-test-piece.png"
    assert (tmp_path / "p" / part.name).read_bytes() == out.getvalue()
    write(pack, tmp_path / "pack.pdf", "pdf")
    assert len(PdfReader(tmp_path / "pack.pdf").pages) == 2


def test_a_paper_first_printed_for_a_pack_can_be_scanned(joint: Joint, coordinator: Any, folder: Path) -> None:
    """It is on file ever after: without the address it would never bear a code to scan."""
    pack = packed(joint, coordinator, folder, "https://welds.example.com/sheet/{code}/")
    (part,) = pack.bundle.parts
    said = PdfReader(folder / "parts" / part.name).pages[0].extract_text()
    assert "Scan: does the register still say" in " ".join(said.split())


def test_the_evidence_of_a_signature_comes_along(tmp_path: Path, coordinator: Any) -> None:
    """A confirmation or prolongation rests on it, as the certificate does on the scan of its own."""
    from joints.papers.pack import _person

    held = certificate()
    signed = event(held, date(2025, 7, 30))
    attach(signed, "radiograph.pdf", PDF, "prolongation", coordinator)
    pack = Pack(make_joint().assembly.job, ON, PaperChoice(), coordinator, Bundle(tmp_path / "p"))
    _person(pack, held)
    assert [part.title for part in pack.bundle.parts] == ["W-1, ISO 9606-1:2012", "Scan: radiograph.pdf"]


def test_a_scan_that_nobody_can_open_is_named_and_stops_nothing(tmp_path: Path, coordinator: Any) -> None:
    """In one PDF it cannot be bound; in the ZIP it lies as it was attached."""
    from joints.papers.pack import RECORDS, _scans

    record, pack = iso_record(), Pack(make_joint().assembly.job, ON, PaperChoice(), coordinator, Bundle(tmp_path / "p"))
    attach(record, "report.pdf", PDF, "", coordinator)
    _scans(pack, record, (RECORDS, record.number))
    write(pack, tmp_path / "pack.zip", "zip")
    with zipfile.ZipFile(tmp_path / "pack.zip") as found:
        assert found.read("Test-records/WPQR-012/scan-report.pdf") == PDF
    write(pack, tmp_path / "pack.pdf", "pdf")
    (cover,) = PdfReader(tmp_path / "pack.pdf").pages
    said = " ".join(cover.extract_text().split())
    assert "Scan: report.pdf, under Test records, WPQR 012: it is damaged and cannot be bound" in said


@pytest.mark.parametrize("mark", ["x/../../../../out", "/etc/x", "..", "B\\..\\y", "梁" * 60])
def test_no_mark_of_a_list_leads_out_of_the_pack(joint: Joint, auditor: Any, folder: Path, mark: str) -> None:
    """A list or a model from outside says the marks; the pack is unpacked by an auditor on his own machine."""
    before = {path for path in folder.rglob("*") if path.is_file()}
    Assembly.objects.filter(pk=joint.assembly_id).update(mark=mark[:60])
    AssemblyGeometry.objects.create(assembly=joint.assembly, beam_x=1, beam_y=0, beam_z=0)
    joint.refresh_from_db()
    pack = packed(joint, auditor, folder)
    write(pack, folder / "pack.zip", "zip")
    with zipfile.ZipFile(folder / "pack.zip") as found:
        names = found.namelist()
    assert len(names) == 4  # the list, the cover, coverage and weld map
    assert not [name for name in names if set(name.split("/")) & {"", ".", ".."} or "\\" in name or ":" in name]
    made_here = {path for path in folder.rglob("*") if path.is_file()} - before
    assert {path.relative_to(folder).parts[0] for path in made_here} <= {"parts", "pack.zip", "made"}


@pytest.mark.parametrize("mark", ['B"; filename=a.html', "Träger 1", "B12/3"])
def test_the_name_of_a_paper_is_one_whatever_the_mark(joint: Joint, client_of: Any, mark: str) -> None:
    Assembly.objects.filter(pk=joint.assembly_id).update(mark=mark)
    page = client_of("auditor").get(reverse("joints:coverage_report", args=[joint.assembly_id]))
    said = page.headers["Content-Disposition"]
    assert re.fullmatch(r"""inline; filename(="[\w.-]+"|\*=utf-8''[\w.%-]+)""", said), said


@pytest.mark.parametrize("name", ["../x.pdf", "a/../../x.pdf", "/x.pdf", "a//x.pdf", "a\\x.pdf", "C:x.pdf", "."])
def test_no_part_is_written_outside_the_bundle(name: str, tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="no name of a file"):
        Bundle(tmp_path / "parts").add(name, "a", (), b"a")


def test_names_that_are_taken_get_a_number(tmp_path: Path) -> None:
    bundle = Bundle(tmp_path)
    names = [bundle.add("a/x.pdf", "x", ("A",), data).name for data in (b"1", b"2", b"3", b"2")]
    assert names == ["a/x.pdf", "a/x-2.pdf", "a/x-3.pdf", "a/x-2.pdf"]


def test_it_is_made_in_the_background_and_given_out(
    joint: Joint, coordinator: Any, client_of: Any, folder: Path
) -> None:
    asked = {"job_id": joint.assembly.job_id, "on": ON.isoformat(), "form": "zip", "paper": "a4", "units": "si"}
    work = audit_pack.start(coordinator, "a pack", small=True, **asked)
    work = Work.objects.get(pk=work.pk)
    assert work.state == State.DONE, work.message
    answer = client_of("auditor").get(work.result_url)
    assert answer.status_code == 200
    data = b"".join(answer.streaming_content)
    assert work.result == {"sha256": sha256(data).hexdigest()} and work.message.startswith("The pack is ready: ")
    assert "made an audit pack" in [act.act for act in acts_on(joint.assembly.job)]
    assert client_of("coordinator").get(work.result_url).status_code == 200
    for name in ("qa", "supervisor"):  # of the same plant, and may read all that it holds; neither asked for it
        refused = client_of(name).get(work.result_url, follow=True)
        assert refused.redirect_chain == [(reverse("background:list"), 302)], name
        assert "Somebody else had that file made" in refused.content.decode()
    path = made.path_of(work.pk, work.result_url.rpartition("/")[2])
    path.write_bytes(data + b" ")  # by a hand on the disk of the server
    assert client_of("auditor").get(work.result_url).status_code == 404


def test_the_page_starts_it_with_the_date_asked_about(joint: Joint, client_of: Any) -> None:
    url = reverse("joints:audit_pack", args=[joint.assembly.job_id])
    answer = client_of("qa").post(f"{url}?on=2026-03-02", {"form": "pdf", "paper": "letter", "units": "us"})
    work = Work.objects.get()
    assert answer.url == work.get_absolute_url()
    assert work.arguments == {
        "job_id": joint.assembly.job_id, "on": "2026-03-02", "form": "pdf", "paper": "letter", "units": "us",
        "address": "http://testserver/procedures/sheet/{code}/",
    }  # fmt: skip


@pytest.mark.parametrize("name", ("../secret_key", "x.py", ".pdf", "a/b.pdf", "nothing.pdf"))
def test_only_files_made_here_are_given_out(name: str, client_of: Any, folder: Path) -> None:
    if name != "nothing.pdf":
        with pytest.raises(ValueError, match="no name of a file"):
            made.path_of(1, name)
    else:
        assert client_of("auditor").get(reverse("joints:made_file", args=[1, name])).status_code == 404


def test_every_side_says_where_it_stands_in_the_pack_and_the_cover_names_that_number(
    joint: Joint, coordinator: Any, folder: Path
) -> None:
    """A paper counts its own sides; whoever looks for side 4 of the pack finds it by the line under that."""
    pack = packed(joint, coordinator, folder)
    upright, turned = BytesIO(), BytesIO()
    Image.new("RGB", (800, 600), "white").save(upright, "PNG")
    pages = PdfWriter()
    pages.add_blank_page(595, 842).rotate(90)
    pages.write(turned)
    pack.bundle.add("scan-macro.png", "Scan: macro.png", ("People",), upright.getvalue(), scan=True)
    pack.bundle.add("scan-form.pdf", "Scan: form.pdf", ("People",), turned.getvalue(), scan=True)
    write(pack, folder / "pack.pdf", "pdf")
    reader = PdfReader(folder / "pack.pdf")
    total = len(reader.pages)
    for at, page in enumerate(reader.pages, start=1):
        assert f"pack side {at} of {total}" in " ".join(page.extract_text().split())
    assert re.search(rf"macro\.png\s*{total - 1}\b", reader.pages[0].extract_text())
    assert "Pack side" in " ".join(reader.pages[0].extract_text().split())
    picture, form = reader.pages[-2:]
    assert float(picture.mediabox.bottom) == pytest.approx(-9 / 25.4 * 72, abs=0.01)  # nothing of the scan is covered
    assert float(form.mediabox.right) == pytest.approx(595 + 9 / 25.4 * 72, abs=0.01)  # turned: it is seen below


@pytest.mark.parametrize(
    ("title", "place", "named"),
    [
        ("Assembly B1, coverage", ("Joints, by assembly", "Assembly B1"), "Assembly B1, coverage"),
        ("WPS 014 rev C", ("Procedures",), "WPS 014 rev C"),
        ("W-1, ISO 9606-1:2012", ("People", "Ada Krol"), "Ada Krol · W-1, ISO 9606-1:2012"),
        ("Scan: macro.png", ("Test records", "WPQR 012"), "WPQR 012 · Scan: macro.png"),
    ],
)
def test_the_list_names_a_part_by_its_person_or_record_once(title: str, place: tuple[str, ...], named: str) -> None:
    assert _named(Part("file.pdf", title, place, "", 0)) == named


def test_the_answers_are_counted_in_one_order(joint: Joint, auditor: Any, folder: Path) -> None:
    pack = packed(joint, auditor, folder)
    pack.counts = {"outside": 24, "not stated": 1, "covered": 64}
    assert list(_draft(pack, []).context()["counts"]) == ["covered", "outside", "not stated"]
