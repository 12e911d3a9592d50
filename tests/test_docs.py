"""The papers for readers: whatever they lead to is there, and every picture is one that the script takes."""

import re
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
PAPERS = sorted([*ROOT.glob("*.md"), *(ROOT / "docs").glob("*.md")])
LINK = re.compile(r"\]\(([^)\s]+)\)")


def anchors(text: str) -> set[str]:
    """Headings as links name them: lower case, words joined by hyphens."""
    heads = re.findall(r"^#+ (.+)$", text, re.MULTILINE)
    return {re.sub(r"[^\w\- ]", "", head.lower()).replace(" ", "-") for head in heads}


@pytest.mark.parametrize("paper", PAPERS, ids=lambda path: path.name)
def test_every_link_leads_somewhere(paper: Path) -> None:
    for link in LINK.findall(paper.read_text(encoding="utf-8")):
        if link.startswith(("http:", "https:", "mailto:")):
            continue
        name, _, anchor = link.partition("#")
        target = (paper.parent / name).resolve() if name else paper
        assert target.exists(), f"{paper.name} leads to {link}"
        if anchor:
            assert anchor in anchors(target.read_text(encoding="utf-8")), f"{paper.name} leads to {link}"


def test_the_script_takes_every_picture_and_no_picture_is_left_over() -> None:
    script = (ROOT / "scripts" / "pictures.py").read_text(encoding="utf-8")
    taken = {f"{name}.png" for name in re.findall(r'"(\w+)": reverse\(', script)}
    assert {file.name for file in (ROOT / "docs" / "pictures").glob("*")} == taken
