"""AWS D1.1 people: positions and sizes, every row at both edges and one step outside, in both unit sets."""

import pytest

from codes.verdict import Outcome
from tests.codes.aws_people_asks import ask, covered

# Tested -> letters covered in grooves, in fillets (Table 6.10).
PLATE = {
    "1G": ("F", "F H"),
    "2G": ("F H", "F H"),
    "3G": ("F H V", "F H V"),
    "4G": ("F OH", "F H OH"),
    "3G+4G": ("F H V OH", "F H V OH"),
    "2G+4G": ("F H OH", "F H OH"),
    "1F": ("", "F"),
    "2F": ("", "F H"),
    "3F": ("", "F H V"),
    "4F": ("", "F H OH"),
    "3F+4F": ("", "F H V OH"),
}
# The same for tests on pipe (Table 10.12).
PIPE = {
    "1G": ("F", "F H"),
    "2G": ("F H", "F H"),
    "5G": ("F V OH", "F V OH"),
    "6G": ("F H V OH", "F H V OH"),
    "2G+5G": ("F H V OH", "F H V OH"),
    "6GR": ("F H V OH", "F H V OH"),
    "1F": ("", "F"),
    "2F": ("", "F H"),
    "4F": ("", "F H OH"),
    "5F": ("", "F H V OH"),
}
WELDS = {"F": ("1G", "1F"), "H": ("2G", "2F"), "V": ("3G", "3F"), "OH": ("4G", "4F")}


def piece_of(position: str, product: str) -> str:
    weld = "fillet" if position.endswith("F") else "butt_cjp"
    size = "; diameter=219.1; parent_t=12.7" if product == "pipe" else ""
    return f"aws_position={position}; weld_type={weld}; product={product}{size}"


@pytest.mark.parametrize("product", ["plate", "pipe"])
@pytest.mark.parametrize("letter", WELDS)
def test_every_cell_of_the_position_tables(product: str, letter: str) -> None:
    for position, cells in (PLATE if product == "plate" else PIPE).items():
        for weld, covers, joint in zip(("butt_cjp", "fillet"), cells, WELDS[letter], strict=True):
            tested = piece_of(position, product)
            for named in (letter, joint):
                asked = f"weld_type={weld}; aws_position={named}; parent_t=10"
                assert covered(tested, asked) is (letter in covers.split()), (position, weld, named)


@pytest.mark.parametrize(("position", "joint", "yes"), [
    ("3G+4G", "5G", True), ("3G", "5G", False), ("4G", "5G", False), ("3G+4G", "6G", True), ("2G", "6G", False),
])  # fmt: skip
def test_a_fixed_pipe_joint_needs_every_position_it_contains(position: str, joint: str, yes: bool) -> None:
    asked = f"product=pipe; diameter=610; aws_position={joint}"
    assert covered(piece_of(position, "plate"), asked) is yes


def test_a_position_without_a_row_leaves_it_open() -> None:
    for tested in ("aws_position=5G", "aws_position=3G; product=pipe; diameter=200", "aws_position=", "product="):
        assert ask(tested, "").outcome is Outcome.NOT_STATED


@pytest.mark.parametrize(
    ("system", "tested", "covers", "misses"),
    [
        ("us", "3/8in", ["1/8in", "3/4in"], ["0.124in", "0.751in"]),
        ("us", "0.376in", ["1/8in", "0.752in"], ["0.753in"]),
        ("us", "0.999in", ["1.998in"], ["1.999in"]),
        ("us", "1in", ["1/8in", "8in"], ["0.124in"]),
        ("si", "10", ["3", "20"], ["2.9", "20.1"]),
        ("si", "10.1", ["3", "20.2"], ["20.3"]),
        ("si", "24.9", ["49.8"], ["49.9"]),
        ("si", "25", ["3", "200"], ["2.9"]),
        # 25 mm is 0.98 in: unlimited in the SI set, 2 T in the US set.
        ("us", "25", ["50"], ["50.1"]),
    ],
)
def test_plate_thickness(system: str, tested: str, covers: list[str], misses: list[str]) -> None:
    piece = f"unit_system={system}; parent_t={tested}"
    assert all(covered(piece, f"parent_t={t}") for t in covers)
    for t in misses:
        found = ask(piece, f"parent_t={t}")
        assert (found.outcome, found.reasons) == (Outcome.OUTSIDE, ("thickness",)), t


@pytest.mark.parametrize("tested", ["9.9", "3"])
def test_a_thin_test_plate_has_no_row(tested: str) -> None:
    assert ask(f"unit_system=si; parent_t={tested}", "").outcome is Outcome.NOT_STATED
    assert covered(f"unit_system=si; parent_t={tested}", "weld_type=fillet; aws_position=3F")


@pytest.mark.parametrize("kept", ["unit_system", "parent_t", "weld_type", "process", "f_number", "weld_detail"])
def test_what_the_record_does_not_state_leaves_it_open(kept: str) -> None:
    assert ask(f"{kept}=", "").outcome is Outcome.NOT_STATED


@pytest.mark.parametrize(
    "kept",
    ["parent_t", "process", "f_number", "weld_detail", "aws_position", "weld_type", "progression", "mechanisation"],
)
def test_what_the_joint_does_not_state_leaves_it_open(kept: str) -> None:
    assert ask("", f"{kept}=").outcome is Outcome.NOT_STATED


