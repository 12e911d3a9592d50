"""Every kind of joint drawn as the pictures in tests/wps/golden, to the last character.

After a wanted change of the drawing: `REGENERATE_GOLDEN=1 .venv/bin/pytest tests/wps/test_sketch_golden.py`, then look
at what changed before it is committed.
"""

import os
from pathlib import Path
from xml.etree import ElementTree

import pytest

from codes.units import System
from tests.wps.sketches import CASES, beads, preparation
from wps.preparation import KINDS
from wps.sketch import Arrangement, preparation_sketch, sequence_sketch

GOLDEN = Path(__file__).parent / "golden"
DRAWN = {
    **{f"{name}.preparation": lambda name=name: preparation_sketch(preparation(name)) for name in CASES},
    **{f"{name}.sequence": lambda name=name: sequence_sketch(preparation(name), beads(name)) for name in CASES},
    "single_v.preparation.us": lambda: preparation_sketch(preparation("single_v"), System.US),
    "fillet_tee.sequence.us": lambda: sequence_sketch(preparation("fillet_tee"), beads("fillet_tee"), System.US),
}


@pytest.mark.parametrize("name", DRAWN)
def test_as_the_picture_on_file(name: str) -> None:
    file = GOLDEN / f"{name}.svg"
    # One element a line, so that a difference can be read.
    drawn = DRAWN[name]().replace("><", ">\n<") + "\n"
    if os.environ.get("REGENERATE_GOLDEN"):
        GOLDEN.mkdir(exist_ok=True)
        file.write_text(drawn, encoding="utf-8")
    assert drawn == file.read_text(encoding="utf-8")


@pytest.mark.parametrize("name", DRAWN)
def test_is_well_formed_and_says_what_it_is(name: str) -> None:
    root = ElementTree.fromstring(DRAWN[name]())
    space = "{http://www.w3.org/2000/svg}"
    assert root.get("role") == "img"
    assert root.findtext(f"{space}title") == root.get("aria-label")
    assert root.findtext(f"{space}desc")
    assert not [element for element in root.iter() if element.get("style") or element.get("href")]


@pytest.mark.parametrize("name", [name for name in DRAWN if ".sequence" in name])
def test_whoever_sees_two_fills_reads_which_process_each_is(name: str) -> None:
    """Own rule: a grey without a word says nothing on a photocopy."""
    root = ElementTree.fromstring(DRAWN[name]())
    words = [one.text for one in root.iter() if "legend" in (one.get("class") or "").split() and one.text]
    fills = {one.get("fill") for one in root.iter() if (one.get("class") or "").startswith("bead")}
    assert words == (["135", "138"] if len(fills) > 1 else [])


def test_every_kind_and_every_arrangement_has_a_picture() -> None:
    drawn = [preparation(name) for name in CASES]
    assert {one.groove for one in drawn} == {token for token, _ in KINDS}
    assert {one.arrangement for one in drawn} == set(Arrangement)


def test_no_picture_is_left_over() -> None:
    assert {file.stem for file in GOLDEN.glob("*.svg")} == set(DRAWN)
