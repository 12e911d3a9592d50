"""What no line ends in: the list that screens and papers share."""

import re
from time import process_time

import pytest

from register.base.untorn import KEPT, UNTORN, kept_whole


def shown(text: str) -> str:
    """The text with what is kept in corner brackets."""
    return re.sub(UNTORN, lambda found: f"⟨{found[0]}⟩", text)


@pytest.mark.parametrize(
    "text",
    [
        "from ⟨15 Oct 2026⟩ to ⟨7 Feb 2027⟩, entered ⟨2026-03-02⟩ 10:15 · ⟨as of 2026-11-29⟩",
        "⟨30 m⟩, ⟨25 t⟩; CE ⟨0.42 %⟩, ⟨20 °C⟩, ⟨355 MPa⟩; 2 more; 14 minutes",
        "S355J2+N, ⟨t = 19 mm⟩, ⟨heat 48213⟩; heat input",
        "⟨t ≤ 25 mm⟩ or ⟨≥ 3⟩",
        "⟨2 h⟩ at ⟨350 °C⟩, then at ⟨100 °C⟩",
        "parent thickness ⟨15 mm + 60 mm⟩; ⟨0.748 in + 0.787 in⟩",
        "⟨240–270 A⟩ ⟨+ 260 to 300 A⟩; ⟨15 mm⟩ ⟨+ 20 to 30 mm⟩; ⟨6 mm⟩ to ⟨24 mm⟩, 8 to 10",
        "impact requirement: ⟨1.25 × 20.4 kJ/in⟩ ⟨= 25.5 kJ/in⟩ at most; ⟨A(C) = 0.75⟩ ⟨+ 0.25⟩·tanh",
        "⟨0.75 a⟩ to ⟨1.5 a⟩, ⟨5.4 c⟩, 8.3.2 ⟨and 12⟩",
        "⟨ISO 14341-A⟩ ⟨G 42 4 M21 3Si1⟩, or; ⟨ISO 17632-A⟩ ⟨T 46 6 M M21 2 H5⟩ ⟨⌀ 1.2 mm⟩",
        "⟨ISO 2560-A⟩ ⟨E 42 4 B 42 H5⟩ ⟨1.2 mm⟩; ⟨S 46 4 AB S2⟩; type S Filler",
        "⟨level 2⟩, (⟨level C⟩), in ⟨week 10⟩, steel, ⟨part 1⟩ ⟨ST52-3⟩, ⟨joint 39⟩; level is named; part of",
        "at ⟨Bay 2⟩ of ⟨Cell R1⟩; Only ⟨6 mm⟩, About 3.5 times, From ⟨3–6 mm⟩; Of 279 joints",
        "⟨clause QW-409.2⟩, ⟨26-104 V103/2⟩, ⟨V103/2⟩",
        "⟨1/16 in [1.5 mm]⟩, ⟨1-1/2 in⟩, ⟨45° (F, V)⟩; ⟨T ≤ 0–1/8 in⟩",
        "⟨200–250 A⟩ and ⟨200–250⟩",
        "⟨⌀ 1.2 mm⟩, ⟨× 0.804⟩",
        "⟨0.756 to 1.362 kJ/mm⟩ ⟨+ 0.825 to 1.543 kJ/mm⟩; ⟨kJ/mm⟩; Wire feed, ⟨m/min⟩; m / s",
        "⟨EN 1090-2:2018⟩, 7.5.7; (⟨ISO 9606-1:2012⟩, ⟨Table 6⟩), ⟨Table 5 note a⟩, ⟨ISO 14341-A⟩ G",
        "(⟨ISO 9606-1:2012⟩, ⟨5.4 a⟩), 5.4 and more; ⟨1.5 m⟩",
        "⟨joint 26-104 V103/2⟩, ⟨26-104 V103/2⟩, ⟨WPS 040⟩, at ⟨Bay 2⟩",
        "Tarnholm, ⟨hall 2⟩\n",
        "hall 2, Tarnholm",
        "15 within ⟨60 days⟩, after ⟨1 month⟩ and ⟨2 years⟩",
        "⟨AWS D1.1/D1.1M:2020⟩, ⟨ASME IX:2019⟩, ⟨ASME IX⟩, ⟨ISO/TR 15608⟩, ⟨DIN EN ISO 9606-1⟩",
        "⟨135 · GMAW⟩, ⟨PF · 3G / 3F up⟩, ⟨H-L045 · 6G up⟩, ⟨DC- · DCEN⟩, full ⟨penetration · CJP⟩",
        "partly mechanised · semiautomatic",
        "⟨5G up⟩, 5G, ⟨3G / 3F up⟩",
        "⟨WPS 034 rev A⟩, ⟨rev A⟩; (⟨WPQR 201⟩, ⟨WPS L01⟩); ⟨job 26-104⟩: job of the month",
        "(⟨group 1.2⟩, ⟨groups 1-1⟩), ⟨F-No. 4⟩, ⟨P-1⟩, ⟨QW-403.16⟩, ⟨Annex C⟩, ⟨clause 8.4.11⟩, ⟨line 3⟩",
        "⟨T-joint⟩, ⟨PS-500⟩, ⟨K7-B01⟩, ⟨FCAW-G⟩, ⟨9606-0420⟩, ⟨B-U2a⟩.",
        "⟨metal-cored⟩ ⟨two-part⟩ gas-shielded arc-length welding-coordinator",
        "⟨ss nb⟩ (open root), ⟨ss gb⟩ (gas backing), bs (both sides)",
        "⟨ASME IX:2019⟩, ⟨ASME IX⟩, ⟨QW-403.5⟩; ⟨8 ml/100 g⟩ of ⟨ml/100 g⟩",
        "⟨level 1⟩, ⟨level C⟩, ⟨method B⟩: ⟨page 17⟩, ⟨line 18⟩, ⟨Group II⟩ to ⟨Group I⟩; a level-2 record",
        "⟨a 5⟩, ⟨a 5 mm⟩, a weld; Deposited ⟨thickness s⟩, throat and leg",
        "read as ⟨leg z = 9 mm⟩ it fits; ⟨thickness t ≤ 25 mm⟩, ⟨diameter D⟩ is ⟨5 mm⟩",
        "less ⟨2 a⟩ at its ends it would be under ⟨30 mm⟩ or ⟨6 a⟩, and; ⟨6 z⟩, 6 b",
    ],
)
def test_what_stays_on_one_line(text: str) -> None:
    assert shown(re.sub("[⟨⟩]", "", text)) == text


