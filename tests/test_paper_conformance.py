"""Each kind of paper is a PDF for keeping that can be read aloud, and the check of it finds what it is there to find.

Rules: ISO 19005-3:2012 (PDF/A-3a) and ISO 14289-1:2014 (PDF/UA-1), clauses from memory; no certified validator.
"""

import io
import re
from collections.abc import Callable
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse
from pypdf import PdfReader, PdfWriter
from pypdf.generic import ArrayObject, DictionaryObject, NameObject, NumberObject, TextStringObject

from register.base.pdf import VARIANT
from tests.pdf_conformance import elements, violations
from tests.url_samples import samples

PAPERS = {
    "wps:revision_sheet": "?kind=full",
    "wps:record_sheet": "",
    "qualifications:pocket_card": "",
    "qualifications:certificate_sheet": "",
    "qualifications:due_sheet": "",
    "joints:coverage_report": "",
    "joints:cell_sheet": "",
    "joints:weld_map": "",
}
"""Every kind of paper that is made from templates, and what to ask for beside the thing itself."""
CALCULATION = "?calculation=combined_thickness&units=si&form=tee&thicknesses=15%3B15%3B15"


def paper(client: Client, name: str, asked: str) -> bytes:
    """The bytes of a paper of the test data."""
    answer = client.get(reverse(name, kwargs=samples()[name]() if name in samples() else None) + asked)
    assert answer.headers["Content-Type"] == "application/pdf", (name, answer.status_code, answer.content[:300])
    return b"".join(answer) if answer.streaming else answer.content


@pytest.mark.parametrize("name", PAPERS)
def test_each_kind_of_paper_keeps_the_rules(name: str, client_of: Callable[[str], Client]) -> None:
    assert VARIANT == "pdf/a-3a"
    assert violations(paper(client_of("coordinator"), name, PAPERS[name])) == []


def test_a_calculation_on_paper_keeps_the_rules(client_of: Callable[[str], Client]) -> None:
    url = reverse("calc:sheet", kwargs={"family": "combined-thickness"}) + CALCULATION
    answer = client_of("coordinator").get(url)
    assert answer.headers["Content-Type"] == "application/pdf", answer.content[:300]
    assert violations(answer.content) == []


# The check itself: a sheet is broken in one way at a time.


@pytest.fixture(scope="module")
def sound() -> bytes:
    """A small paper with a head, a table, a list of pairs, a drawing with words, and data."""
    from datetime import date

    from register.base.pdf import SHARED, Attached, OwnFiles, render

    html = (
        '<!doctype html><html lang="en"><head><meta charset="utf-8"><title>A sheet</title></head><body><h1>A sheet</h1>'
        "<table><thead><tr><th>Run</th><th>Current</th></tr></thead><tr><td>1</td><td>120 A</td></tr></table>"
        '<table><tr><th scope="row">Welder</th><td>T11</td></tr></table>'
        '<svg viewBox="0 0 9 9" width="9" height="9"><title>A line</title><path d="M0 0L9 9" stroke="black"/></svg>'
        "</body></html>"
    )
    data = Attached("sheet.json", "the data", b"{}")
    return render(html, OwnFiles(SHARED["paper.css"][0]), "210mm 297mm", date(2026, 3, 2), [data])[0]


def test_a_sound_paper_breaks_no_rule(sound: bytes) -> None:
    assert violations(sound) == []


def _elements(writer: PdfWriter, tag: str) -> list[DictionaryObject]:
    return [node for node, _ in elements(writer.root_object["/StructTreeRoot"]) if node["/S"] == tag]


def _font(writer: PdfWriter) -> DictionaryObject:
    return next(iter(writer.pages[0]["/Resources"]["/Font"].values())).get_object()


def _drop(holder: Any, key: str) -> None:
    del holder[NameObject(key)]


def _file(writer: PdfWriter) -> DictionaryObject:
    return writer.root_object["/AF"][0].get_object()


def _link(writer: PdfWriter) -> None:
    mark = {"/Type": "/Annot", "/Subtype": "/Link"}
    made = DictionaryObject({NameObject(key): NameObject(value) for key, value in mark.items()})
    made[NameObject("/Rect")] = ArrayObject([NumberObject(0)] * 4)
    writer.pages[0][NameObject("/Annots")] = ArrayObject([writer._add_object(made)])


def _script(writer: PdfWriter) -> None:
    made = {"/Type": NameObject("/Action"), "/S": NameObject("/JavaScript"), "/JS": TextStringObject("1")}
    action = DictionaryObject({NameObject(key): value for key, value in made.items()})
    writer.root_object[NameObject("/OpenAction")] = action


def _metadata(old: bytes, new: bytes) -> Callable[[PdfWriter], None]:
    def change(writer: PdfWriter) -> None:
        held = writer.root_object["/Metadata"].get_object()
        before = held.get_data()
        assert old in before
        held.set_data(before.replace(old, new))

    return change


def _paint(stream: bytes) -> Callable[[PdfWriter], None]:
    def change(writer: PdfWriter) -> None:
        held = writer.pages[0]["/Contents"].get_object()
        held.set_data(held.get_data() + b"\n" + stream)

    return change


