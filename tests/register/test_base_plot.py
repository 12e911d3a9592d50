"""Curves: axes on whole ticks, lines cut at the edge, words for whoever cannot see, and the figures as a table."""

from decimal import Decimal as D
from xml.etree import ElementTree

import pytest

from register.base.draw.plot import DASHES, Axis, Box, Mark, Plot, Series, span, tick_step

SVG = "{http://www.w3.org/2000/svg}"


def plot(**changed: object) -> Plot:
    given = {
        "title": "Preheat & thickness",
        "description": "It rises.",
        "x": Axis("Thickness", "mm", D(0), D(100)),
        "y": Axis("Preheat", "°C", D(0), D(200)),
        "series": (Series("A", ((D(10), D(50)), (D(90), D(150)))), Series("B", ((D(10), D(20)), (D(50), D(30))))),
    }
    return Plot(**(given | changed))  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("values", "least", "ends"),
    [
        (("1.2", "8.7"), None, ("0", "10")),
        (("57.1", "158.4"), "0", ("0", "200")),
        (("5", "5"), None, ("5", "6")),
        (("-48", "120"), None, ("-50", "150")),
    ],
)
def test_ends_on_whole_ticks(values: tuple[str, str], least: str | None, ends: tuple[str, str]) -> None:
    found = span([D(v) for v in values], D(least) if least else None)
    assert found == tuple(map(D, ends))


@pytest.mark.parametrize(("hi", "step"), [("6", "1"), ("6.1", "2"), ("0.6", "0.1"), ("100", "20"), ("250", "50")])
def test_steps(hi: str, step: str) -> None:
    assert tick_step(D(0), D(hi)) == D(step)


def test_an_axis_runs_upwards() -> None:
    with pytest.raises(ValueError, match="cannot run"):
        Axis("a", "", D(1), D(1))


def test_words_for_whoever_cannot_see() -> None:
    root = ElementTree.fromstring(plot().svg)
    assert root.get("role") == "img"
    assert root.get("aria-label") == root.findtext(f"{SVG}title") == "Preheat & thickness"
    assert root.findtext(f"{SVG}desc") == "It rises."


def test_lines_differ_without_colour() -> None:
    curves = [one for one in ElementTree.fromstring(plot().svg).iter() if one.get("class") == "curve"]
    assert [one.get("stroke-dasharray", "") for one in curves] == list(DASHES[:2])


def test_a_line_is_cut_at_the_edge() -> None:
    """From (0, 100) to (100, 300) it leaves at y 200, that is at x 50: pixel 196 of the 46..346 of the axis."""
    high = plot(series=(Series("", ((D(0), D(100)), (D(100), D(300)))),))
    curve = next(one for one in ElementTree.fromstring(high.svg).iter() if one.get("class") == "curve")
    assert curve.get("d") == "M46 127L196 22"


def test_marks_and_boxes() -> None:
    shown = plot(marks=(Mark(D(30), D(75), "110 °C"),), boxes=(Box((D(20), D(40)), (D(50), D(100)), "window"),))
    words = "".join(ElementTree.fromstring(shown.svg).itertext())
    assert "110 °C" in words
    assert "window" in words


def test_the_figures_as_a_table() -> None:
    assert plot().heads == ("Thickness [mm]", "A, Preheat [°C]", "B, Preheat [°C]")
    assert plot().rows == [("10", "50", "20"), ("50", "", "30"), ("90", "150", "")]


def test_on_paper_the_same_lines_are_broader_and_lower() -> None:
    """The letters keep their size in pixels: of a broader drawing on the same paper they are no smaller."""
    screen, paper = (ElementTree.fromstring(one) for one in (plot().svg, plot().on_paper))
    assert int(paper.get("width", 0)) > int(screen.get("width", 0))
    assert int(paper.get("height", 0)) < int(screen.get("height", 0))
    words = [[(one.text, one.get("font-size")) for one in root.iter(f"{SVG}text")] for root in (screen, paper)]
    assert words[0] == words[1]
