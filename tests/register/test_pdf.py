"""The renderer: its closed set of files, drawings beside the HTML, the widths of words, the same bytes each time."""

import gc
import re
from datetime import date
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader
from weasyprint.formatting_structure.boxes import Box

from register.base import pdf_style
from register.base.pdf import PAPERS, Attached, OwnFiles, RefusedAddress, render
from register.base.pdf_drawings import drawn_apart
from register.base.pdf_text import lines, width

ON = date(2026, 3, 2)
RULES = (
    '@font-face { font-family: "Plex"; src: url("sheet-file:latin-400-normal.woff2"); } body { font-family: "Plex"; }'
)
DRAWING = '<svg class="qr" viewBox="0 0 9 9"><title>A &amp; B</title><path d="M0 0h9v9z"/></svg>'
PAGE = '<html lang="en"><head><title>T</title></head><body><p>One<br>two</p>{}</body></html>'


@pytest.fixture
def sheet(tmp_path: Path) -> Path:
    path = tmp_path / "plain.css"
    path.write_text(RULES, encoding="utf-8")
    return path


def made(html: str, sheet: Path) -> bytes:
    attached = Attached("data.json", "Data", b"{}")
    return render(html, OwnFiles(sheet), PAPERS["a4"][1], ON, (attached,))[0]


def test_drawings_go_beside_the_html_and_keep_their_words() -> None:
    html, drawings = drawn_apart(f"<p>{DRAWING}</p><p>{DRAWING.replace('<title>A &amp; B</title>', '')}</p>", "s")
    first, second = html.removeprefix("<p>").removesuffix("</p>").split("</p><p>")
    assert first == '<img class="qr" alt="A &amp; B" src="s:drawing-0.svg">'
    assert second == '<span class="ornament qr" style="background-image: url(s:drawing-1.svg)"></span>'
    assert drawings["drawing-0.svg"].startswith(b'<svg class="qr" viewBox="0 0 9 9" xmlns=')
    assert b'<path d="M0 0h9v9z"/></svg>' in drawings["drawing-1.svg"]


def test_the_same_bytes_with_fonts_fresh_and_kept(sheet: Path) -> None:
    pdf_style.kept.cache_clear()
    first = made(PAGE.format(DRAWING), sheet)
    assert made(PAGE.format(DRAWING), sheet) == first
    pdf_style.kept.cache_clear()
    assert made(PAGE.format(DRAWING), sheet) == first


def test_figures_bear_the_signs_of_print(sheet: Path) -> None:
    html = PAGE.format("<p>KV at -20 °C, from -4 °F; 180-200 °C, DC- and 26-104; 1.25 x 0.8; -20 %, 15-25 %</p>")
    said = PdfReader(BytesIO(made(html, sheet))).pages[0].extract_text()
    assert "KV at −20 °C, from −4 °F; 180-200 °C, DC- and 26-104; 1.25 × 0.8; −20 %, 15-25 %" in said


def test_a_line_is_filled_before_what_is_kept_whole(sheet: Path) -> None:
    """Some widths ended the first line behind its first word."""
    words = "flame or plasma cut, ground bright 20 mm each side, dry and free of grease"
    html = PAGE.format("".join(f'<p style="width: {wide / 4}mm">{words}</p>' for wide in range(140, 280)))
    said = "".join(page.extract_text() + "\n" for page in PdfReader(BytesIO(made(html, sheet))).pages)
    firsts = [line.strip() for line in said.split("\n") if line.startswith("flame")]
    assert len(firsts) == 140
    assert not [line for line in firsts if len(line) < len("flame or plasma cut")]


def test_html_that_is_not_well_formed_looks_the_same(sheet: Path) -> None:
    """The body of a loosely written page goes to the patient parser; the bytes do not tell."""
    assert made(PAGE.format("<p>three</p>"), sheet) == made(PAGE.format("<p>three"), sheet)


