"""Scans as evidence: what is taken and what not, how it is kept, and how it is given out."""

import io
import zlib
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from django.core.exceptions import PermissionDenied
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import Error, IntegrityError, connection, transaction
from django.test import Client
from django.urls import reverse
from PIL import Image, ImageFile

from register.evidence import store
from register.evidence.acts import attach, attached_to, withdraw
from register.evidence.kinds import MAX_BYTES, BadFile, kind_of, safe_name
from register.evidence.models import EvidenceFile
from register.models import AuditEntry
from register.trail.verify import verify
from tests.conftest import dropped_triggers
from tests.qualifications.make import certificate, event

SignIn = Callable[[str], Client]
TABLE = "register_evidencefile"


@pytest.fixture(autouse=True)
def own_folder(tmp_path: Path, settings: Any) -> Iterator[Path]:
    settings.VAR_DIR, settings.EVIDENCE_DIR = tmp_path, ""
    yield tmp_path


def pdf(
    middle: bytes = b"1 0 obj <<>> endobj\n", start: bytes = b"%PDF-1.7\n", end: bytes = b"startxref\n9\n%%EOF\n"
) -> bytes:
    return start + middle + end


def picture(form: str, size: tuple[int, int] = (40, 30)) -> bytes:
    file = io.BytesIO()
    Image.effect_noise(size, 90).convert("RGB").save(file, form)
    return file.getvalue()


@pytest.mark.parametrize(
    ("data", "token"),
    [(pdf(), "pdf"), (picture("JPEG"), "jpeg"), (picture("PNG"), "png"), (pdf(start=b"%PDF-2.0\n"), "pdf")],
)
def test_the_three_kinds_are_known_by_content(data: bytes, token: str) -> None:
    assert kind_of(data).token == token


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"", "is empty"),
        (b"<html><script>alert(1)</script>", "none of PDF, JPEG and PNG"),
        (b"GIF89a........", "none of PDF"),
        (b"PK\x03\x04......", "none of PDF"),
        (b"<svg xmlns='http://www.w3.org/2000/svg'/>", "none of PDF"),
        (b"\n" + pdf(), "none of PDF"),
        (pdf(end=b""), "cut off"),
        (pdf(end=b"%%EOF"), "cut off"),
        (pdf(start=b"%PDF-x\n"), "damaged"),
        (pdf(b"trailer << /Encrypt 5 0 R >>\n"), "password"),
        (pdf(b"<< /S /JavaScript /JS (app.alert(1)) >>\n"), "holds a program"),
        (pdf(b"<< /S /Launch >>\n"), "holds a program"),
        (pdf(b"<< /Type /EmbeddedFile >>\n"), "holds a program"),
        (picture("JPEG")[:400], "damaged or cut off"),
        (picture("PNG")[:400], "damaged or cut off"),
        (b"\xff\xd8\xff\xe0 not a picture", "damaged or cut off"),
        (picture("PNG").replace(b"IDAT", b"IDAX"), "damaged or cut off"),
    ],
)
def test_what_is_refused_says_why(data: bytes, says: str) -> None:
    with pytest.raises(BadFile, match=says):
        kind_of(data)


def packed(objects: bytes, kind: bytes = b"/Type /ObjStm", as_is: bytes = b"") -> bytes:
    """Objects of a PDF packed into one, as most programs do."""
    stream = as_is or zlib.compress(objects)
    about = b"5 0 obj << %s /N 1 /First 4 /Filter /FlateDecode /Length %d >>\nstream\n" % (kind, len(stream))
    return about + stream + b"\nendstream endobj\n"


JS = b"1 0 << /OpenAction << /S /JavaScript /JS (app.alert(1)) >> >>"
CANNOT_TELL = "packs its parts in a way that is not read"


