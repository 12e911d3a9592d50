"""Procedure records of ASME IX that others published: the range they state is reproduced, or the difference is said.

Facts and figures only, in our own form; each test names title and publisher. The editions are not named there; the
rows used are the same in every edition held.
"""

from decimal import Decimal as D

import pytest

from codes.asme_ix_2021 import limit_sets
from codes.check import best
from codes.cover import uncovered
from codes.units import INCH_MM
from codes.values import Interval
from codes.verdict import Outcome
from tests.codes.asme_ix_cases import demands_of, made, outcome_of, record_of, sets_of

US = "unit_system=us; "


def ends(record: str, least: str, most: str, demand: str = "") -> None:
    """Both ends of a stated range are covered, a thousandth of an inch outside is not."""
    for figure, step, expect in (
        (least, "0", "covered"),
        (most, "0", "covered"),
        (least, "-0.001", "outside"),
        (most, "0.001", "outside"),
    ):
        t = D(figure) + D(step)
        row = made(US + record, f"{demand}; parent_t={t}in; deposit_t=0.05in; max_run_t=0.25in".lstrip("; "))
        assert outcome_of(row) == (expect, "" if expect == "covered" else "base_thickness"), (figure, step)


def test_an_eighth_inch_coupon() -> None:
    """ "Procedure Qualification Record (PQR)", glossary of 2018, industrialseparation.com: 1/8 in: 1/16 to 1/4 in."""
    ends("parent_t=0.125in", "0.0625", "0.25")


def test_one_procedure_on_two_records() -> None:
    """Same page: a WPS on coupons of 1/8 and 1/2 in runs from 1/16 to 1 in; neither coupon alone gives that."""
    sets = [limits for t in ("0.125", "0.5") for limits in sets_of(made(f"{US}parent_t={t}in"))]
    (joint,) = demands_of(made("", "deposit_t=0.05in"))
    whole = joint | {"parent_t": Interval(INCH_MM / 16, INCH_MM, "mm")}
    assert uncovered(whole, sets) == ()
    assert all(uncovered(whole, [one]) for one in sets)
    wider = joint | {"parent_t": Interval(INCH_MM / 16, INCH_MM + D("0.01"), "mm")}
    assert uncovered(wider, sets)


def test_an_inch_with_and_without_toughness() -> None:
    """ "QW-403.6 interpretation", thread 105676, eng-tips.com: SMAW, 1 in, CVN: 5/8 to 2 in, else 3/16 to 2 in."""
    record = "impact_tested=yes; parent_t=1in"
    ends(record, "0.625", "2", "impact_required=yes")
    ends(record, "0.1875", "2")
    half = made(US + record, "impact_required=yes; parent_t=0.5in")
    assert outcome_of(half) == ("outside", "base_thickness")


def test_an_inch_and_a_half() -> None:
    """Thread 336813 on QW-403.6 and IX-07-09, eng-tips.com: P-1, 1-1/2 in: 3/16 to 8 in, with toughness 5/8 to 8 in."""
    record = "impact_tested=yes; parent_t=1.5in; steels=P-1"
    ends(record, "0.1875", "8", "steels=P-1")
    ends(record + " Gr 1", "0.625", "8", "impact_required=yes")


def test_a_record_without_a_range_and_without_a_p_number() -> None:
    """ "ASME IX Q235C procedure qualification report PQR-1801", 360docs.net: GMAW, T = t = 40 mm, no range stated.

    Derived here: 5 to 200 mm of base metal and deposit. The steel to a Chinese standard has no P-number on the form:
    it is unassigned and covers itself. "Up" beside position 1G says nothing, and a procedure serves every position.
    """
    text = "parent_t=40; max_run_t=13; steels=GB/T 700 Q235C; preheat=95; interpass=280; position=PA"
    for t, expect in (("5", "covered"), ("200", "covered"), ("4.9", "outside"), ("200.1", "outside")):
        row = made(text, f"parent_t={t}; deposit_t={min(D(t), D(200))}; max_run_t=10", "GMAW")
        assert outcome_of(row)[0] == expect, t
    assert outcome_of(made(text, "steels=P-1", "GMAW")) == ("outside", "p_number")
    assert outcome_of(made(text, "steels=GB/T 700 Q235C; position=PF", "GMAW")) == ("covered", "")


@pytest.mark.parametrize(("e6010", "e7018"), [("0.125", "0.25"), ("0.0625", "0.3125")])
def test_a_form_whose_ranges_do_not_fit_one_coupon(e6010: str, e7018: str) -> None:
    """ "WPS PQR (filled QW-482 form, SMAW-001)", studylib.net: base 1/16 to 3/4 in, E6010 to 1/4 in, E7018 to 5/8 in.

    3/4 in of base metal is 2 T of a 3/8 in coupon, reproduced. Difference: deposits of 1/4 and 5/8 in are 2 x 7/16 in,
    more than that coupon holds, so at most one of the two stated deposits can come from it; the rule is not bent.
    """
    record = (
        f"{US}process=111; f_number=F3; filler_designation=E6010; place=root; parent_t=0.375in; deposit_t={e6010}in || "
        f"{US}process=111; place=fill; parent_t=0.375in; deposit_t={e7018}in"
    )
    sets = limit_sets(2017, record_of(made(record)), {})
    (root,) = demands_of(made("", "f_number=F3; filler_designation=E6010; parent_t=0.75in; deposit_t=0.25in"))
    (fill,) = demands_of(made("", "parent_t=0.75in; deposit_t=0.625in; max_run_t=0.25in"))
    outcomes = [best(demand, sets).outcome for demand in (root, fill)]
    assert outcomes.count(Outcome.OUTSIDE) >= 1 and outcomes.count(Outcome.COVERED) == 1
    for t, expect in (("0.0625", Outcome.COVERED), ("0.75", Outcome.COVERED), ("0.751", Outcome.OUTSIDE)):
        thick = fill | {"parent_t": D(t) * INCH_MM, "deposit_t": D("1")}
        assert best(thick, sets).outcome is expect
