"""ISO 9606-1:2012, clause 11: designation lines read, refused with the token at fault, and written back."""

from decimal import Decimal as D

import pytest
from hypothesis import given
from hypothesis import strategies as st

from codes.check import best
from codes.editions import edition
from codes.iso_9606_1_2012.designation import DesignationError, OtherEdition, parse, write
from codes.readings import DEFAULTS
from codes.values import Steel, SteelPair, Value
from codes.verdict import Outcome

FILLET: dict[str, Value] = {
    "process": "135",
    "product": "plate",
    "weld_type": "fillet",
    "filler_group": "FM1",
    "filler_type": "S",
    "parent_t": D(10),
    "position": "PB",
    "run_type": "multi_run",
}


@pytest.mark.parametrize(
    "standard",
    [
        *("ISO 9606-1", "EN ISO 9606-1", "ISO 9606-1:2012", "iso 9606-1", "EN ISO 9606-1:2017", "ISO9606-1"),
        *("DIN EN ISO 9606-1:2013-12", "PN-EN ISO 9606-1", "NEN-EN-ISO 9606-1", "BS EN ISO 9606-1:2017"),
        *("NS-EN ISO 9606-1", "AS/NZS ISO 9606.1:2017", "UNI EN ISO 9606-1:"),
    ],
)
def test_national_prefixes_and_years(standard: str) -> None:
    found = parse(f"{standard} 135 P FW FM1 S t10 PB ml")
    assert found.tested == FILLET and not found.warnings


@pytest.mark.parametrize(
    ("line", "name", "value"),
    [
        ("ISO 9606-1 135-D P FW FM1 S t10 PB ml", "transfer_mode", "dip"),
        ("ISO 9606-1 135-S P FW FM1 S t10 PB ml", "transfer_mode", "spray"),
        ("ISO 9606-1 135[-P] P FW FM1 S t10 PB ml", "transfer_mode", "pulsed"),
        ("ISO 9606-1 141 T BW FM1 S s3,6 D60,3 PH ss nb", "deposit_t", D("3.6")),
        ("ISO 9606-1 141 T BW FM1 S s3,6 D60,3 PH ss nb", "diameter", D("60.3")),
        ("ISO 9606-1 111 T BW FM1 RB s05.0 D120.0 PH ss nb", "deposit_t", D(5)),
        ("ISO 9606-1 111 P BW FM1 B s10 PF ss, nb", "weld_detail", "ss_nb"),
        ("ISO 9606-1 111 P BW FM1 B s10, PF, ss nb", "deposit_t", D(10)),
        ("ISO 9606-1 311 P BW FM1 S s4 PA ss nb rw", "torch_direction", "rightward"),
        ("ISO 9606-1 141 T BW FM1 S s4 D88.9 HL045 ss nb", "position", "H-L045"),
        ("ISO 9606-1 141 T BW FM1 S s4 D168.3 PC/PH ss nb", "position", ("PC", "PH")),
        ("ISO 9606-1 135 P FW FM1 S t10 PB PF ml", "position", ("PB", "PF")),
        ("ISO 9606-1 141/111 T BW FM1/FM1 S/B s12(4/8) D114.3 PH ss nb", "deposit_t", (D(4), D(8))),
        ("ISO 9606-1 141/111 T BW FM1 S/B s12(4/8) D114.3 PH ss nb", "filler_group", "FM1"),
        ("ISO 9606-1 142 T BW 8.1 nm s2 D40 PA ss gb", "steels", SteelPair(Steel("8.1"), Steel("8.1"))),
        ("ISO 9606-1 142 T BW FM5 nm s2 D40 PA ss gb", "filler_type", "nm"),
    ],
)
def test_what_a_line_states(line: str, name: str, value: Value) -> None:
    found = parse(line)
    assert found.tested[name] == value
    assert not found.warnings


@pytest.mark.parametrize(
    ("line", "warning"),
    [
        ("ISO 9606-1 141 T BW FM1 S s4 D88.9 H-LO45 ss nb", "letter O"),
        ("ISO 9606-1 111 P BW FM1 B t12 PF ss nb", "read as s"),
        ("ISO 9606-1 111 P BW FM1 B s12 PF ss nb ml", "detail of fillet welds"),
        ("ISO 9606-1 111 P FW FM1 B t12 PF ml ss nb", "detail of butt welds"),
        ("ISO 9606-1 111 P FW FM1 B t12 PF ml rw", "process 311"),
        ("ISO 9606-1 111 P BW FM1 B s12 PF bs gg", "gouging"),
        ("ISO 9606-1 141/111 T BW FM1 S/B s12 D114.3 PH ss nb", "share of each process"),
        ("ISO 9606-1 141/135-D T BW FM1 S s12(4/8) D114.3 PH ss nb", "state it for each process"),
        ("ISO 9606-1 141 T BW FM1 S s4 D88.9 PF ss nb", "plate position"),
        ("ISO 9606-1 135 T FW FM1 S t4 D88.9 H-L045 ml", "Table 10"),
    ],
)
def test_what_a_person_should_look_at(line: str, warning: str) -> None:
    assert warning in " | ".join(parse(line).warnings)


