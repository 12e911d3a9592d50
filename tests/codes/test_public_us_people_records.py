"""People's records under AWS D1.1 and ASME IX that others published, as facts: the range they state is reproduced.

A testing service's statement, a shop's table or an answer to a frequent question is test data, never a source of a
rule. Persons and firms are left out. Where a record does not name its coupon, the one that gives its range is said.
"""

from decimal import Decimal as D

import pytest

from codes.check import best
from codes.editions import edition
from codes.limits import Within
from codes.units import INCH_MM
from codes.values import Value
from codes.verdict import Outcome

SERVICE = ("1G / 4G plate qualification pages and FAQ", "weldcerttest.com, a mail-in welder testing service (May 2026)")
SHOP = ("Welder Qualification Manual, revision 5 (July 2012), Table 1", "scribd.com, document 311494040")
FAQ = ("What is the qualification range for pipe diameters in ASME IX?", "TWI Ltd (twi-global.com)")

PLATE: dict[str, Value] = {
    "unit_system": "us",
    "process": "111",
    "filler_designation": "E7018",
    "weld_type": "butt_cjp",
    "product": "plate",
    "weld_detail": "ss_mb",
    "progression": "uphill",
}
JOINT: dict[str, Value] = {
    "process": "111",
    "mechanisation": "manual",
    "f_number": "F4",
    "product": "plate",
    "weld_detail": "ss_mb",
    "progression": "uphill",
}
GROOVES, FILLETS = ("1G", "2G", "3G", "4G"), ("1F", "2F", "3F", "4F")
# Positions tested, thickness tested [in], groove and fillet positions stated, thickness stated [in].
STATED = {
    "P021": (("1G",), "1", ("1G",), ("1F", "2F"), ("0.125", None)),
    "P022": (("1G",), "0.375", ("1G",), ("1F", "2F"), ("0.125", "0.75")),
    # No thickness is stated, so none is asked: any coupon with a row serves.
    "P023": (("3G",), "0.375", ("1G", "2G", "3G"), ("1F", "2F", "3F"), None),
    "P024": (("3G", "4G"), "1", GROOVES, FILLETS, ("0.125", None)),
}


def inches(text: str) -> D:
    return D(text) * INCH_MM


def ask(tested: dict[str, Value], joint: dict[str, Value], kind: str = "welder") -> Outcome:
    return best(joint, edition(f"AWS D1.1:2020 {kind}").limit_sets([tested], {})).outcome


@pytest.mark.parametrize("record", STATED)
def test_the_positions_of_the_testing_service(record: str) -> None:
    positions, t, grooves, fillets, _ = STATED[record]
    tested = PLATE | {"aws_position": positions, "parent_t": inches(t)}
    for every, weld, stated in ((GROOVES, "butt_cjp", grooves), (FILLETS, "fillet", fillets)):
        joint = JOINT | {"weld_type": weld, "parent_t": inches("0.5")}
        found = [p for p in every if ask(tested, joint | {"aws_position": p}) is Outcome.COVERED]
        assert tuple(found) == stated, SERVICE


@pytest.mark.parametrize("record", [name for name, row in STATED.items() if row[4]])
def test_the_thickness_of_the_testing_service(record: str) -> None:
    positions, t, _, _, stated = STATED[record]
    assert stated is not None
    tested = PLATE | {"aws_position": positions, "parent_t": inches(t)}
    joint = JOINT | {"weld_type": "butt_cjp", "aws_position": "1G"}
    lo, hi = inches(stated[0]), inches(stated[1]) if stated[1] else None
    assert ask(tested, joint | {"parent_t": lo}) is Outcome.COVERED, SERVICE
    assert ask(tested, joint | {"parent_t": lo - D("0.01")}) is Outcome.OUTSIDE
    assert ask(tested, joint | {"parent_t": hi or inches("20")}) is Outcome.COVERED
    if hi is not None:
        assert ask(tested, joint | {"parent_t": hi + D("0.01")}) is Outcome.OUTSIDE


# P026 welder GMAW 2G, P027 operator SAW 1G; both state 1/8 in without upper limit and no coupon.
SHOP_TABLE = {"P026": ("welder", "135", "2G", ("1G", "2G")), "P027": ("operator", "121", "1G", ("1G",))}


@pytest.mark.parametrize("record", SHOP_TABLE)
def test_the_shop_table_asks_for_a_coupon_of_one_inch(record: str) -> None:
    kind, process, position, stated = SHOP_TABLE[record]
    mode: dict[str, Value] = {"mechanisation": "fully_mechanised" if kind == "operator" else "partly_mechanised"}
    own: dict[str, Value] = {"process": process, "transfer_mode": "spray", "wire_system": "single"}
    tested = PLATE | own | mode | {"aws_position": position}
    joint = JOINT | own | mode | {"weld_type": "butt_cjp"}
    for t, unlimited in (("1", True), ("0.999", False)):
        piece = tested | {"parent_t": inches(t)}
        found = [
            p
            for p in GROOVES
            if ask(piece, joint | {"aws_position": p, "parent_t": inches("0.125")}, kind).value == "covered"
        ]
        assert tuple(found) == stated, SHOP
        thick = joint | {"aws_position": position, "parent_t": inches("20")}
        assert (ask(piece, thick, kind) is Outcome.COVERED) is unlimited


@pytest.mark.parametrize(("tested", "least"), [("20", "20"), ("25", "25"), ("73", "25"), ("73.1", "73"), ("500", "73")])
def test_p028_the_three_diameter_cases_of_asme(tested: str, least: str) -> None:
    """Under 25 mm the size welded, 25 to 73 mm from 25 mm, over 73 mm from 73 mm; never an upper limit."""
    piece: dict[str, Value] = {
        "unit_system": "si",
        "process": "111",
        "weld_type": "butt_cjp",
        "product": "pipe",
        "aws_position": "6G",
        "diameter": D(tested),
    }
    [limits] = edition("ASME IX:2021 welder").limit_sets([piece], {})
    [allowed] = [limit.allowed for limit in limits.limits if limit.variable == "diameter"]
    assert isinstance(allowed, Within), FAQ
    assert (allowed.interval.lo, allowed.interval.hi) == (D(least), None)
