"""The units that somebody reads in: the account's, the session's, those of one address."""

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal as D

import pytest
from django.contrib.auth.models import User
from django.template import Context, Template
from django.test import Client
from django.urls import reverse

from codes.clauses import Clause, Mark
from codes.limits import OneOf, Within
from codes.units import System
from codes.values import Interval
from codes.verdict import Finding, Outcome
from register.models import AuditEntry, OwnUnits
from register.own_units.findings import finding_in
from register.own_units.words import sentence_in

SignIn = Callable[[str], Client]


@pytest.mark.django_db
def test_an_account_keeps_its_units_and_a_session_may_differ(client_of: SignIn) -> None:
    client, page, calc = client_of("auditor"), reverse("own_units"), reverse("calc:family", args=["heat"])
    assert client.get(calc).context["system"] == "si"
    assert client.post(page, {"units": "us"}).status_code == 302
    assert client.get(calc).context["system"] == "us"
    assert AuditEntry.objects.get(act="chose own units").after == {"units": "us"}
    again = Client()
    again.force_login(User.objects.get(username="auditor"))
    assert again.get(calc).context["system"] == "us"
    assert again.get(calc, {"units": "si"}).context["system"] == "si"
    assert again.get(calc).context["system"] == "si"  # the switch of a page holds for the session
    assert client.get(calc).context["system"] == "us"
    assert OwnUnits.objects.get().units == "us"


@pytest.mark.django_db
def test_units_that_an_account_has_already_are_no_act(client_of: SignIn) -> None:
    """Without a choice figures stand in SI: to choose SI then changes nothing."""
    client, page = client_of("auditor"), reverse("own_units")
    for units, acts in (("si", 0), ("us", 1), ("us", 1), ("si", 2)):
        assert client.post(page, {"units": units}).status_code == 302
        assert AuditEntry.objects.filter(act="chose own units").count() == acts


@pytest.mark.django_db
def test_units_that_there_are_not_are_refused(client_of: SignIn) -> None:
    client = client_of("auditor")
    assert client.post(reverse("own_units"), {"units": "cgs"}).status_code == 422
    assert client.get(reverse("calc:family", args=["heat"]), {"units": "cgs"}).status_code == 400
    assert not OwnUnits.objects.exists()


@pytest.mark.parametrize(
    ("value", "unit", "decimals", "si", "us"),
    [
        (D(25), "mm²", 1, "25.0 mm²", "0.039 in²"),  # 25 / 645.16
        (D("25.4"), "mm", 0, "25 mm", "1.0 in"),
        (D("0.45359237"), "kg", 3, "0.454 kg", "1.000 lb"),
        (D("28.316846592"), "l", 0, "28 l", "1.0 ft³"),
        (D("2.3"), "min", 1, "2.3 min", "2.3 min"),
        (None, "kg", 3, "not known kg", "not known lb"),
    ],
)
def test_figures_by_exact_factors(value: D | None, unit: str, decimals: int, si: str, us: str) -> None:
    """Inch 25.4 mm, pound 0.45359237 kg, cubic foot 28.316846592 l: exact by definition (ISO 80000, NIST SP 811)."""
    page = Template("{% load own_units %}{% figure value unit decimals %} {% unit unit %}")
    for system, wanted in ((System.SI, si), (System.US, us)):
        assert page.render(Context({"value": value, "unit": unit, "decimals": decimals, "system": system})) == wanted


def seen(value: str, low: str | None, high: str | None, margin: str, unit: str) -> Finding:
    """A finding in SI, turned over."""
    span = Interval(*(D(end) if end else None for end in (low, high)), unit)
    one = Finding(
        "parent_t", "Parent thickness", Outcome.COVERED, f"{value} {unit}", str(span), Clause("X", "1", Mark.OWN),
        margin=D(margin), unit=unit, limit=Within(span), value=D(value),
    )  # fmt: skip
    assert finding_in(one, System.SI) is one
    return finding_in(one, System.US)


