"""Sheets as PDF: what they say, on how many sides, in which units, and that they read nothing but our own files."""

import re
from datetime import date
from hashlib import sha256
from html import unescape

import pytest
from django.contrib.auth.models import User
from django.test import override_settings

from tests.wps.pdfs import attached, reader, text
from tests.wps.sheet_samples import THREE_RUNS, V60, people, revision, robot, run, two_processes
from tests.wps.us import AWS, us_draft, us_record
from wps.models import ProcedureRevision, Status
from wps.sheet_content import canonical, check_code, code_as_shown, sheet_content
from wps.sheet_data import banner
from wps.sheet_files import OwnFiles, url_of
from wps.sheet_render import Attached, RefusedAddress, pdf
from wps.sheets import Choice, Sheet, SheetError, sheet, sheet_html

ON = date(2026, 11, 25)
URL = "https://register.example/procedures/sheet/{code}/"

pytestmark = pytest.mark.django_db


_RENDERED: dict[tuple[str, Choice], Sheet] = {}


def rendered(one: ProcedureRevision, choice: Choice = Choice()) -> Sheet:  # noqa: B008 (frozen)
    """The sheet with its QR code, laid out once for all tests that ask for the same content in the same state."""
    key = (f"{check_code(sheet_content(one))} {one.status}", choice)
    if key not in _RENDERED:
        _RENDERED[key] = sheet(one, choice, ON, URL)
    return _RENDERED[key]


@pytest.fixture
def three_runs() -> ProcedureRevision:
    return revision()


