"""Files that are taken away: nothing in them runs as a formula, and numbers stay numbers."""

import io
from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from typing import Any

import pytest
from django.utils.translation import get_language, gettext, gettext_lazy, override
from python_calamine import CalamineWorkbook

from register.base import exports
from register.base.exports import csv_response, safe_cell, xlsx_response


@pytest.mark.parametrize("text", ["=1+1", "+49 30", "-cmd", "@SUM(A1)", "\t=1", "\r=1", "\n=1", "＝1+1"])
def test_text_that_could_start_a_formula_is_disarmed(text: str) -> None:
    assert safe_cell(text) == f"'{text}"


@pytest.mark.parametrize("value", [Decimal("-5.5"), -3, date(2026, 3, 1), "WPS 14", " =1"])
def test_the_rest_stays_as_it_is(value: object) -> None:
    assert safe_cell(value) == value


def test_yes_no_and_nothing_are_words() -> None:
    assert [safe_cell(v) for v in (True, False, None)] == ["yes", "no", ""]


def test_csv_is_utf8_with_a_mark_and_disarmed() -> None:
    answer = csv_response([["Name", "t"], ["=HYPERLINK(1)", Decimal("7.5")], ['Jörg, "J"', None]], "people")
    text = b"".join(answer.streaming_content).decode("utf-8")
    assert text == '\ufeffName,t\r\n\'=HYPERLINK(1),7.5\r\n"Jörg, ""J""",\r\n'
    assert answer["Content-Disposition"] == 'attachment; filename="people.csv"'


@pytest.mark.parametrize("sign", [";", "\t", "\n", "\r\n"])
@pytest.mark.parametrize("formula", ["=cmd|' /C calc'!A0", "@SUM(1)", "+1", "-1"])
def test_a_formula_behind_another_separator_is_disarmed(sign: str, formula: str) -> None:
    """Where semicolons part CSV, a line of ours is cut at each, whatever stands in quotes behind a comma."""
    answer = csv_response([["Mark", "Remark"], ["B1", f"a{sign}{formula}{sign}b"]], "list")
    text = b"".join(answer.streaming_content).decode("utf-8")
    cells = [cell for line in text.splitlines() for cell in line.split(";")]
    assert not [cell for cell in cells if cell.lstrip('"').startswith(("=", "@", "+", "-"))], text
    assert f"a{sign}'{formula}{sign}b" in text


@pytest.mark.parametrize("text", ["t 8; -20 °C", "a;b", "a-b=c", "tested\n(see 7)"])
def test_other_text_stays_as_it_is_in_csv(text: str) -> None:
    written = b"".join(csv_response([["a"], [text]], "list").streaming_content).decode("utf-8")
    assert text in written


def test_xlsx_holds_text_numbers_and_dates() -> None:
    answer = xlsx_response([["a", "b", "c"], ["=1+1", Decimal("7.5"), date(2026, 3, 1)]], "list")
    rows = CalamineWorkbook.from_filelike(io.BytesIO(answer.content)).get_sheet_by_index(0).to_python()
    assert rows == [["a", "b", "c"], ["'=1+1", 7.5, date(2026, 3, 1)]]


def test_xlsx_stops_at_its_limit(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(exports, "XLSX_ROWS", 2)
    xlsx_response([["head"], ["1"], ["2"]], "list")
    with pytest.raises(ValueError, match="take CSV"):
        xlsx_response([["head"], ["1"], ["2"], ["3"]], "list")


def _said_when_asked() -> Iterator[list[object]]:
    yield [gettext_lazy("Monday"), "n"]
    yield [gettext("Tuesday"), Decimal(1)]


@pytest.mark.parametrize("make", [csv_response, xlsx_response])
def test_heads_and_values_are_in_the_registers_own_language(make: Any) -> None:
    """Django's own German catalogue has the names of the days."""
    with override("de"):
        assert gettext("Monday") == "Montag"
        answer = make(_said_when_asked(), "days")
        data = b"".join(answer.streaming_content) if answer.streaming else answer.content
        assert get_language() == "de"
    if make is xlsx_response:
        rows = CalamineWorkbook.from_filelike(io.BytesIO(data)).get_sheet_by_index(0).to_python()
        data = str(rows).encode()
    assert b"Monday" in data and b"Tuesday" in data
