"""Pages of procedures and records in the reader's units: limits rounded inwards, nothing shown wider than it is.

Inch 25.4 mm exactly, degree Fahrenheit by t/°F = 1.8 t/°C + 32, ksi from the pound-force (NIST SP 811, Appendix B.8).
"""

from decimal import Decimal as D
from typing import Any

import pytest
from django.urls import reverse

from codes.clauses import Clause, Mark
from codes.limits import Limit, When, Within
from codes.units import CONVERSIONS, System
from codes.values import Interval, Steel, SteelPair, Value
from register.own_units.words import sentence_in
from tests.wps.iso import iso_draft, iso_record
from tests.wps.test_record_paper import words
from tests.wps.test_us_codes import DAY
from tests.wps.us import AWS, us_draft, us_record
from wps.changes import run_text
from wps.judgement import judge
from wps.own_figures import headed, limit_in, measured_in, said, said_of_test, uncovered_said
from wps.own_judgement import judgement_in
from wps.preparation_words import preparation_said

US, SI = System.US, System.SI
S355 = Steel("1.2", D(355), "S355J2+N")


@pytest.mark.parametrize(
    ("name", "value", "si", "us"),
    [
        ("parent_t", Interval(D(6), D(24), "mm"), "6 to 24 mm", "0.237 to 0.944 in"),
        # Typed in inches it comes out as it was: no end moves.
        ("parent_t", Interval(D("6.35"), D("19.05"), "mm"), "6.35 to 19.05 mm", "0.25 to 0.75 in"),
        ("parent_t", (D(6), D(20)), "6 mm + 20 mm", "0.236 in + 0.787 in"),
        ("preheat", D(21), "21 °C", "70 °F"),  # 69.8: a minimum is never rounded down
        ("interpass", D(251), "251 °C", "483 °F"),  # 483.8: nor a maximum up
        ("interpass", D("204.444"), "204.444 °C", "400 °F"),
        ("position", ("PA", "PB"), "PA · 1G / 1F + PB · 2F", "PA · 1G / 1F + PB · 2F"),
        ("steels", SteelPair(S355, S355), "S355J2+N (group 1.2, 355 MPa)", "S355J2+N (group 1.2, 51.4 ksi)"),
        ("steels", SteelPair(S355, Steel("1.1")), "S355J2+N (group 1.2, 355 MPa) to group 1.1", None),
    ],
)
def test_what_a_procedure_says(name: str, value: Value, si: str, us: str | None) -> None:
    assert said(name, value, SI) == si
    assert said(name, value, US) == (us or si.replace("355 MPa", "51.4 ksi"))


def test_what_was_tested_is_no_limit() -> None:
    assert said_of_test("interpass", D(251), US) == "484 °F"
    assert measured_in("250 to 300", "mm/min", US) == "9.8 to 11.8"
    assert (measured_in("as found", "mm", US), measured_in("250", "mm/min", SI)) == ("as found", "250")
    assert (headed("speed, mm/min", US), headed("current, A", US), headed("run", US)) == (
        "speed, in/min", "current, A", "run",
    )  # fmt: skip


def test_a_gap_begins_where_the_range_beside_it_ends() -> None:
    """24 mm is 0.94488 in: the range ends at 0.944 in, and what lies above it begins there."""
    above = Interval(D(24), D(30), "mm", lo_open=True)
    assert uncovered_said("parent_t", above, US) == "above 0.944 to 1.181 in"
    assert uncovered_said("parent_t", Interval(D(2), D(3), "mm", hi_open=True), US) == "0.079 to below 0.119 in"
    assert uncovered_said("parent_t", Interval(D(24), D("24.001"), "mm", lo_open=True), US) == "0.945 in"
    assert uncovered_said("parent_t", above, SI) == "above 24 to 30 mm"


def test_a_limit_and_its_conditions() -> None:
    when = When("parent_t", Within(Interval(D(12), None, "mm", lo_open=True)))
    limit = Limit("deposit_t", Within(Interval(D(3), D(16), "mm")), Clause("X", "1", Mark.OWN), when=(when,))
    shown = limit_in(limit, US)
    assert (shown.words, str(shown.when[0])) == ("0.119 to 0.629 in", "parent thickness is above 0.473 in")
    assert limit_in(limit, SI) is limit


def test_a_run_in_one_line() -> None:
    run = {
        "order": 1, "layer": "root", "process": "135", "diameter_mm": "1.20000", "speed_min_mm_min": "250.000",
        "speed_max_mm_min": "300.000", "gas_flow_min_l_min": "15", "current_max_a": "240.0", "note": "",
    }  # fmt: skip
    assert run_text(run) == "root, 135 · GMAW, ⌀ 1.2 mm, max 240 A, 250–300 mm/min, gas min 15 l/min"
    assert run_text(run, US) == "root, 135 · GMAW, ⌀ 0.047 in, max 240 A, 9.9–11.8 in/min, gas min 32 ft³/h"