@pytest.mark.parametrize(
    ("given", "wanted", "allowed", "margin"),
    [
        (("12", "3", "16", "4", "mm"), "0.472 in", "0.119 to 0.629 in", "0.157 in to spare"),
        # 16 mm is 0.62992 in: 0.63 in is 16.002 mm, which nobody has allowed. 3 mm is 0.11811 in.
        (("16", "3", "16", "0", "mm"), "0.629 in", "0.119 to 0.629 in", "at its limit"),
        (("3", "3", "16", "0", "mm"), "0.119 in", "0.119 to 0.629 in", "at its limit"),
        (("16.001", "3", "16", "-0.001", "mm"), "0.63 in", "0.119 to 0.629 in", "misses by 0.001 in"),
        (("2.999", "3", "16", "-0.001", "mm"), "0.118 in", "0.119 to 0.629 in", "misses by 0.001 in"),
        (("12.7", "3", "12.7", "0", "mm"), "0.5 in", "0.119 to 0.5 in", "at its limit"),
        (("12.701", "3", "12.7", "-0.001", "mm"), "0.501 in", "0.119 to 0.5 in", "misses by 0.001 in"),
        (("20", "20", None, "0", "°C"), "68 °F", "from 68 °F", "at its limit"),  # a difference of nothing is not 32 °F
        (("10", "20", None, "-10", "°C"), "50 °F", "from 68 °F", "misses by 18 °F"),
        (("200", "180", "220", "20", "A"), "200 A", "180 to 220 A", "20 A to spare"),
    ],
)
def test_a_finding_in_us_units(given: tuple[str, str, str, str, str], wanted: str, allowed: str, margin: str) -> None:
    """25.4 mm to the inch; °F = °C x 9/5 + 32, and of a difference x 9/5 alone (NIST SP 811, B.8). Ends inwards."""
    found = seen(*given)
    assert (found.wanted, found.allowed, found.margin_text) == (wanted, allowed, margin)


def test_a_window_a_value_that_is_not_stated_and_open_ends_in_us_units() -> None:
    """Each end on its own side: 16.001 mm lies outside and so does 0.63 in; 3 mm is 0.11811 in, inside from 0.119."""
    span = Interval(D(3), D(16), "mm", lo_open=True, hi_open=True)
    one = Finding(
        "parent_t",
        "Parent thickness",
        Outcome.NOT_STATED,
        "",
        str(span),
        Clause("X", "1", Mark.OWN),
        limit=Within(span),
    )
    silent = finding_in(one, System.US)
    assert (silent.wanted, silent.allowed, silent.margin, silent.value) == (
        "",
        "above 0.119 to below 0.629 in",
        None,
        None,
    )
    window = Interval(D(3), D("16.001"), "mm")
    shown = finding_in(replace(one, outcome=Outcome.OUTSIDE, wanted=str(window), value=window), System.US)
    assert shown.wanted == "0.119 to 0.63 in"


def test_the_name_of_a_welding_unit_stays_as_it_was_typed() -> None:
    """A track of 24 m is part of the name of the robot: ISO 14732:2013, 4.2 asks for the unit that was tested."""
    arm = "six-axis arm on a 24 m track"
    because = f"tested on {arm}: another unit is a new test"
    one = Finding(
        "unit", "Welding unit", Outcome.COVERED, arm, arm, Clause("X", "1", Mark.OWN), because, limit=OneOf((arm,)),
        value=arm,
    )  # fmt: skip
    shown = finding_in(one, System.US)
    assert (shown.wanted, shown.allowed, shown.because) == (arm, arm, because)


def test_a_finding_that_measures_nothing_stays() -> None:
    one = Finding(
        "process", "Process", Outcome.COVERED, "135", "135", Clause("X", "1", Mark.OWN), limit=OneOf(("135",))
    )
    assert finding_in(one, System.US) is one


@pytest.mark.parametrize(
    ("si", "us"),
    [
        ("19 mm + 60 mm, allowed 6 to 50 mm", "0.748 in + 2.362 in, allowed 0.237 to 1.968 in"),  # as in findings
        ("50 mm of up to 50 mm", "1.968 in of up to 1.968 in"),  # inside stays inside
        ("50.001 mm of up to 50 mm", "1.969 in of up to 1.968 in"),  # and outside stays outside
        ("12.7 mm, 12.701 mm", "0.5 in, 0.5 in"),
        ("from 100 °C, 20 °C is 80 °C less", "from 212 °F, 68 °F is 144 °F less"),  # a difference has no zero
        ("below 0.4 kJ/mm by 0.1 kJ/mm", "below 10.1 kJ/in by 2.6 kJ/in"),
    ],
)
def test_a_sentence_in_own_units(si: str, us: str) -> None:
    """Inch 25.4 mm, exact; °F by 9/5, a difference without the 32 (NIST SP 811)."""
    assert sentence_in(si, System.US) == us
    assert sentence_in(si, System.SI) == si
