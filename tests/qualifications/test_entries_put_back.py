"""A form that was sent after the sign-in had ended is shown again as it was sent: nothing is saved by it."""

from collections.abc import Callable
from datetime import date

import pytest
from django.test import Client
from django.urls import reverse

from qualifications.models import Certificate, WeldLogEntry
from tests.qualifications.make import person
from tests.wps.test_put_back import shown

pytestmark = pytest.mark.django_db
SignIn = Callable[[str], Client]


def test_a_certificate(client_of: SignIn) -> None:
    address = reverse("qualifications:certificate_new", args=[person().pk]) + "?code=ISO+9606-1:2012&pieces=2"
    typed = {"number": "W-7", "kind": "welder", "welded_on": date(2025, 1, 31), "put_back": "1", "pieces": "2"}
    page = shown(client_of("coordinator").post(address, typed))
    assert 'value="W-7"' in page
    assert not Certificate.objects.exists()


def test_an_entry_of_the_weld_log(client_of: SignIn) -> None:
    typed = {"person": person().pk, "on": "2025-02-01", "process": "135", "joint": "B12/3", "put_back": "1"}
    page = shown(client_of("coordinator").post(reverse("qualifications:weld_log_new"), typed))
    assert 'value="B12/3"' in page
    assert not WeldLogEntry.objects.exists()