@pytest.mark.parametrize(
    ("middle", "says"),
    [
        pytest.param(b"<< /S /J#61vaScript /JS (app.alert(1)) >>", "holds a program", id="a sign as figures"),
        pytest.param(b"<< /S /#4cAUNCH /S/#4c#61u#6Ech/F(a.exe) >>", "holds a program", id="each case"),
        pytest.param(b"<< /AA << /O << /S /SubmitForm /F (http://x.example/) >> >> >>", "holds a program", id="sends"),
        pytest.param(b"<< /AcroForm << /XFA [(x) 2 0 R] >> >>", "holds a program", id="form with programs"),
        pytest.param(b"<< /Names << /EmbeddedFiles 9 0 R >> >>", "holds a program", id="list of files"),
        pytest.param(b"<< /Subtype /FileAttachment /FS 9 0 R >>", "holds a program", id="file at a mark"),
        pytest.param(b"<< /S /Rendition /JS (app.alert(1)) >>", "holds a program", id="player"),
        pytest.param(b"trailer << /Encr#79pt 5 0 R >>", "password", id="locked"),
        pytest.param(packed(JS), "holds a program", id="packed"),
        pytest.param(packed(b" \n" * 900 + JS), "holds a program", id="packed, blanks first"),
        pytest.param(packed(b"%x\n" + JS), "holds a program", id="packed, comment first"),
        pytest.param(packed(JS, kind=b""), "holds a program", id="packed, not called so"),
        pytest.param(packed(JS, kind=b"/Type /Obj#53tm (obj)" + b" " * 9000), "holds a program", id="packed, far off"),
        pytest.param(packed(b"1 0 <<>>") * 3 + packed(JS), "holds a program", id="packed, the last"),
        pytest.param(packed(b"", as_is=JS.hex().encode()), CANNOT_TELL, id="packed otherwise"),
        pytest.param(packed(b"\x02" + JS), CANNOT_TELL, id="packed by differences"),
        pytest.param(packed(b"1 0 " + b" " * (65 * 1024**2)), CANNOT_TELL, id="unpacks huge"),
    ],
)
def test_a_program_in_a_pdf_is_found_however_it_is_written(middle: bytes, says: str) -> None:
    with pytest.raises(BadFile, match=says):
        kind_of(pdf(middle + b"\n"))


@pytest.mark.parametrize(
    "middle",
    [
        packed(b"1 0 << /Type /Page /JSX 1 /XFAs 2 /Launcher 3 >>") * 20,
        packed(b"1 0 0 1 50 50 cm /Im1 Do", kind=b""),
        packed(bytes(range(256)), kind=b"/Subtype /Image"),
        b"stream\n\xff\xd8\xff/JS\x01\x02/JS(/EF\nendstream",
        b"<< /Type /Annot /A << /S /URI /URI (https://x.example/JavaScripts) >> >>",
    ],
)
def test_a_plain_pdf_is_taken(middle: bytes) -> None:
    """Three letters of a picture that happen to read as the name of a program make none."""
    assert kind_of(pdf(middle + b"\n")).token == "pdf"


@pytest.mark.parametrize(("times", "taken"), [(1, True), (50, True), (61, False)])
def test_a_picture_that_is_built_up_without_end_is_refused(times: int, taken: bool) -> None:
    """A scan of 40 million points takes 50 ms and 61 bytes: ten megabytes of them kept a process for two hours."""
    file = io.BytesIO()
    Image.new("RGB", (300, 200)).save(file, "JPEG", progressive=True)
    at = file.getvalue().rindex(b"\xff\xda")
    data = file.getvalue()[:at] + file.getvalue()[at:-2] * times + b"\xff\xd9"
    if taken:
        assert kind_of(data).token == "jpeg"
    else:
        with pytest.raises(BadFile, match="in far too many steps"):
            kind_of(data)


def test_a_picture_of_thousands_of_millions_of_points_is_told_as_one() -> None:
    data = bytearray(picture("PNG"))
    data[16:24] = (60_000).to_bytes(4) * 2
    data[29:33] = zlib.crc32(data[12:29]).to_bytes(4)
    with pytest.raises(BadFile, match="300 dots per inch"):
        kind_of(bytes(data))


@pytest.mark.parametrize("form", ["JPEG", "PNG"])
@pytest.mark.parametrize("more", [b"PK\x03\x04", b"<html><script>alert(1)</script>", pdf(b"<< /S /JavaScript >>\n")])
def test_a_picture_that_is_something_else_too_stays_a_picture(form: str, more: bytes) -> None:
    """A scan with an archive, a page or a PDF behind it is refused, or known as the picture that it begins as."""
    data = picture(form) + more
    try:
        kind = kind_of(data)
    except BadFile:
        return
    assert kind.token == form.lower()
    assert kind.mime.startswith("image/")
    assert safe_name("scan.html", kind) == f"scan.{kind.ending}"


