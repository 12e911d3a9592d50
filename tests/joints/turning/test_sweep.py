"""The quick positions against those of the calculations, and at the edges of the bands."""

import random
from decimal import Decimal as D

import pytest

from codes.calc.position import AWS_NUMBERS
from codes.calc.result import Refused
from codes.calc.turning import turned_position
from joints.turning.sweep import VERTICAL, degrees, sweep

X = (D(1), D(0), D(0))


def said(weld: str, axis: tuple[D, ...], face: tuple[D, ...], beam: tuple[D, ...], turn: int) -> tuple[str, str]:
    """ISO and AWS by the calculation; up and down are one here."""
    found = turned_position(weld, axis, beam, degrees(turn), face)
    iso = VERTICAL if found.value in ("PF", "PG", "PF or PG") else str(found.value)
    return iso, str(found.step("aws"))


def vector(chance: random.Random, parts: tuple[int, ...]) -> tuple[D, ...]:
    while True:
        found = tuple(D(chance.choice(parts)) for _ in range(3))
        if any(found):
            return found


@pytest.mark.parametrize("seed", range(60))
def test_every_turn_is_what_the_calculation_says(seed: int) -> None:
    """Directions of a shop (along, across, at 45 degrees) and odd ones; limits are met exactly by many of them."""
    chance = random.Random(seed)
    parts = (-1, 0, 1) if seed % 2 else (-7, -3, -1, 0, 2, 5)
    weld = chance.choice(("fillet", "butt"))
    axis, face, beam = (vector(chance, parts) for _ in range(3))
    turns = [chance.randrange(-720, 1080) for _ in range(6)] + [15 * 2 * k for k in range(-3, 20, 4)]
    try:
        answers = {turn: said(weld, axis, face, beam, turn) for turn in turns}
    except Refused:
        with pytest.raises(Refused):
            sweep("iso", weld, axis, face, beam, 0, 0)
        return
    for turn, (iso, aws) in answers.items():
        assert sweep("iso", weld, axis, face, beam, turn, turn) == (iso,), turn
        assert sweep("aws", weld, axis, face, beam, turn, turn) == (aws,), turn
        assert aws in AWS_NUMBERS


@pytest.mark.parametrize(
    ("turn", "iso", "aws"),
    [
        (0, "PB", "H"),  # face at 45 degrees
        (29, "PB", "H"),  # 30.5
        (30, "PA", "F"),  # exactly 30
        (90, "PA", "F"),
        (150, "PA", "F"),
        (151, "PB", "H"),
        (200, "PB", "H"),  # exactly 55
        (201, "PC", "O"),
        (-20, "PB", "H"),
        (-21, "PC", "O"),
        (290, "PC", "O"),  # exactly 100
        (291, "PD", "O"),
        (380, "PD", "O"),  # exactly 145
        (381, "PE", "O"),
    ],
)
def test_the_bands_of_a_fillet_along_the_beam(turn: int, iso: str, aws: str) -> None:
    face = (D(0), D(1), D(1))  # ψ -45
    assert sweep("iso", "fillet", X, face, X, turn, turn) == (iso,)
    assert sweep("aws", "fillet", X, face, X, turn, turn) == (aws,)


@pytest.mark.parametrize(("turn", "iso"), [(0, "PB"), (30, "PB"), (31, VERTICAL), (180, VERTICAL)])
def test_a_weld_across_the_beam_tilts_with_the_turn(turn: int, iso: str) -> None:
    assert sweep("iso", "fillet", (D(0), D(1), D(0)), (D(1), D(0), D(1)), X, turn, turn) == (iso,)


def test_a_face_along_the_axis_is_refused() -> None:
    with pytest.raises(Refused, match="nearly along the weld axis"):
        sweep("iso", "fillet", X, X, X, 0, 0)
