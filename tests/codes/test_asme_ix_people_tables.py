"""ASME IX people: every row of its tables, at both edges and one step outside, in both unit sets."""

import pytest

from codes.check import best
from codes.editions import edition
from codes.verdict import Outcome, Verdict
from tests.codes.test_asme_ix_people_cases import BASES
from tests.codes.us_people_cases import values

CODE = {kind: edition(f"ASME IX:2021 {kind}") for kind in BASES}


def ask(tested: str, demand: str, kind: str = "welder", settings: dict[str, str] | None = None) -> Verdict:
    pieces = [values(BASES[kind][0], part) for part in tested.split("&&")]
    return best(values(BASES[kind][1], demand), CODE[kind].limit_sets(pieces, settings or {}))


def covered(tested: str, demand: str, kind: str = "welder", settings: dict[str, str] | None = None) -> bool:
    return ask(tested, demand, kind, settings).outcome is Outcome.COVERED


# Tested -> letters covered: grooves on plate and large pipe, on small pipe, fillets (QW-461.9).
PLATE = {
    "1G": ("F", "F", "F"),
    "2G": ("F H", "F H", "F H"),
    "3G": ("F V", "F", "F H V"),
    "4G": ("F OH", "F", "F H OH"),
    "3G+4G": ("F V OH", "F", "F H V OH"),
    "2G+3G": ("F H V", "F H", "F H V"),
    "2G+3G+4G": ("F H V OH", "F H", "F H V OH"),
    "1F": ("", "", "F"),
    "2F": ("", "", "F H"),
    "3F": ("", "", "F H V"),
    "4F": ("", "", "F H OH"),
    "3F+4F": ("", "", "F H V OH"),
}
PIPE = {
    "1G": ("F", "F", "F"),
    "2G": ("F H", "F H", "F H"),
    "5G": ("F V OH", "F V OH", "F H V OH"),
    "6G": ("F H V OH",) * 3,
    "2G+5G": ("F H V OH",) * 3,
    "1F": ("", "", "F"),
    "2F": ("", "", "F H"),
    "4F": ("", "", "F H OH"),
    "5F": ("", "", "F H V OH"),
}
JOINTS = ("product=plate", "product=pipe; diameter=610.1", "product=pipe; diameter=610")


def piece_of(position: str, product: str) -> str:
    weld = "fillet; parent_t=8" if position.endswith("F") else "butt_cjp"
    size = "; diameter=100" if product == "pipe" else ""
    return f"aws_position={position}; weld_type={weld}; product={product}{size}"


@pytest.mark.parametrize("product", ["plate", "pipe"])
@pytest.mark.parametrize(("letter", "joint"), [("F", "1"), ("H", "2"), ("V", "3"), ("OH", "4")])
def test_every_cell_of_the_position_table(product: str, letter: str, joint: str) -> None:
    for position, (large, small, fillet) in (PLATE if product == "plate" else PIPE).items():
        tested = piece_of(position, product)
        for where, covers in zip(JOINTS, (large, large, small), strict=True):
            for named in (letter, f"{joint}G"):
                found = covered(tested, f"{where}; aws_position={named}")
                assert found is (letter in covers.split()), (position, where, named)
        for where in JOINTS:
            found = covered(tested, f"{where}; weld_type=fillet; aws_position={joint}F")
            assert found is (letter in fillet.split()), (position, where, "fillet")


def test_the_pipe_size_decides_the_column_in_each_unit_set() -> None:
    vertical = "product=pipe; aws_position=3G; diameter="
    for system, small, large in (("si", "610", "610.1"), ("us", "24in", "24.01in")):
        piece = f"unit_system={system}; aws_position=3G"
        assert ask(piece, vertical + small).reasons == ("position",)
        assert covered(piece, vertical + large)
        assert ask(piece, vertical).outcome is Outcome.NOT_STATED


@pytest.mark.parametrize(("system", "edge", "below"), [("si", "73", "72.9"), ("us", "2-7/8in", "2.874in")])
def test_plate_tests_serve_pipe_from_the_note_on(system: str, edge: str, below: str) -> None:
    piece = f"unit_system={system}; aws_position=1G"
    assert covered(piece, f"product=pipe; diameter={edge}")
    assert ask(piece, f"product=pipe; diameter={below}").reasons == ("diameter",)
    assert covered(piece, f"product=pipe; diameter={below}; weld_type=fillet")
    fillet = f"unit_system={system}; weld_type=fillet; parent_t=8; aws_position=1F"
    assert covered(fillet, f"product=pipe; diameter={edge}; weld_type=fillet")
    assert ask(fillet, f"product=pipe; diameter={below}; weld_type=fillet").reasons == ("diameter",)


