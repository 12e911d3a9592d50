"""Every reader of what is sent in: any bytes and any text are read or refused in words, and nothing else happens."""

import gzip
import io
import random
import zipfile
from collections.abc import Callable
from datetime import UTC, datetime
from typing import Any

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from codes.door.short_forms import long_form
from codes.iso_15614_1_2017.designation import read as read_filler
from codes.parse import BadField, parse_values
from joints.imports.files import ZIP, read_file
from joints.imports.rows import Setting as JointSetting
from joints.imports.rows import read_rows as read_joints
from joints.imports.table import Refusal
from joints.imports.workbook import read_xlsx
from joints.weld_values.judge import judged
from joints.weld_values.lines import Log
from qualifications.weld_log.cells import Known
from qualifications.weld_log.rows import Setting as LogSetting
from qualifications.weld_log.rows import read_rows as read_log
from register.evidence.kinds import BadFile, kind_of
from register.lists.text import read_csv
from tests.joints.files import HEAD, good_xlsx

FEW = settings(max_examples=60, deadline=None, derandomize=True)
NOW = datetime(2026, 11, 25, 12, tzinfo=UTC)
PEOPLE = LogSetting((Known(1, "Ada Krol", "K-1"),), NOW)
WORKBOOK = good_xlsx()
STATIONS = JointSetting({"Cell 3": 1})
LOG_HEAD = "Time stamp;Person;Process;Mechanisation;Current [A];Joint"
# What breaks readers: separators, quotes, formulas, signs that turn text round, figures that are none, other digits.
PIECES = st.sampled_from(
    [";", ",", "\t", '"', '""', "\n", "\r\n", "\r", "\x00", "=1+1", "@SUM(A1)", "'", "\u202e", "\ufeff", "1e999", "-0",
     "NaN", "٣", "²", "½", "12,5", "1.234.567", "9" * 50, "135", "PB", "fillet", "S355J2", "Cell 3", "K-1",
     "2026-02-30", "2026-11-24 14:03", "24.11.2026", "\u2028", "<script>", "\ud7ff", "é", " "]
)  # fmt: skip
TEXT = st.one_of(st.text(max_size=80), st.lists(PIECES, max_size=30).map("".join))


@given(text=TEXT)
@example(text="=HYPERLINK(1);2;3")
@FEW
def test_a_list_of_joints(text: str) -> None:
    for data in (text.encode(), f"{HEAD}\n{text}\n".encode(), f"{HEAD}\n{text}\n".encode("utf-16")):
        try:
            found = read_joints(read_file(data), STATIONS)
        except Refusal as refusal:
            assert len(str(refusal)) > 10
            continue
        for problem in found.problems:
            assert problem.message and problem.row >= 0
        for row in found.rows:
            assert not [value for value in row["values"].values() if str(value).startswith("=")]  # type: ignore[attr-defined]


@given(text=TEXT)
@FEW
def test_a_log_of_welds(text: str) -> None:
    for data in (text.encode(), f"{LOG_HEAD}\n{text}\n".encode()):
        try:
            found = read_log(read_csv(data), PEOPLE)
        except Refusal as refusal:
            assert str(refusal)
            continue
        assert all(problem.message for problem in found.problems)


@given(text=TEXT, packed=st.booleans(), cut=st.integers(0, 60))
@FEW
def test_a_log_of_weld_values(text: str, packed: bool, cut: int) -> None:
    whole = f"time [s];joint;run;current [A];voltage [V]\n0;1;1;200;25\n{text}\n".encode()
    for data in (text.encode(), gzip.compress(whole)[: -cut or None] if packed else whole):
        try:
            found = judged(Log([data[:7], data[7:]]), lambda joint, run: None)
        except Refusal as refusal:
            assert str(refusal)
            continue
        assert all(run.samples > 0 for run in found)


@given(at=st.integers(0, 10_000), bits=st.integers(1, 255), cut=st.integers(0, 200), keep=st.booleans())
@FEW
def test_a_workbook_with_a_byte_bent_or_its_end_cut_off(at: int, bits: int, cut: int, keep: bool) -> None:
    data = bytearray(WORKBOOK)
    data[at % len(data)] ^= bits
    bent = bytes(data) if keep else bytes(data[: len(data) - cut])
    try:
        # Here and now: a process for each would take minutes.
        read_joints(read_xlsx(bent) if bent.startswith(ZIP) else read_file(bent), STATIONS)
    except Refusal as refusal:
        assert len(str(refusal)) > 10


def rewritten(change: Callable[[str, bytes], bytes]) -> bytes:
    """The good workbook with its parts changed."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(WORKBOOK)) as old, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new:
        for name in old.namelist():
            new.writestr(name, change(name, old.read(name)))
    return out.getvalue()


ENTITY = b'<!DOCTYPE x [<!ENTITY a SYSTEM "file:///etc/passwd"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">]>'


@pytest.mark.parametrize(
    "change",
    [
        lambda name, data: data.replace(b"?>", b"?>" + ENTITY, 1) if name.endswith(".xml") else data,
        lambda name, data: data.replace(b"fillet", b"&b;"),
        lambda name, data: data.replace(b'Target="worksheets', b'Target="../../../../etc'),
        lambda name, data: data.replace(b'Target="worksheets/', b'Target="http://127.0.0.1:1/'),
        lambda name, data: b"" if name.endswith("sheet1.xml") else data,
        lambda name, data: b"<x" * 50_000 if name.endswith("sheet1.xml") else data,
        lambda name, data: data.replace(b'r="A1"', b'r="ZZZZZZZZ99999999999999"'),
        lambda name, data: b"" if name == "xl/sharedStrings.xml" else data,
    ],
)
def test_a_workbook_that_points_elsewhere(change: Any) -> None:
    """Entities are not followed, nothing outside the file is read, and no address is asked."""
    try:
        found = read_joints(read_xlsx(rewritten(change)), STATIONS)
    except Refusal as refusal:
        assert "root:" not in str(refusal)
        return
    assert "root:" not in str(found)


@given(text=TEXT)
@FEW
def test_words_of_the_trade(text: str) -> None:
    """Designations of fillers, the values of a test, and the short notation of a question."""
    read_filler(text)
    question = {
        "record": {"code": "ISO 9606-1:2012", "designation": text, "tested": {"p": text}},
        "demand": {"t": text},
    }
    for reader in (
        lambda: parse_values({"parent_t": text, "position": [text], "steels": [{"group": text}]}),
        lambda: parse_values({text: text}),
        lambda: long_form(question),
        lambda: long_form({text: [text]}),
    ):
        try:
            reader()
        except BadField as bad:
            assert str(bad)


@given(
    head=st.sampled_from([b"%PDF-1.7\n", b"\xff\xd8\xff\xe0", b"\x89PNG\r\n\x1a\n", b"", b"GIF89a"]), seed=st.integers()
)
@FEW
def test_a_scan(head: bytes, seed: int) -> None:
    body = random.Random(seed).randbytes(300)
    for data in (head + body, head + body + b"\nstartxref\n9\n%%EOF\n", head):
        try:
            assert kind_of(data).token in {"pdf", "jpeg", "png"}
        except BadFile as bad:
            assert str(bad)
