"""The codes to scan on paper: large enough for a scanner of 100 dpi, white around.

Read with an open-source reader at 100 dpi, unsharp by 0.8 pixels, grey as a photocopy and a little askew: modules of
0.66 mm were always read, of 0.55 mm where the copy was sharp, of 0.4 mm hardly ever. The quiet zone of four modules
is that of ISO/IEC 18004.
"""

import re
from pathlib import Path

import pytest
import segno

from register.papers.codes import EXAMPLE

ROOT = Path(__file__).resolve().parents[2]
PAPERS = {"wps/sheet.css": "0.66", "register/base/paper.css": "0.66", "qualifications/paper/card.css": "0.6"}
"""Style sheet and the least module [mm]; a card has no room for more."""


def modules(host: str) -> int:
    """Along one side of the code of an address, as `qr` makes it."""
    made = segno.make(f"https://{host}/procedures/sheet/{EXAMPLE}/", error="m", micro=False)
    return int(made.symbol_size(border=0)[0])


def rule(path: str, selector: str) -> dict[str, float]:
    """The lengths of a rule [mm]."""
    found = re.search(rf"^{re.escape(selector)} \{{(.*?)\}}", (ROOT / path).read_text(), re.MULTILINE)
    assert found, (path, selector)
    return {name: float(size) for name, size in re.findall(r"([a-z-]+): ([\d.]+)mm", found[1])}


@pytest.mark.parametrize("path", PAPERS)
def test_a_module_is_large_enough(path: str) -> None:
    side = rule(path, ".qr")
    assert side["width"] == side["height"]
    assert side["width"] / modules("welds.example.com") >= float(PAPERS[path])
    # A host of 40 characters takes a code of the next size.
    assert side["width"] / modules("welding-register.works.steel.example.com") >= 0.55


@pytest.mark.parametrize("path", PAPERS)
def test_white_is_left_around(path: str) -> None:
    """To the left and the right; below, together with the least that follows it, which is a rule."""
    module = rule(path, ".qr")["width"] / modules("welds.example.com")
    below = rule(path, ".qr")["margin-bottom"]
    if path.endswith("card.css"):
        assert rule(path, ".who td + td")["padding-left"] >= 4 * module
        assert below + rule(path, ".rule")["margin-top"] >= 4 * module
        return
    assert rule(path, ".head .name")["padding-right"] >= 4 * module
    assert rule(path, ".head .check")["padding-left"] >= 4 * module
    follows = (".banner", ".big") if path.startswith("wps") else ("div.answer",)
    assert below + min(rule(path, one)["margin-top"] for one in follows) >= 4 * module