def test_a_preparation_in_words() -> None:
    stated = {"kind": "single_v", "angle_deg": "60", "gap_mm": "3", "stick_out_mm": "15 to 20", "sides": "2"}
    assert preparation_said(stated) == {
        "Preparation": "single V", "Welded from": "both sides", "Included angle": "60°", "Root gap": "3 mm",
        "Stick-out": "15 to 20 mm",
    }  # fmt: skip
    assert preparation_said(stated, US)["Root gap"] == "0.118 in"


def test_no_limit_is_shown_wider_than_it_is(coordinator: Any) -> None:
    """Every end of every limit of a judgement in US units lies inside the limit it was judged by."""
    judged = judge(us_draft(coordinator, AWS, [us_record(AWS)], parent_t={"min": "3", "max": "20"}), DAY)
    shown = judgement_in(judged, US)
    ends = 0
    for before, after in zip(judged.processes[0].variables, shown.processes[0].variables, strict=True):
        for kept, seen in zip(before.allows, after.allows, strict=True):
            if isinstance(kept.limit.allowed, Within) and (row := CONVERSIONS.get(kept.limit.allowed.interval.unit)):
                assert seen.finding.unit in (row.us, "")
                span, inner = kept.limit.allowed.interval, seen.limit.allowed.interval  # type: ignore[union-attr]
                assert span.lo is None or row.to_si(inner.lo) >= span.lo
                assert span.hi is None or row.to_si(inner.hi) <= span.hi
                ends += 1
    assert ends > 3
    assert "misses by 0.175 mm" in judged.gaps[0].text  # 3 of 3.175 mm
    assert "misses by 0.007 in" in shown.gaps[0].text  # 0.00689 in, rounded up
    assert judgement_in(judged, SI) is judged


def test_pages_follow_the_reader(coordinator: Any, client_of: Any) -> None:
    record = us_record(AWS)
    draft, client = us_draft(coordinator, AWS, [record]), client_of("coordinator")
    pages = (draft.get_absolute_url(), draft.procedure.get_absolute_url(), record.get_absolute_url())
    for address in pages:
        us, si = (client.get(f"{address}?units={one}").content.decode() for one in ("us", "si"))
        assert "0.125 to 1 in" in us
        assert "3.175 to 25.4 mm" not in us
        assert "3.175 to 25.4 mm" in si
    assert "0.25 to 0.75 in" in client.get(reverse("wps:procedure_list") + "?units=us").content.decode()
    sent = {"parent_t_min": "1/4 in", "parent_t_max": "3/4 in", "records": [record.pk], "run_count": "0"}
    live = reverse("wps:revision_live", args=[draft.pk]) + "?field=parent_t"
    answered = client.post(live, sent).content.decode()
    # First as the reader reads, behind it as the field is labelled.
    assert "0.125 to 1 in (3.175 to 25.4 mm)" in answered


def test_what_a_range_rests_on_follows_the_reader(client_of: Any) -> None:
    """A factor stays one, and every figure beside it has its unit: nothing is half turned over."""
    record = iso_record()
    pages = [reverse("wps:record", args=[record.pk])]
    for page in pages:
        said = {units: client_of("qa").get(page, {"units": units}).content.decode() for units in ("si", "us")}
        assert "tested t = 12 mm" in said["si"], page
        assert "tested t = 0.472 in" in said["us"], page
        assert "tested t = 12 mm" not in said["us"], page
    paper = words(client_of("qa").get(reverse("wps:record_sheet", args=[record.pk]), {"units": "us"}).content)
    assert "tested t = 0.472 in" in paper


def test_page_and_paper_of_a_record_say_what_lies_outside_a_limit_in_the_same_words(client_of: Any) -> None:
    record = iso_record()
    page = client_of("qa").get(reverse("wps:record", args=[record.pk])).content.decode()
    paper = words(client_of("qa").get(reverse("wps:record_sheet", args=[record.pk])).content)
    for shown in (page, paper):
        assert "outside it only with the value as heat input" in shown


@pytest.mark.parametrize(
    ("si", "us"),
    [
        ("tested t = 12 mm, fillet: 3 mm to 2 t", "tested t = 0.472 in, fillet: 0.119 in to 2 t"),
        ("tested 2.79 kJ/mm, impact requirement: 1.25 x 2.79 kJ/mm = 3.4875 kJ/mm at most",
         "tested 70.9 kJ/in, impact requirement: 1.25 x 70.9 kJ/in = 88.5 kJ/in at most"),
    ],
)  # fmt: skip
def test_derivations_in_us_units(si: str, us: str) -> None:
    assert sentence_in(si, US) == us
    assert sentence_in(si, SI) == si


def test_a_covered_strength_is_not_shown_above_its_limit(coordinator: Any) -> None:
    """355 MPa is 51.488 ksi: beside "up to 51.4 ksi" it reads so too."""
    shown = judgement_in(judge(iso_draft(coordinator, [iso_record()]), DAY), US)
    steels = next(view for one in shown.processes for view in one.variables if view.variable == "steels")
    assert "51.4 ksi" in steels.says and "51.5" not in steels.says