class TestCell:
    def test_a_typical_wps_fits_on_one_side_of_either_paper(self, three_runs: ProcedureRevision) -> None:
        for paper, size in (("a4", (595, 842)), ("letter", (612, 792))):
            made = rendered(three_runs, Choice("cell", paper))
            box = reader(made.pdf).pages[0].mediabox
            assert made.pages == len(reader(made.pdf).pages) == 1
            assert (round(float(box.width)), round(float(box.height))) == size

    def test_it_says_what_the_welder_needs(self, three_runs: ProcedureRevision) -> None:
        said = text(rendered(three_runs).pdf)
        wanted = (
            "WPS 014 rev C", "Butt welds of flange plates", "135 · GMAW", "PA · 1G", "PF · 3G up",
            "min 20 °C", "max 250 °C", "120–140", "18–20", "180–220", "0.471–0.747", "G 42 4 M21 3Si1",
            "6 to 24 mm", "S355J2+N, group 1.2, 355 MPa", "M21 (CO2 15-25 %)", "gap 2 mm", "60°", "root face 1 mm",
            "24 mm at 6 mm, growing to 50 mm", "EN 1090-2:2018, 7.5.7", "WPQR 014C (ISO 15614-1:2017, level 2)",
            "Prepared Marta Kowalczyk", "Checked Jonas Feld 2026-02-27", "Approved Inês Duarte 2026-03-02",
        )  # fmt: skip
        assert not [words for words in wanted if words not in said]

    def test_it_warns_and_defers(self, three_runs: ProcedureRevision) -> None:
        said = text(rendered(three_runs).pdf)
        assert all(word in said for word in ("radiation burns", "Fume", "fire watch", "Shock", "Hot metal"))
        assert "never replaces, the text of the standards" in said
        assert "Robot cell" not in said
        assert "Some ranges rest on rules not yet compared with the standard's text" in said

    def test_a_robot_cell_has_its_own_caution(self) -> None:
        said = text(rendered(robot()).pdf)
        assert "Lock out before entry" in said
        assert "cell 1, rotator 0 to 270°" in said

    def test_processes_that_differ_are_named(self) -> None:
        said = text(rendered(two_processes()).pdf)
        assert "141 · GTAW: I1 (argon); 135 · GMAW: M21 (CO2 15-25 %)" in said
        assert "W 42 5 W3Si1" in said

    def test_us_units_on_letter(self, three_runs: ProcedureRevision) -> None:
        three_runs.preparation = {**V60, "tolerances": ""}  # words are the writer's own, in the writer's units
        said = text(rendered(three_runs, Choice("cell", "letter", "us")).pdf)
        assert all(words in said for words in ("min 68 °F", "0.237 to 0.944 in", "51.4 ksi", "kJ/in", "gap 0.079 in"))
        assert "ranges rounded inwards" in said
        assert " °C" not in said
        assert said.count("drawn for t 0.472 in [12 mm]") == 2
        assert not re.search(r"\d mm\b", said.replace("in [12 mm]", "in"))

    def test_smaller_type_before_a_second_side(self) -> None:
        many = [run(i, f"run {i}", (200, 240), (24, 27)) for i in range(1, 9)]
        assert sheet(revision(runs=many), Choice(), ON, URL).pages == 1

    def test_what_does_not_fit_has_a_second_side_that_is_named_too(self) -> None:
        many = [run(i, f"run {i}", (200, 240), (24, 27), note="watch the sidewalls " * 4) for i in range(1, 40)]
        made = sheet(revision(runs=many), Choice(), ON, URL)
        assert made.pages > 1
        for page in reader(made.pdf).pages:
            assert "WPS 014 rev C" in page.extract_text()
            assert code_as_shown(made.check_code) in page.extract_text()

    def test_text_of_people_is_escaped(self) -> None:
        nasty = revision(title='<img src="file:///etc/passwd">', notes="<script>a</script> & b")
        html = sheet_html(nasty, Choice(), ON, "ABCDEFGHIJ", "")
        assert "<img" not in html
        assert "<script>" not in html
        assert "<script>a</script> & b" in text(rendered(nasty).pdf)

    def test_a_preparation_that_cannot_be_drawn_says_why(self) -> None:
        said = text(sheet(revision(preparation={**V60, "kind": "butterfly"}), Choice(), ON, URL).pdf)
        assert 'No sketch: kind: "butterfly" is not a preparation that is drawn' in said

    def test_a_window_that_cannot_be_read_is_refused_by_field(self) -> None:
        broken = revision(approved=False, window={"parent_t": {"min": "9", "max": "3"}})
        with pytest.raises(SheetError, match="WPS 014 rev C cannot be printed: parent_t: min 9 lies above max 3"):
            sheet(broken, Choice(), ON)

    def test_an_empty_draft_prints_what_is_missing(self) -> None:
        said = text(sheet(revision(approved=False, window={}, preparation={}, runs=[], records=[]), Choice(), ON).pdf)
        assert "No runs are stated." in said
        assert said.count("not stated") >= 4


class TestFull:
    def test_fields_stand_under_their_clauses_in_order(self, three_runs: ProcedureRevision) -> None:
        said = text(rendered(three_runs, Choice("full")).pdf)
        refs = re.findall(r"\b4\.(?:\d\.)?\d+(?= [A-Z])", said)
        assert refs == sorted(refs, key=lambda ref: [int(part) for part in ref.split(".")])
        assert {"4.2", "4.3.1", "4.4.1", "4.4.2", "4.4.3", "4.4.11", "4.4.17"} <= set(refs)
        assert "Cutting and cleaning thermally cut, ground clean" in said
        assert len(refs) == len(set(refs))  # joint and preparation both stand under 4.4.2, which is named once
        assert "Edge preparation" in said

    def test_what_values_and_preparation_say_alike_is_printed_once(self, coordinator: User) -> None:
        """The values of the codes of AWS state the groove, and so does the preparation that is drawn from."""
        draft = us_draft(coordinator, AWS, [us_record(AWS)])
        said = text(sheet(draft, Choice("full", "letter", "us"), ON).pdf)
        assert "Root opening 0.25 in" in said
        assert "Root gap" not in said
        assert said.count("Root face 0 in") == 1
        draft.preparation["angle_deg"] = "50"
        assert "Included angle 50°" in text(sheet(draft, Choice("full", "letter", "us"), ON).pdf)

    def test_the_firm_is_named(self, three_runs: ProcedureRevision) -> None:
        asked = (three_runs, Choice("full"), ON, "ABCDEFGHIJ", "")
        with override_settings(FIRM_NAME="Stahlbau Beispiel & Co"):
            assert "<td>Stahlbau Beispiel &amp; Co</td>" in sheet_html(*asked)
        assert "<td>Manufacturer</td><td>not stated</td>" in sheet_html(*asked)


