"""Procedure records of ISO 15614-1 that others published: the range they state is reproduced, or the difference said.

Facts and figures only, in our own form; each test names title and publisher.
"""

import pytest

from codes.check import check
from codes.iso_15614_1_2017 import limit_sets
from codes.iso_15614_1_2017.position import DOWN, NOT_DOWN
from codes.steels import steel_of
from codes.values import SteelPair
from codes.verdict import Outcome
from tests.codes.procedure_cases import demand_of, record_of, verdict_of


def row(record: str, demand: str, base: str = "butt 135") -> dict[str, str]:
    return {"base": base, "record": record, "demand": demand, "settings": ""}


def test_root_deposit_of_a_two_process_test() -> None:
    """ "ISO 15614-1 WPS essential variables", bck.vn: 141 with 3 mm and 111 with 10 mm in pipe; 141 up to 6 mm.

    The page names neither level nor the figure for 111, and no diameter; t = 13 mm is the sum of the deposits.
    """
    pipe = "product=pipe; diameter=168.3; parent_t=13"
    record = f"process=141; place=root; deposit_t=3; {pipe} || process=111; place=fill; deposit_t=10; {pipe}"
    for level in (1, 2):
        whole = record.replace("parent_t=13", f"parent_t=13; level={level}")
        assert verdict_of(row(whole, "deposit_t=6", "butt 141")).outcome is Outcome.COVERED
        assert verdict_of(row(whole, "deposit_t=6.1", "butt 141")).reasons == ("deposited_thickness",)


def test_steels_of_a_test_in_s355() -> None:
    """Summary page of ranges to EN ISO 15614-1:2017, soudeurs.com: S355J2+N gives groups 1-1 up to 355 MPa."""
    steel = steel_of("S355J2+N")
    piece = record_of(row("", ""))[0] | {"steels": SteelPair(steel, steel)}
    (limits,) = limit_sets([piece], {})
    for demand, outcome in (
        ("steels=1.1 235", "covered"),
        ("steels=1.2 355", "covered"),
        ("steels=1.4 355", "covered"),
        ("steels=1.2 355.1", "outside"),
        ("steels=2.1 355", "outside"),
    ):
        assert check(demand_of(row("", demand)), limits).outcome.value == outcome, demand


def test_steels_of_a_test_in_s355_with_stainless() -> None:
    """Same page: S355K2+N with 1.4404 states groups 1-1 up to 355 MPa on its first line; the second is cut off.

    Difference: 8.3.1, Table 5 gives the tested pair 8-1 itself only, so 1-1 is not covered here. What we can see of
    the page may name the groups of one side; without the rest the rule is not bent to it.
    """
    record = "steels=1.2 355/8.1 220"
    assert verdict_of(row(record, "")).outcome is Outcome.COVERED
    assert verdict_of(row(record, "steels=1.2 355")).reasons == ("material_group",)


@pytest.mark.parametrize(
    ("tested", "first", "second"),
    [
        ((1, 1), (1,), (1,)),
        ((2, 2), (2, 1), (2, 1)),
        ((2, 1), (2, 1), (1,)),
        ((3, 3), (3, 2, 1), (3, 2, 1)),
        ((3, 2), (3, 2, 1), (2, 1)),
        ((3, 1), (3, 2, 1), (1,)),
    ],
)
def test_pairs_of_steel_groups(tested: tuple[int, int], first: tuple[int, ...], second: tuple[int, ...]) -> None:
    """ "Range of qualification for steels, groups ISO/TR 15608", ped-online.com, pressure-equipment FAQ.

    Same filler and heat treatment assumed there. Its rows for group 5 look damaged and are not used.
    """
    record = f"steels={tested[0]}.1 300/{tested[1]}.1 300"
    stated = {frozenset((one, other)) for one in first for other in second}
    for one in range(1, 5):
        for other in range(1, 5):
            covered = verdict_of(row(record, f"steels={one}.1 300/{other}.1 300")).outcome is Outcome.COVERED
            assert covered is (frozenset((one, other)) in stated), (one, other)


@pytest.mark.parametrize("position", NOT_DOWN)
def test_vertical_down_needs_its_own_test(position: str) -> None:
    """ "WPQR, pozycje spawania", paulinagrabowska.pl: PG, PJ and J-L045 always have their own test (8.4.2)."""
    tested = row(f"position={position}", "")
    for down in DOWN:
        assert verdict_of(tested | {"demand": f"position={down}"}).reasons == ("position",)
        own = row(f"position={down}", f"position={down}")
        assert verdict_of(own).outcome is Outcome.COVERED