def test_each_pattern_finds_something_of_its_own() -> None:
    """None of the list is there in vain."""
    examples = {
        "a day": "7 Feb 2027",
        "a standard": "EN ISO 9606-1",
        "a process or position with its other name": "PA · 1G",
        "a penetration with its letters": "penetration · PJP",
        "a position with its direction": "3F down",
        "a thing with its number": "rev C",
        "one side with its backing": "ss gb",
        "a size with its letter": "a 5",
        "a name of a size with its letter": "thickness s",
        "a designation of a filler": "E 42 4 B",
        "a sum of two sizes": "15 mm + 60 mm",
        "a figure with its factor": "1.25 × 20.4 kJ/in",
        "a figure with its sign": "≤ 4",
        "a figure with its unit": "4 mm",
        "a figure with its letter": "0.75 a",
        "a range": "4–6",
        "an angle with its positions": "45° (F)",
        "a designation with hyphens or strokes": "26-104",
        "a name with its number": "Bay 2",
        "a short compound": "V-groove",
        "a unit with a stroke": "m/min",
        "a stretch of time": "60 days",
        "a last figure with the word before it": "hall 2",
    }
    assert set(examples) == set(KEPT)
    for name, text in examples.items():
        others = "|".join(pattern for other, pattern in KEPT.items() if other != name)
        assert re.fullmatch(UNTORN, text), name
        assert not re.fullmatch(others, text), name


def test_browsers_read_the_same_list() -> None:
    """Older ones refuse what looks behind, and know no named groups or flags of Python's."""
    assert not re.search(r"\(\?(?![:=!])", UNTORN)


def test_texts_of_a_paper_are_wrapped_and_its_markup_stays() -> None:
    before = '<style>p { margin: 5 mm }</style><title>rev A</title><p title="rev A" data-x="5 mm">'
    assert kept_whole(f"{before}rev A &lt;b&gt; t &lt; 5 mm</p>") == (
        f"{before}<kept-whole>rev A</kept-whole> &lt;b&gt;"
        "<blank-before> </blank-before><kept-whole>t &lt; 5 mm</kept-whole></p>"
    )


@pytest.mark.parametrize("typed", ["1.", "1,", "1.1 ", "A.1-", "ISO 1.1."])
def test_a_long_row_of_figures_and_points_takes_no_longer_than_other_text(typed: str) -> None:
    began = process_time()
    kept_whole(typed * (20_000 // len(typed)))
    assert process_time() - began < 3