class TestState:
    def test_a_draft_is_marked_and_has_nothing_to_scan(self) -> None:
        said = text(sheet(revision(approved=False, records=[]), Choice(), ON).pdf)
        assert "DRAFT – not for production. Preliminary (pWPS)" in said
        assert said.count("DRAFT") >= 3  # banner, foot, watermark
        assert "Scan" not in said

    def test_a_checked_one_says_that_it_is_not_approved(self) -> None:
        """The second person's check is no approval, and no longer a draft."""
        one = revision(approved=False)
        _, checker, _ = people()
        one.status, one.checked_by, one.checked_on = Status.CHECKED, checker, date(2026, 5, 4)
        one.checked_name = "J. Checker"
        one.save()
        said = text(sheet(one, Choice(), ON).pdf)
        assert "CHECKED 2026-05-04, NOT APPROVED – not for production." in said
        assert said.count("NOT APPROVED") >= 3  # banner, foot, watermark
        assert "DRAFT" not in said and "Scan" not in said

    def test_an_approved_one_bears_no_mark(self, three_runs: ProcedureRevision) -> None:
        said = text(rendered(three_runs).pdf)
        assert not [word for word in ("DRAFT", "SUPERSEDED", "WITHDRAWN") if word in said]
        assert "Scan" in said

    @pytest.mark.parametrize("status", [Status.SUPERSEDED, Status.WITHDRAWN])
    def test_an_ended_one_says_so_and_keeps_its_code(self, three_runs: ProcedureRevision, status: Status) -> None:
        before = rendered(three_runs)
        three_runs.status, three_runs.ended_on, three_runs.ended_reason = status, date(2026, 6, 1), "replaced"
        three_runs.save()
        after = rendered(three_runs)
        assert f"{status.upper()} on 2026-06-01. Not for production." in text(after.pdf)
        assert after.check_code == before.check_code

    def test_a_superseded_one_names_what_came_after_it_and_not_the_newest(self) -> None:
        """What a paper says does not change with a revision that comes later still."""
        old, ended = revision(letter="A", runs=[]), []
        _, checker, approver = people()
        for letter, day in (("B", date(2026, 6, 1)), ("C", date(2026, 7, 1))):
            old.status, old.ended_on, old.ended_reason = Status.SUPERSEDED, day, f"superseded by revision {letter}"
            old.save()
            ended.append(old)
            old = revision(letter=letter, approved=False, runs=[])
            old.status, old.checked_by, old.checked_on, old.checked_name = Status.CHECKED, checker, day, "J"
            old.save()
            old.status, old.approved_by, old.approved_on, old.approved_name = Status.APPROVED, approver, day, "I"
            old.save()
        assert [said.words for one in ended if (said := banner(one))] == [
            "SUPERSEDED by rev B on 2026-06-01. Not for production.",
            "SUPERSEDED by rev C on 2026-07-01. Not for production.",
        ]