def _rename(tag: str, new: str) -> Callable[[PdfWriter], None]:
    return lambda writer: _elements(writer, tag)[0].__setitem__(NameObject("/S"), NameObject(new))


BREAKS: dict[str, tuple[Callable[[PdfWriter], Any], str]] = {
    "no output intent": (lambda w: _drop(w.root_object, "/OutputIntents"), "6.2.3"),
    "opens with a script": (_script, "6.5.1"),
    "no metadata": (lambda w: _drop(w.root_object, "/Metadata"), "6.6.2"),
    "another part": (_metadata(b'pdfaid:part="3"', b'pdfaid:part="2"'), "6.6.4"),
    "another level": (_metadata(b'pdfaid:conformance="A"', b'pdfaid:conformance="B"'), "6.6.4"),
    "says nothing of PDF/UA": (_metadata(b'pdfuaid:part="1"', b""), "UA 5"),
    "a name not described": (_metadata(b"pdfaSchema:namespaceURI", b"pdfaSchema:other"), "6.6.2.3.2"),
    "no title": (_metadata(b"dc:title", b"dc:other"), "UA 7.1"),
    "data of no kind": (lambda w: _drop(_file(w), "/AFRelationship"), "6.8"),
    "data not listed": (lambda w: _drop(w.root_object, "/AF"), "6.8"),
    "data without a type": (lambda w: _drop(_file(w)["/EF"]["/F"].get_object(), "/Subtype"), "6.8"),
    "not marked": (lambda w: _drop(w.root_object, "/MarkInfo"), "6.7.2"),
    "no language": (lambda w: _drop(w.root_object, "/Lang"), "6.7.4"),
    "no structure": (lambda w: _drop(w.root_object, "/StructTreeRoot"), "6.7.3"),
    "a tag of its own": (_rename("/H1", "/Title"), "6.7.3.4"),
    "a second head first": (_rename("/H1", "/H2"), "UA 7.4.2"),
    "a figure without words": (lambda w: _drop(_elements(w, "/Figure")[0], "/Alt"), "UA 7.3"),
    "a table in a table": (_rename("/TBody", "/Table"), "UA 7.2"),
    "a cell without a head": (lambda w: _drop(_elements(w, "/TD")[0], "/A"), "UA 7.5"),
    "a head elsewhere": (lambda w: [_drop(one, "/ID") for one in _elements(w, "/TH")], "UA 7.5"),
    "a font not in the file": (
        lambda w: _drop(_font(w)["/DescendantFonts"][0].get_object()["/FontDescriptor"], "/FontFile2"),
        "6.2.11.4.1",
    ),
    "glyphs without letters": (lambda w: _drop(_font(w), "/ToUnicode"), "6.2.11.7.2"),
    "widths that are not the font's": (
        lambda w: _font(w)["/DescendantFonts"][0].get_object().__setitem__(NameObject("/W"), ArrayObject()),
        "6.2.11.5",
    ),
    "a colour of print": (_paint(b"/Artifact BMC 0 0 0 1 k 0 0 1 1 re f EMC"), "6.2.4.3"),
    "painted beside the structure": (_paint(b"0 0 1 1 re f"), "UA 7.1"),
    "states not closed": (_paint(b"q"), "6.2.2"),
    "states within each other": (_paint(b"q " * 30 + b"Q " * 30), "6.1.13"),
    "a mark that is not printed": (_link, "6.3.2"),
    "a link without words": (_link, "UA 7.18.5"),
    "marks in an order of their own": (lambda w: [_link(w), _drop(w.pages[0], "/Tabs")], "UA 7.18.3"),
    "a side too large": (lambda w: w.pages[0].mediabox.__setattr__("upper_right", (20000, 20000)), "6.1.13"),
    "a title not shown": (lambda w: _drop(w.root_object, "/ViewerPreferences"), "UA 7.1"),
    "a demand on the reader": (
        lambda w: w.root_object.__setitem__(NameObject("/Requirements"), TextStringObject("x")),
        "6.11",
    ),
}


def test_written_again_it_breaks_none_either(sound: bytes) -> None:
    """What the tests below find is what they broke."""
    out = io.BytesIO()
    PdfWriter(clone_from=PdfReader(io.BytesIO(sound))).write(out)
    assert violations(out.getvalue()) == []


@pytest.mark.parametrize("what", BREAKS)
def test_what_is_broken_is_found(what: str, sound: bytes) -> None:
    breaks, clause = BREAKS[what]
    writer = PdfWriter(clone_from=PdfReader(io.BytesIO(sound)))
    breaks(writer)
    out = io.BytesIO()
    writer.write(out)
    found = violations(out.getvalue())
    assert any(re.match(rf"{re.escape(clause)}[:.]", one) for one in found), found


@pytest.mark.parametrize(
    ("old", "new", "clause"),
    [
        (b"%PDF-1.7", b"%PDF-2.0", "6.1.2"),
        (b"%%EOF", b"%%EOF\nand more", "6.1.3"),
    ],
)
def test_what_is_broken_in_the_file_is_found(old: bytes, new: bytes, clause: str, sound: bytes) -> None:
    assert old in sound
    assert any(one.startswith(f"{clause}:") for one in violations(sound.replace(old, new)))
