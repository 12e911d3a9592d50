"""The units that somebody reads in: the account's, the session's, those of one address."""

from collections.abc import Callable
from decimal import Decimal as D

import pytest
from django.contrib.auth.models import User
from django.template import Context, Template
from django.test import Client
from django.urls import reverse

from codes.units import System
from register.models import AuditEntry, OwnUnits

SignIn = Callable[[str], Client]


@pytest.mark.django_db
def test_an_account_keeps_its_units_and_a_session_may_differ(client_of: SignIn) -> None:
    client, page, calc = client_of("auditor"), reverse("own_units"), reverse("calc:family", args=["heat"])
    assert client.get(calc).context["system"] == "si"
    assert client.post(page, {"units": "us"}).status_code == 302
    assert client.get(calc).context["system"] == "us"
    assert AuditEntry.objects.get(act="chose the own units").after == {"units": "us"}
    again = Client()
    again.force_login(User.objects.get(username="auditor"))
    assert again.get(calc).context["system"] == "us"
    assert again.get(calc, {"units": "si"}).context["system"] == "si"
    assert again.get(calc).context["system"] == "si"  # the switch of a page holds for the session
    assert client.get(calc).context["system"] == "us"
    assert OwnUnits.objects.get().units == "us"


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