def test_our_rules_for_elements_look_as_the_renderers(sheet: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Every element that `elements.css` knows, styled from it alone and by the renderer's own rules: the same bytes."""
    rows = "<tr><th>a</th><td>b <b>c</b></td></tr>"
    table = f"<table><colgroup><col><col></colgroup><thead>{rows}</thead><tbody>{rows}{rows}</tbody></table>"
    parts = (
        f"<header><h1>a</h1></header><section><h2>b</h2><div>c<p>d <span>e</span></p></div><h3>f</h3>{table}"
        f"<table>{rows}</table><dl><dt>g</dt><dd>h</dd></dl></section><footer>i{DRAWING}</footer>"
    )
    page = PAGE.format(parts).replace("<title>T", '<meta charset="utf-8"><title>T')
    assert set(re.findall(r"<([a-z][a-z0-9]*)", drawn_apart(page, "s")[0])) == pdf_style.ELEMENTS
    ours = made(page, sheet)
    monkeypatch.setattr(pdf_style, "ELEMENTS", frozenset())
    assert made(page, sheet) == ours


def test_an_element_without_rules_of_ours_keeps_the_renderers(sheet: Path) -> None:
    said = PdfReader(BytesIO(made(PAGE.format("<ul><li>three</li></ul>"), sheet))).pages[0].extract_text()
    assert "•" in said


def boxes() -> int:
    return sum(issubclass(type(one), Box) for one in gc.get_objects())


def test_garbage_is_looked_for_as_before_once_a_sheet_is_done(sheet: Path) -> None:
    usual = gc.get_threshold()
    before = boxes()
    made(PAGE.format(""), sheet)
    assert boxes() == before, "boxes of a sheet outlive it"
    with pytest.raises(RefusedAddress):
        made(PAGE.format('<img alt="" src="https://example.org/a.png">'), sheet)
    assert gc.get_threshold() == usual


@pytest.mark.parametrize(
    "asked",
    (
        '<img alt="" src="https://example.org/a.png">',
        '<img alt="" src="file:///etc/hostname">',
        '<img alt="" src="sheet-file:../settings.py">',
        '<img alt="" src="sheet-file:drawing-7.svg">',
        '<link rel="stylesheet" href="http://localhost/a.css" />',
        '<svg viewBox="0 0 9 9"><title>x</title><image href="file:///etc/hostname" width="9" height="9"/></svg>',
    ),
)
def test_it_reads_nothing_but_its_own_files(asked: str, sheet: Path) -> None:
    with pytest.raises(RefusedAddress, match="reads its own files only"):
        made(PAGE.format(asked), sheet)


def test_a_style_sheet_that_reaches_out_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "reaching.css"
    path.write_text('@import url("https://example.org/a.css");', encoding="utf-8")
    with pytest.raises(RefusedAddress, match=r"reaching\.css asks for https://example\.org/a\.css"):
        made(PAGE.format(""), path)


def test_widths_of_words() -> None:
    """Advance widths of the font files themselves: figures of IBM Plex Sans are 600 of 1000 wide each."""
    assert width("0123456789") == pytest.approx(6.0)
    assert width("i") < width("m") < width("m", bold=True)
    assert width("\u4e00") == 0.6


@pytest.mark.parametrize(("room", "count"), ((100.0, 1), (5.2, 2), (2.0, 4), (0.1, 4)))
def test_lines_break_at_blanks(room: float, count: int) -> None:
    assert lines([("0000 0000", False), ("0000 0000", True)], room) == count


@pytest.mark.parametrize(
    ("sides", "tried", "taken", "made_of"),
    [
        (1, ["8pt", "7pt", "6pt"], "7pt", 2),  # one side is had by none: of those with the fewest the largest
        (2, ["8pt", "7pt"], "7pt", 2),  # no smaller one is tried than is needed
        (3, ["8pt"], "8pt", 3),
    ],
)
def test_the_largest_type_of_those_that_need_the_fewest_sides(
    sides: int, tried: list[str], taken: str, made_of: int, sheet: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    real, seen, needed = pdf_style.laid_out, [], {"8pt": 3, "7pt": 2, "6pt": 2}

    def laid_out(apart: str, files: OwnFiles, size: str, type_size: str, options: Any) -> Any:
        seen.append(type_size)
        more = f'<p style="break-before: page">{type_size}</p>' * (needed[type_size] - 1)
        return real(apart.replace("</body>", f"{more}</body>"), files, size, type_size, options)

    monkeypatch.setattr(pdf_style, "laid_out", laid_out)
    data, number = render(PAGE.format(""), OwnFiles(sheet), PAPERS["a4"][1], ON, (), ("8pt", "7pt", "6pt"), sides)
    assert (seen, number) == (tried, made_of)
    assert PdfReader(BytesIO(data)).pages[-1].extract_text() == taken
