"""The size of type to begin with, and the widths of the columns of runs."""

from datetime import date

import pytest

from codes.units import System
from register.base.pdf_text import width
from tests.wps.sheet_samples import revision, two_processes
from wps.languages import CATALOGUES
from wps.models import ProcedureRevision
from wps.sheet_data import prepared, sheet_data
from wps.sheet_fit import estimated_height, first_size, room
from wps.sheet_render import TYPE_SIZES
from wps.sheet_runs import HEAD, LARGE, LARGE_IN_FULL, SHY, RunTable
from wps.sheets import Choice, sheet


@pytest.mark.django_db
def test_more_words_take_more_room(three_runs: ProcedureRevision) -> None:
    data, words = sheet_data(three_runs, System.SI, ON, for_cell=True), prepared(three_runs)
    height = estimated_height(data, words, "a4", 8.7)
    assert 200 < height < 275
    assert estimated_height(data, words, "a4", 6.9) < height < estimated_height(data, (*words, *words), "a4", 8.7) + 60
    assert first_size(data, words, "a4", TYPE_SIZES) == TYPE_SIZES.index("9.2pt")
    assert first_size(data, words * 12, "a4", TYPE_SIZES) == len(TYPE_SIZES) - 1


@pytest.mark.django_db
@pytest.mark.parametrize(("paper", "units"), (("a4", "si"), ("letter", "us")))
def test_it_fits_at_the_first_attempt(
    three_runs: ProcedureRevision, paper: str, units: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    from register.base import pdf_style

    tried, real = [], pdf_style.laid_out
    monkeypatch.setattr(pdf_style, "laid_out", lambda *given: tried.append(given[3]) or real(*given))
    assert sheet(three_runs, Choice("cell", paper, units), ON).pages == 1
    assert len(tried) == 1


ON = date(2026, 3, 2)


@pytest.fixture
def three_runs() -> ProcedureRevision:
    return revision()


HEADS = (("Run", ""), ("Layer", ""), ("Current", "A"), ("Heat input", "kJ/mm"))


def test_columns_share_the_room_by_their_content() -> None:
    table = RunTable(HEADS, (("1", "root", "120–150", "0.8–1.2"), ("2–3", "fill", "200–240", "1.2–1.6")), 2)
    shares = table.shares(60)
    assert sum(shares) == pytest.approx(100, abs=0.05)
    assert shares[2] > shares[1] > shares[0]
    smaller = table.shares(60, large=LARGE_IN_FULL)
    assert sum(smaller) == pytest.approx(100, abs=0.05)
    assert smaller[0] > shares[0], "smaller figures leave more to the columns that their heads make wide"


def test_where_room_is_short_words_break_and_figures_do_not() -> None:
    row = ("1", "a very long name of a layer that goes on and on", "200–240", "1.2–1.6")
    wide, tight = RunTable(HEADS, (row,), 2).shares(80), RunTable(HEADS, (row,), 2).shares(30)
    assert tight[2] * 30 == pytest.approx(tight[3] * 30 * wide[2] / wide[3], rel=0.01)
    assert tight[2] > wide[2]
    assert tight[1] < wide[1]


def test_no_word_of_a_translation_runs_into_the_next_column() -> None:
    """ "fill" is short, "remplissage" is not; a process by both names does not break."""
    row = ("2", "fill", "135 · GMAW", "ISO 14341-A G 42 4 M21 3Si1", *("210–250",) * 6)
    table = RunTable((("Run", ""), ("Layer", ""), ("Process", ""), ("Filler", ""), *(("Speed", "A"),) * 6), (row,), 4)
    french = {"fill": "remplissage"}
    for said in (str, lambda words: french.get(words, words)):
        shares = table.shares(75, said)
        for at, words in enumerate(row):
            longest = max(width(word, bold=at == 0) for word in said(words).split(" "))
            assert shares[at] * 75 / 100 > longest * LARGE, words


@pytest.mark.django_db
@pytest.mark.parametrize("units", ["si", "us"])
@pytest.mark.parametrize("language", CATALOGUES)
def test_the_heads_of_two_processes_have_room_in_every_language(language: str, units: str) -> None:
    """Thirteen columns: type is chosen with which no name of a column runs into the next one."""
    data, said = sheet_data(two_processes(), System(units), ON, for_cell=True), CATALOGUES[language].heading
    size = TYPE_SIZES[first_size(data, (), "a4", TYPE_SIZES, said)]
    assert data.runs.needs(said) <= room("a4", size)
    shares = data.runs.shares(room("a4", size), said)
    for (name, _), share in zip(data.runs.heads, shares, strict=True):
        longest = max(width(word, bold=True) for word in said(name).replace(SHY, "- ").split())
        assert share * room("a4", size) / 100 > longest * HEAD, name


def test_a_column_of_words_has_room_for_what_is_kept_whole() -> None:
    """No line ends within "135 · GMAW" (`register.base.untorn`), so its column is at least as wide."""
    row = ("1", "135 · GMAW", "second side, fill and cap, and whatever else is said of it", "170–200")
    table = RunTable((("Run", ""), ("Process", ""), ("Layer", ""), ("Current", "A")), (row,), 3)
    shares = table.shares(34)
    assert shares[1] * 34 / 100 > width("135 · GMAW") * LARGE