@pytest.mark.parametrize(
    ("line", "missing"),
    [
        ("ISO 9606-1 135 P FW FM1 S PB ml", "thickness"),
        ("ISO 9606-1 135 P FW FM1 S t10 ml", "position"),
        ("ISO 9606-1 135 P FW FM1 S t10 PB", "layers"),
        ("ISO 9606-1 135 P BW FM1 S s10 PA", "sides and backing"),
        ("ISO 9606-1 141 T BW FM1 S s4 PH ss nb", "diameter"),
        ("ISO 9606-1 311 P BW FM1 S s4 PA ss nb", "direction"),
    ],
)
def test_what_a_line_leaves_out_covers_nothing(line: str, missing: str) -> None:
    found = parse(line)
    assert any(f"states no {missing}" in warning for warning in found.warnings)
    sets = edition("ISO 9606-1:2012").limit_sets([found.tested], DEFAULTS)
    joint = dict(found.tested) | {"mechanisation": "manual"}
    assert best(joint, sets).outcome is Outcome.NOT_STATED
    with pytest.raises(DesignationError):
        write(found.tested)


@pytest.mark.parametrize(
    ("line", "token"),
    [
        ("welder no. 7", "welder no. 7"),
        ("", ""),
        ("135 P FW FM1 S t10 PB ml", "135 P FW FM1 S t10 P"),
        ("ISO 9606-1 999 P FW FM1 S t10 PB ml", "999"),
        ("ISO 9606-1 MAG P FW FM1 S t10 PB ml", "MAG"),
        ("ISO 9606-1 135-X P FW FM1 S t10 PB ml", "135-X"),
        ("ISO 9606-1 135 Q FW FM1 S t10 PB ml", "Q"),
        ("ISO 9606-1 135 P XW FM1 S t10 PB ml", "XW"),
        ("ISO 9606-1 135 P FW FM7 S t10 PB ml", "FM7"),
        ("ISO 9606-1 135 P FW FM1 K t10 PB ml", "K"),
        ("ISO 9606-1 135 P FW FM1/FM2 S t10 PB ml", "FM1/FM2"),
        ("ISO 9606-1 135 P FW FM1 S s10 PB ml", "s10"),
        ("ISO 9606-1 135 P FW FM1 S t0 PB ml", "t0"),
        ("ISO 9606-1 135 P FW FM1 S t10 t12 PB ml", "t12"),
        ("ISO 9606-1 135 P FW FM1 S t10 D60 PB ml", "D60"),
        ("ISO 9606-1 141 T BW FM1 S s4 D60 D61 PH ss nb", "D61"),
        ("ISO 9606-1 135 P FW FM1 S t10 PX ml", "PX"),
        ("ISO 9606-1 135 P FW FM1 S t10 PB PB ml", "PB"),
        ("ISO 9606-1 135 P BW FM1 S s10 PB ss nb", "PB"),
        ("ISO 9606-1 135 P BW FM1 S s10 PD ss nb", "PD"),
        ("ISO 9606-1 135 P BW FM1 S s10 PH ss nb", "PH"),
        ("ISO 9606-1 135 P BW FM1 S s10 PA ss", "ss"),
        ("ISO 9606-1 135 P BW FM1 S s10 PA ss xx", "ss xx"),
        ("ISO 9606-1 135 P BW FM1 S s10 PA ss nb bs", "bs"),
        ("ISO 9606-1 135 P FW FM1 S t10 PB sl ml", "ml"),
        ("ISO 9606-1 141/111 T BW FM1 S/B s12(4/9) D114.3 PH ss nb", "s12(4/9)"),
        ("ISO 9606-1 141/111 T BW FM1 S/B s12(12) D114.3 PH ss nb", "s12(12)"),
        ("ISO 9606-1 141/111 T BW FM1 S/B s12(4/) D114.3 PH ss nb", "s12(4/)"),
        ("ISO 9606-1 135 P", "weld type (BW or FW)"),
    ],
)
def test_a_malformed_line_is_refused_by_its_token(line: str, token: str) -> None:
    with pytest.raises(DesignationError) as refused:
        parse(line)
    assert refused.value.token == token
    assert token in str(refused.value) and len(str(refused.value)) > len(token) + 10
    assert not isinstance(refused.value, OtherEdition)