@pytest.mark.parametrize("form", ["JPEG", "PNG"])
def test_a_picture_cut_off_is_refused_also_where_a_renderer_relaxed_the_library(
    form: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(ImageFile, "LOAD_TRUNCATED_IMAGES", True)
    whole = picture(form, (400, 300))
    assert kind_of(whole)
    for part in (3, 2):
        with pytest.raises(BadFile, match="cut off"):
            kind_of(whole[: len(whole) // part])
    assert ImageFile.LOAD_TRUNCATED_IMAGES is True


@pytest.mark.parametrize(("more", "taken"), [(0, True), (1, False)])
def test_ten_megabytes_and_no_more(more: int, taken: bool) -> None:
    data = pdf(b" " * (MAX_BYTES - len(pdf(b"")) + more))
    if taken:
        assert len(data) == MAX_BYTES
        assert kind_of(data).token == "pdf"
    else:
        with pytest.raises(BadFile, match="larger than 10 MB"):
            kind_of(data)


def test_a_small_file_that_unpacks_huge_is_refused_before_it_is_unpacked() -> None:
    file = io.BytesIO()
    Image.new("1", (9000, 9000)).save(file, "PNG")
    with pytest.raises(BadFile, match="9000 by 9000 points"):
        kind_of(file.getvalue())


@pytest.mark.parametrize(
    ("name", "safe"),
    [
        ("scan.pdf", "scan.pdf"),
        ("scan.html", "scan.pdf"),
        ("../../etc/passwd", "passwd.pdf"),
        ("C:\\a\\b.PDF", "b.pdf"),
        ("a\r\nSet-Cookie: x.pdf", "aSet-Cookie: x.pdf"),
        ("", "evidence.pdf"),
        ("...", "evidence.pdf"),
        ("Prüfbericht 7.pdf", "Prüfbericht 7.pdf"),
    ],
)
def test_names(name: str, safe: str) -> None:
    assert safe_name(name, kind_of(pdf())) == safe


def test_the_same_bytes_are_kept_once_under_their_hash(own_folder: Path) -> None:
    digest = store.keep(b"abc")
    assert digest == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    assert store.keep(b"abc") == digest
    files = [path for path in (own_folder / "evidence").rglob("*") if path.is_file()]
    assert files == [own_folder / "evidence" / "ba" / digest]
    assert store.read(digest) == b"abc"


def test_damage_is_found_and_mended_by_the_same_file(own_folder: Path) -> None:
    digest = store.keep(b"abc")
    store.path_of(digest).write_bytes(b"abd")
    with pytest.raises(store.Damaged, match="not what was attached"):
        store.read(digest)
    store.keep(b"abc")
    assert store.read(digest) == b"abc"
    store.path_of(digest).unlink()
    with pytest.raises(store.Damaged, match="missing"):
        store.read(digest)


@pytest.mark.parametrize("digest", ["../../secret_key", "a" * 63, "A" * 64])
def test_no_path_leads_out_of_the_store(digest: str) -> None:
    with pytest.raises(ValueError, match="no SHA-256"):
        store.path_of(digest)


@pytest.mark.django_db
def test_a_scan_is_attached_once_and_told_in_the_log_of_acts(coordinator: Any) -> None:
    held = certificate()
    made = attach(held, "scan.pdf", pdf(), " the certificate ", coordinator)
    assert (made.kind, made.note, made.added_by) == ("pdf", "the certificate", "Coordinator")
    with pytest.raises(BadFile, match=r"attached already, as scan\.pdf"):
        attach(held, "again.pdf", pdf(), "", coordinator)
    assert attached_to(held).get() == made
    assert AuditEntry.objects.filter(act="attached evidence", subject_id=str(held.pk)).count() == 1
    withdraw(made, "of another welder", coordinator)
    assert attach(held, "again.pdf", pdf(), "", coordinator).pk != made.pk
    with pytest.raises(ValueError, match="already"):
        withdraw(made, "again", coordinator)
    with pytest.raises(PermissionDenied):
        made.delete()


@pytest.mark.django_db
@pytest.mark.parametrize("reason", ["", "  "])
def test_withdrawing_takes_a_reason(coordinator: Any, reason: str) -> None:
    made = attach(certificate(), "scan.pdf", pdf(), "", coordinator)
    with pytest.raises(ValueError, match="Say why"):
        withdraw(made, reason, coordinator)


@pytest.mark.django_db
@pytest.mark.parametrize(
    "statement",
    [
        f"DELETE FROM {TABLE}",
        f"UPDATE {TABLE} SET sha256 = '{'0' * 64}'",
        f"UPDATE {TABLE} SET note = 'other'",
        f"UPDATE {TABLE} SET subject_id = '99'",
    ],
)
def test_the_database_itself_keeps_evidence(coordinator: Any, statement: str) -> None:
    made = attach(certificate(), "scan.pdf", pdf(), "", coordinator)
    with pytest.raises(Error, match="Evidence"), transaction.atomic(), connection.cursor() as cursor:
        cursor.execute(statement)
    withdraw(made, "mistake", coordinator)
    with pytest.raises(Error, match="withdrawn once"), transaction.atomic(), connection.cursor() as cursor:
        cursor.execute(f"UPDATE {TABLE} SET withdrawn_at = NULL")


@pytest.mark.django_db
def test_a_withdrawal_past_the_register_is_named(coordinator: Any) -> None:
    held = certificate()
    made = attach(held, "scan.pdf", pdf(), "", coordinator)
    withdraw(attach(held, "blank.pdf", pdf(b"2 0 obj <<>> endobj\n"), "", coordinator), "empty", coordinator)
    assert verify().whole
    EvidenceFile.objects.filter(pk=made.pk).update(withdrawn_at=made.added_at, withdrawn_by="x", withdrawn_because="x")
    assert "scan.pdf" in verify().differs and "is withdrawn on file" in verify().differs


@pytest.mark.django_db
def test_scans_that_change_places_or_their_facts_are_named(coordinator: Any) -> None:
    held = certificate()
    good = attach(held, "scan.pdf", pdf(), "", coordinator)
    bad = attach(held, "blank.pdf", pdf(b"2 0 obj <<>> endobj\n"), "", coordinator)
    withdraw(bad, "empty", coordinator)
    assert verify().whole
    swapped = {one: {"file_name": other.file_name, "sha256": other.sha256} for one, other in ((good, bad), (bad, good))}
    cases: list[dict[EvidenceFile, dict[str, Any]]] = [swapped]
    cases += [{good: {name: "x"}} for name in ("note", "added_by")]
    cases += [{good: {"added_at": good.added_at.replace(year=2020)}}, {bad: {"withdrawn_by": "x"}}]
    cases += [{bad: {"withdrawn_at": good.added_at.replace(year=2020)}}]
    for case in cases:
        with transaction.atomic():
            with dropped_triggers(connection):
                for one, facts in case.items():
                    EvidenceFile.objects.filter(pk=one.pk).update(**facts)
            assert ".pdf" in verify().differs, case
            transaction.set_rollback(True)


@pytest.mark.django_db
def test_the_database_takes_no_withdrawal_without_a_reason(coordinator: Any) -> None:
    attach(certificate(), "scan.pdf", pdf(), "", coordinator)
    with pytest.raises(IntegrityError), transaction.atomic(), connection.cursor() as cursor:
        cursor.execute(f"UPDATE {TABLE} SET withdrawn_at = added_at")


@pytest.mark.django_db
@pytest.mark.parametrize(("data", "mime"), [(pdf(), "application/pdf"), (picture("PNG"), "image/png")])
def test_it_is_given_out_as_a_file_and_never_shown_in_a_page(
    client_of: SignIn, coordinator: Any, data: bytes, mime: str
) -> None:
    made = attach(certificate(), 'a"b.html', data, "", coordinator)
    response = client_of("auditor").get(made.get_absolute_url())
    assert response.content == data
    assert response.headers["Content-Type"] == mime
    assert response.headers["Content-Disposition"].startswith("attachment; filename")
    assert "html" not in response.headers["Content-Disposition"]
    assert response.headers["X-Content-Type-Options"] == "nosniff"
    assert "sandbox" in response.headers["Content-Security-Policy"]
    store.path_of(made.sha256).write_bytes(b"other")
    assert client_of("auditor").get(made.get_absolute_url()).status_code == 404


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("name", "status"), [("coordinator", 302), ("qa", 302), ("supervisor", 403), ("auditor", 403), ("no_role", 403)]
)
def test_who_attaches(client_of: SignIn, name: str, status: int) -> None:
    address = reverse("qualifications:certificate_scan", args=[certificate().pk])
    response = client_of(name).post(address, {"file": SimpleUploadedFile("a.pdf", pdf()), "note": "as issued"})
    assert response.status_code == status
    assert EvidenceFile.objects.exists() is (status == 302)


@pytest.mark.django_db
def test_scans_of_a_certificate_and_of_its_events_are_listed_and_withdrawn(client_of: SignIn) -> None:
    from datetime import date

    held = certificate()
    signed = event(held, date(2025, 7, 1))
    browser = client_of("qa")
    send = {"file": SimpleUploadedFile("page.png", picture("PNG")), "note": "signature on paper"}
    assert browser.post(reverse("qualifications:event_scan", args=[signed.pk]), send).status_code == 302
    page = " ".join(browser.get(held.get_absolute_url()).content.decode().split())
    assert "confirmation of 2025-07-01" in page
    assert "signature on paper" in page
    made = EvidenceFile.objects.get()
    away = reverse("qualifications:scan_withdraw", args=[made.pk])
    assert browser.post(away, {"because": ""}).status_code == 409
    assert browser.post(away, {"because": "of another welder"}).status_code == 302
    assert "<b>Withdrawn</b>: of another welder" in browser.get(held.get_absolute_url()).content.decode()
    assert client_of("auditor").get(made.get_absolute_url()).status_code == 200


@pytest.mark.django_db
def test_a_bad_file_is_refused_at_its_field(client_of: SignIn) -> None:
    address = reverse("qualifications:certificate_scan", args=[certificate().pk])
    response = client_of("qa").post(address, {"file": SimpleUploadedFile("a.pdf", b"<html>", "application/pdf")})
    assert response.status_code == 422
    assert "none of PDF, JPEG and PNG" in response.content.decode()
    assert client_of("qa").post(address, {}).status_code == 422