@pytest.mark.parametrize(
    ("system", "od", "wall", "covers", "misses"),
    [
        ("us", "4in", "1/2in", ["3/4in 1/8in", "4in 3/4in"], ["0.74in 1/8in", "4.01in 1/2in", "2in 0.76in"]),
        ("us", "4.1in", "3/8in", ["4in 1/8in", "60in 3/4in"], ["3.99in 1/2in", "8in 0.76in"]),
        ("us", "4.1in", "0.376in", ["4in 3/16in", "60in 4in"], ["8in 0.18in"]),
        ("us", "12-3/4in", "1/2in", ["6-3/8in 3/16in"], ["6.37in 1/2in"]),
        ("si", "100", "12", ["20 3", "100 20"], ["19.9 3", "100.1 12", "50 20.1"]),
        ("si", "101", "10", ["100 3", "900 20"], ["99.9 10", "200 20.1"]),
        ("si", "101", "10.1", ["100 5", "900 90"], ["200 4.9"]),
        ("si", "300", "12", ["150 5"], ["149.9 12"]),
    ],
)
def test_tubes(system: str, od: str, wall: str, covers: list[str], misses: list[str]) -> None:
    piece = f"unit_system={system}; product=pipe; aws_position=6G; diameter={od}; parent_t={wall}"
    asked = "product=pipe; aws_position=6G; diameter={}; parent_t={}"
    assert all(covered(piece, asked.format(*one.split())) for one in covers)
    assert all(ask(piece, asked.format(*one.split())).outcome is Outcome.OUTSIDE for one in misses)


TYK = "product=pipe; aws_position=6GR; weld_detail=ss_nb; diameter={}; parent_t={}"
BRANCH = "weld_type=branch; product=pipe; aws_position=6G; weld_detail=ss_nb; groove_angle=30; diameter={}; parent_t={}"


@pytest.mark.parametrize(
    ("od", "wall", "covers", "misses"),
    [
        ("6in", "1/2in", ["4in 3/16in", "30in 4in"], ["3.99in 1/2in", "8in 0.18in"]),
        ("3in", "0.2in", ["3/4in 1/8in", "3.99in 2in"], ["0.74in 1/4in", "4in 1/4in", "2in 0.124in"]),
    ],
)
def test_t_y_k_by_6gr(od: str, wall: str, covers: list[str], misses: list[str]) -> None:
    piece = TYK.format(od, wall)
    assert all(covered(piece, BRANCH.format(*one.split())) for one in covers)
    assert all(ask(piece, BRANCH.format(*one.split())).outcome is Outcome.OUTSIDE for one in misses)


@pytest.mark.parametrize(("od", "wall"), [("5in", "1/2in"), ("6in", "0.49in"), ("3in", "0.19in")])
def test_6gr_pipes_between_the_rows_leave_it_open(od: str, wall: str) -> None:
    assert ask(TYK.format(od, wall), BRANCH.format("8in", "1/2in")).outcome is Outcome.NOT_STATED


def test_t_y_k_by_no_other_position_and_no_narrow_groove() -> None:
    six_g = TYK.format("8in", "1/2in").replace("6GR", "6G")
    assert ask(six_g, BRANCH.format("8in", "1/2in")).reasons == ("weld_type",)
    assert ask("aws_position=3G+4G", BRANCH.format("30in", "1/2in")).outcome is Outcome.OUTSIDE
    piece = TYK.format("8in", "1/2in")
    narrow = ask(piece, BRANCH.format("8in", "1/2in").replace("=30;", "=29.9;"))
    assert (narrow.outcome, narrow.reasons) == (Outcome.OUTSIDE, ("groove_angle",))
    assert ask(piece, BRANCH.format("8in", "1/2in").replace("groove_angle=30", "groove_angle=")).reasons == (
        "groove_angle",
    )


def test_box_t_y_k_needs_the_corner_test() -> None:
    asked = BRANCH.format("8in", "1/2in") + "; box_section=yes"
    piece = TYK.format("8in", "1/2in")
    assert ask(piece, asked).reasons == ("box_section",)
    assert covered(piece + "; corner_tested=yes", asked)


def test_box_tubes() -> None:
    box = "product=pipe; box_section=yes; aws_position=6G; parent_t=1/2in"
    asked = "product=pipe; aws_position=6G; parent_t=1/2in; "
    assert covered(box, asked + "box_section=yes; diameter=6in")
    assert covered(box, asked + "box_section=no; diameter=24in")
    assert ask(box, asked + "box_section=no; diameter=23.9in").reasons == ("diameter",)
    assert ask(box, asked + "box_section=yes; diameter=6in; parent_t=0.18in").reasons == ("thickness",)


@pytest.mark.parametrize("system", ["us", "si"])
def test_plate_tests_on_large_pipe(system: str) -> None:
    edge, below = ("24in", "23.99in") if system == "us" else ("600", "599.9")
    piece = f"unit_system={system}; aws_position=3G+4G"
    asked = "product=pipe; aws_position=5G; "
    assert covered(piece, f"{asked}diameter={edge}")
    assert ask(piece, f"{asked}diameter={below}").reasons == ("diameter",)
    open_root = ask(piece + "; weld_detail=ss_nb", f"{asked}diameter={edge}; weld_detail=ss_nb")
    assert (open_root.outcome, open_root.reasons) == (Outcome.OUTSIDE, ("backing",))
    assert covered(piece, f"{asked}diameter={edge}; weld_detail=bs; gouging=thermal")
    assert not covered(piece, f"{asked}diameter={edge}; weld_detail=bs; gouging=none")
    assert covered(piece, f"{asked}diameter={below}; box_section=yes")
    assert covered(piece, f"{asked}diameter={below}; weld_type=fillet")


def test_plug_welds_in_the_tested_positions_only() -> None:
    assert covered("", "weld_type=plug; aws_position=V")
    assert ask("", "weld_type=plug; aws_position=H").reasons == ("position",)
    assert ask("weld_type=plug; aws_position=1F", "aws_position=1G").reasons == ("weld_type",)
    assert ask("weld_type=fillet; aws_position=3F", "weld_type=plug; aws_position=V").reasons == ("weld_type",)