@pytest.mark.parametrize(
    ("line", "standard"),
    [
        ("EN 287-1 135 P FW 1.1 S t10 PB ml", "EN 287-1"),
        ("DIN EN 287-1:2011-11 111 T BW 1.2 RB t05.0 D120.0 PH ss nb", "EN 287-1:2011"),
        ("EN287-1 135 P FW W01 wm a5 PB PF", "EN 287-1"),
        ("PN-EN ISO 9606-2 131 P BW 22 S t8 PE ss nb", "ISO 9606-2"),
        ("ISO 9606-1:1994 135 P FW W01 wm t10 PB ml", "ISO 9606-1:1994"),
        ("EN ISO 9606-1 135 P FW 1.1 S t10 PB ml", "EN 287-1"),
        ("EN ISO 9606-1 135 P FW W01 wm t10 PB ml", "EN 287-1"),
        ("EN ISO 9606-1 135 P FW FM1 wm t10 PB ml", "EN 287-1:1992"),
        ("EN ISO 9606-1 135 P FW FM1 S a5 PB ml", "EN 287-1:1992"),
    ],
)
def test_other_editions_are_recognised_and_not_judged(line: str, standard: str) -> None:
    with pytest.raises(OtherEdition) as refused:
        parse(line)
    assert refused.value.standard == standard
    assert "ISO 9606-1:2012" in str(refused.value) or "EN 287-1" in str(refused.value)


def test_the_style_of_1992_is_named() -> None:
    with pytest.raises(OtherEdition, match="1992"):
        parse("EN287-1 141 T BW W02 wm t4 D80 H-L045 ss nb")


SIZES = st.decimals("0.1", "999.9", places=1)


@st.composite
def full_pieces(draw: st.DrawFn) -> dict[str, Value]:
    """Any test piece that a designation line can state in full."""
    pipe, butt = draw(st.booleans()), draw(st.booleans())
    plate_positions = ["PA", "PC", "PE", "PF", "PG"] if butt else ["PA", "PB", "PC", "PD", "PE", "PF", "PG"]
    pipe_positions = ["PA", "PC", "PH", "PJ", "H-L045", "J-L045"] if butt else ["PA", "PB", "PC", "PD", "PH", "PJ"]
    process = draw(st.sampled_from(["111", "135", "136", "141", "311"]))
    tested: dict[str, Value] = {
        "process": process,
        "product": "pipe" if pipe else "plate",
        "weld_type": "butt_cjp" if butt else "fillet",
        "filler_group": draw(st.sampled_from(["FM1", "FM2", "FM3", "FM4", "FM5", "FM6"])),
        "filler_type": draw(st.sampled_from(["S", "M", "B", "RR", "nm"])),
        "deposit_t" if butt else "parent_t": draw(SIZES),
        "position": draw(st.sampled_from(pipe_positions if pipe else plate_positions)),
    }
    if butt:
        tested["weld_detail"] = draw(st.sampled_from(["ss_nb", "ss_mb", "ss_gb", "ss_fb", "bs", "ci"]))
    else:
        tested["run_type"] = draw(st.sampled_from(["single_run", "multi_run"]))
    if pipe:
        tested["diameter"] = draw(SIZES)
    if process == "311":
        tested["torch_direction"] = draw(st.sampled_from(["leftward", "rightward"]))
    elif butt and draw(st.booleans()):
        tested |= {"process": ("141", "111"), "filler_type": ("S", "B"), "deposit_t": (draw(SIZES), draw(SIZES))}
    return tested


@given(tested=full_pieces())
def test_what_is_written_is_read_back(tested: dict[str, Value]) -> None:
    line = write(tested)
    found = parse(line)
    assert found.tested == tested
    assert write(found.tested) == line


@given(text=st.text(max_size=60))
def test_any_text_is_read_or_refused(text: str) -> None:
    for line in (text, f"ISO 9606-1 {text}", f"ISO 9606-1 135 P FW FM1 S {text}"):
        try:
            parse(line)
        except DesignationError as refused:
            assert str(refused)


def test_the_transfer_mode_is_not_written() -> None:
    assert write(FILLET | {"transfer_mode": "dip"}) == "ISO 9606-1 135 P FW FM1 S t10 PB ml"
