"""Procedures to AWS codes, and to codes that are not held, that others published: their ranges, or why none is given.

Facts and figures only, in our own form; each test names title and publisher.
"""

from decimal import Decimal as D

import pytest

from codes.aws_d1_1_2020.heat import conventional
from codes.check import best
from codes.editions import UnknownEdition, edition
from codes.values import Value
from tests.codes.aws_cases import ASKED, COMMON, KITS, TESTED, values

CODE = edition("AWS D1.1:2020")
STICK = COMMON | KITS["SMAW"] | {"unit_system": "si", "steels": "A572-50 / A572-50", "preheat": 50, "interpass": 230}


def plate(position: str, t: str) -> dict[str, Value]:
    """A test plate of the record behind the published procedure, whose record itself was not shown."""
    progression = "uphill" if position == "3G" else ""
    return values(STICK | TESTED | {"parent_t": t, "aws_position": position, "progression": progression})


@pytest.mark.parametrize(("position", "progression"), [("1G", ""), ("2G", ""), ("3G", "uphill"), ("4G", "")])
def test_a_stick_procedure_of_6_to_25_mm_in_four_positions(position: str, progression: str) -> None:
    """ "WPS (AWS D1.1, SMAW)", one page of 16 Aug 2025, scribd.com 907557754: E7018 on A36 and A572-50, 6 to 25 mm,
    1G to 4G on record PQR-SS-001, which the source does not show.

    Table 6.2: plates of 12.5 mm give 3 to 25 mm. Table 6.1: 2G gives flat as well, 3G and 4G themselves only.
    """
    sets = CODE.limit_sets([plate(one, "12.5") for one in ("2G", "3G", "4G")], {})
    joint = STICK | ASKED | {"aws_position": position, "progression": progression}
    for t, outcome in (("6", "covered"), ("25", "covered"), ("25.1", "outside")):
        verdict = best(values(joint | {"parent_t": t}), sets)
        assert verdict.outcome.value == outcome, (t, verdict.sentence)
    for steels in ("A36 / A36", "A36 / A572-50"):
        assert best(values(joint | {"parent_t": 6, "steels": steels}), sets).outcome.value == "covered", steels


@pytest.mark.parametrize(("t", "outcome"), [("12.4", "outside"), ("12.5", "covered"), ("25", "covered")])
def test_the_thinnest_plate_that_gives_25_mm(t: str, outcome: str) -> None:
    """Same form: 2 T reaches 25 mm from a plate of 12.5 mm on; the record may have been of that or a thicker plate."""
    sets = CODE.limit_sets([plate("2G", t)], {})
    asked = values(STICK | ASKED | {"aws_position": "2G", "parent_t": 25})
    assert best(asked, sets).outcome.value == outcome


@pytest.mark.parametrize(
    ("volts", "amperes", "speed", "least"), [("22", "90", "160", "0.7425"), ("28", "130", "120", "1.82")]
)
def test_heat_input_of_the_stated_amperes_volts_and_speeds(volts: str, amperes: str, speed: str, least: str) -> None:
    """Same form, 3.2 mm electrode: 90 A, 22 V at 160 mm/min to 130 A, 28 V at 120 mm/min. 60 V I / 1000 v (6.8.5)."""
    assert conventional(D(volts), D(amperes), D(speed)) == D(least)


@pytest.mark.parametrize("code", ["AWS D1.5M/D1.5:2015", "CSA Z662-11"])
def test_records_to_a_code_that_is_not_held_are_not_judged_by_another(code: str) -> None:
    """Welding Journal, March 2016, page 8 (heat input to AWS D1.5, 60 to 100 % of the tested one), and "Pipeline
    Welding Procedure Specification" of 2013, fdokumen.com (CSA Z662-11).

    Neither code is held, so neither range is reproduced: the register keeps such records and does not judge them.
    """
    with pytest.raises(UnknownEdition, match=r"does not hold|not judged"):
        edition(code)