@pytest.mark.parametrize(
    ("system", "tested", "least", "below"),
    [
        ("si", "24.9", "24.9", "24.8"),
        ("si", "25", "25", "24.9"),
        ("si", "73", "25", "24.9"),
        ("si", "73.1", "73", "72.9"),
        ("us", "0.99in", "0.99in", "0.98in"),
        ("us", "1in", "1in", "0.99in"),
        ("us", "2-7/8in", "1in", "0.99in"),
        ("us", "2.876in", "2-7/8in", "2.87in"),
        # 73 mm is below 2-7/8 in (73.025 mm): the sets are read apart.
        ("us", "73", "1in", "0.99in"),
    ],
)
@pytest.mark.parametrize("weld", ["butt_cjp", "fillet"])
def test_pipe_diameters(system: str, tested: str, least: str, below: str, weld: str) -> None:
    position = "5F" if weld == "fillet" else "6G"
    piece = f"unit_system={system}; product=pipe; weld_type={weld}; aws_position={position}; diameter={tested}"
    asked = f"product=pipe; weld_type={weld}; aws_position=V; diameter="
    assert covered(piece, asked + least)
    assert covered(piece, asked + "2000")
    assert ask(piece, asked + below).reasons == ("diameter",)
    assert covered(piece, f"weld_type={weld}; aws_position=V")


@pytest.mark.parametrize(
    ("system", "t", "layers", "mode", "most", "over"),
    [
        ("si", "13", "3", "spray", "500", ""),
        ("si", "13", "2", "spray", "26", "26.1"),
        ("si", "13", "", "spray", "26", "26.1"),
        ("si", "12.9", "9", "spray", "25.8", "25.9"),
        ("si", "12.9", "9", "dip", "14.19", "14.2"),
        ("si", "13", "3", "dip", "500", ""),
        ("si", "8", "2", "dip", "8.8", "8.81"),
        ("us", "1/2in", "3", "spray", "500", ""),
        ("us", "0.49in", "3", "spray", "0.98in", "0.981in"),
        # 12.8 mm is above 1/2 in and below 13 mm.
        ("us", "12.8", "3", "spray", "500", ""),
        ("si", "12.8", "3", "spray", "25.6", "25.7"),
    ],
)
def test_deposited_thickness(system: str, t: str, layers: str, mode: str, most: str, over: str) -> None:
    gmaw = f"process=135; f_number=F6; transfer_mode={mode}"
    piece = f"{gmaw}; unit_system={system}; deposit_t={t}; layers={layers}"
    assert covered(piece, f"{gmaw}; deposit_t=0.5")
    assert covered(piece, f"{gmaw}; deposit_t={most}")
    assert covered(piece, f"{gmaw}; weld_type=fillet; leg_z=60; deposit_t=")
    if over:
        found = ask(piece, f"{gmaw}; deposit_t={over}")
        assert (found.outcome, found.reasons) == (Outcome.OUTSIDE, ("deposit_thickness",))
        assert ask(piece, f"{gmaw}; deposit_t=").outcome is Outcome.NOT_STATED


@pytest.mark.parametrize(("system", "thick", "thin"), [("si", "5", "4.9"), ("us", "3/16in", "0.18in")])
def test_fillet_plates(system: str, thick: str, thin: str) -> None:
    base = f"unit_system={system}; weld_type=fillet; aws_position=2F; parent_t="
    asked = "weld_type=fillet; aws_position=2F; parent_t={}; leg_z={}"
    assert covered(base + thick, asked.format(100, 50))
    least = float(4.9 if system == "si" else 0.18 * 25.4)
    assert covered(base + thin, asked.format(round(least + 0.01, 2), 4))
    assert covered(base + thin, asked.format(round(2 * least - 0.01, 2), 4))
    assert ask(base + thin, asked.format(round(2 * least + 0.01, 2), 4)).reasons == ("base_thickness",)
    assert ask(base + thin, asked.format(round(least - 0.01, 2), 4)).reasons == ("base_thickness",)
    assert ask(base + thin, asked.format(6, 5)).reasons == ("fillet_size",)


@pytest.mark.parametrize(
    "name", ["unit_system", "process", "p_number", "f_number", "weld_type", "deposit_t", "weld_detail", "aws_position"]
)
def test_what_the_record_does_not_state_leaves_it_open(name: str) -> None:
    assert ask(f"{name}=", "").outcome is Outcome.NOT_STATED


@pytest.mark.parametrize(
    "name",
    ["process", "p_number", "f_number", "weld_type", "deposit_t", "weld_detail", "aws_position", "mechanisation"],
)
def test_what_the_joint_does_not_state_leaves_it_open(name: str) -> None:
    assert ask("", f"{name}=").outcome is Outcome.NOT_STATED


def test_a_process_that_is_not_judged_leaves_it_open() -> None:
    assert ask("process=311", "process=311").outcome is Outcome.NOT_STATED