class TestFile:
    def test_the_same_bytes_every_time(self, three_runs: ProcedureRevision) -> None:
        first, again = (sheet(three_runs, Choice(), day, URL) for day in (ON, date(2027, 1, 1)))
        assert first.pdf == again.pdf
        assert first.sha256 == sha256(first.pdf).hexdigest()

    def test_title_author_language_dates_and_tags(self, three_runs: ProcedureRevision) -> None:
        found = reader(rendered(three_runs).pdf)
        assert found.metadata.title == "WPS 014 rev C, sheet for the cell"
        assert found.metadata.author == "Inês Duarte"
        assert found.metadata.creation_date.date() == date(2026, 3, 2)
        assert found.root_object["/Lang"] == "en"
        assert found.root_object["/MarkInfo"]["/Marked"]
        assert b"pdfaid" in found.root_object["/Metadata"].get_object().get_data()

    def test_only_our_own_fonts_are_in_it(self, three_runs: ProcedureRevision) -> None:
        names = set()
        for page in reader(rendered(three_runs).pdf).pages:
            names |= {str(font.get_object()["/BaseFont"]) for font in page["/Resources"]["/Font"].values()}
        assert names
        assert all("Plex" in name for name in names), names

    def test_the_data_travels_inside(self, three_runs: ProcedureRevision) -> None:
        made = rendered(three_runs)
        data = attached(made.pdf)
        assert data["check_code"] == made.check_code == check_code(sheet_content(three_runs))
        assert data["content"]["runs"][0]["current_min_a"] == "120.0"
        assert canonical(data["content"]) == canonical(sheet_content(three_runs))

    def test_a_change_of_one_run_changes_the_code(self) -> None:
        one = revision()
        other = revision(letter="D", runs=[*THREE_RUNS[:2], THREE_RUNS[2] | {"current_max_a": 241}], approved=False)
        same = {"revision": "", "records": [], "checked": None, "approved": None}
        contents = [sheet_content(found) | same for found in (one, other)]
        assert check_code(contents[0]) != check_code(contents[1])

    def test_the_qr_code_holds_the_address_with_the_code(self, three_runs: ProcedureRevision) -> None:
        html = sheet_html(three_runs, Choice(), ON, "ABCDEFGHIJ", "https://register.example/s/ABCDEFGHIJ/?a=1&b=2")
        assert "QR code: https://register.example/s/ABCDEFGHIJ/?a=1&b=2" in unescape(html)

    @pytest.mark.parametrize("field", ["kind", "paper", "units"])
    def test_what_there_is_not_is_refused_with_what_there_is(self, field: str) -> None:
        with pytest.raises(SheetError, match=f'{field}: "x" is not a sheet we make; use one of'):
            Choice(**{field: "x"})


DATA = Attached("a.json", "a", b"{}")


class TestOwnFiles:
    """Nothing outside is read, from the network or from this machine."""

    @pytest.mark.parametrize(
        "url",
        [
            "http://register.example/a.png",
            "https://register.example/a.css",
            "ftp://register.example/a",
            "file:///etc/hostname",
            "data:image/png;base64,iVBORw0KGgo=",
            "sheet-file:../../manage.py",
            "sheet-file:sheet.css?x",
            "",
        ],
    )
    def test_any_other_address_is_refused(self, url: str) -> None:
        files = OwnFiles()
        with pytest.raises(ValueError, match="its own files only"):
            files.fetch(url)
        assert files.refused == [url]

    def test_our_own_are_given(self) -> None:
        assert b"@page" in OwnFiles().fetch(url_of("sheet.css")).read()
        assert OwnFiles().fetch(url_of("latin-400-normal.woff2")).read()[:4] == b"wOF2"

    @pytest.mark.parametrize(
        "body",
        [
            '<img src="file:///etc/hostname">',
            '<img src="http://127.0.0.1:9/a.png">',
            '<link rel="stylesheet" href="http://127.0.0.1:9/a.css">',
            '<link rel="attachment" href="file:///etc/hostname">',
            '<p style="background: url(file:///etc/hostname)">a</p>',
            '<svg><title>a</title><image href="file:///etc/hostname" width="1" height="1"/></svg>',
            '<object data="file:///etc/hostname"></object>',
        ],
    )
    def test_no_sheet_is_made_that_asks_for_one(self, body: str) -> None:
        with pytest.raises(RefusedAddress, match="its own files only"):
            pdf(f"<html><body>{body}</body></html>", "a4", ON, DATA)

    def test_one_that_asks_for_none_is_made(self) -> None:
        found, pages = pdf("<html><body><p>a</p></body></html>", "a4", ON, DATA)
        assert found.startswith(b"%PDF-")
        assert pages == 1
