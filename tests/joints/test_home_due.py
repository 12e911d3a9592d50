"""The home page asks what falls due under the firm's own readings, as the page of what falls due does."""

from datetime import date, timedelta
from typing import Any

import pytest
from django.urls import reverse
from django.utils import timezone

from codes.dates import add_months
from codes.iso_9606_1_2012.switches import FILLET_PH_PC
from joints import home
from register.held.firm import firm_settings, set_reading
from tests.qualifications.make import certificate, person

pytestmark = pytest.mark.django_db


def test_what_falls_due_at_home_is_read_as_the_firm_reads(people: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    by = people["coordinator"]
    other = next(option for option in FILLET_PH_PC.options if option != FILLET_PH_PC.default)
    set_reading(by, FILLET_PH_PC.key, other, "agreed with the examining body")
    asked: list[Any] = []
    monkeypatch.setattr(home, "certificate_offers", lambda settings=None: asked.append(settings) or ())
    assert home.dues(date(2026, 11, 25), by) == []
    assert asked == [firm_settings()] and asked[0][FILLET_PH_PC.key] == other


def test_a_confirmation_leads_to_its_signature_for_whoever_may_sign_it(people: Any, client_of: Any) -> None:
    today = timezone.localdate()
    due = {"welded_on": add_months(today + timedelta(days=10), -6)}
    mine = certificate(person("Ada Krol", supervisor=people["supervisor"]), number="W-1", **due)
    other = certificate(person("Bo Lund"), number="W-2", **due)
    both = {reverse("qualifications:confirm", args=[one.pk]) for one in (mine, other)}
    seen = {}
    for name in ("coordinator", "qa", "supervisor", "auditor"):
        page = client_of(name).get("/").content.decode()
        assert page.count("confirmation") >= 2 and "in 10 days" in page, name
        seen[name] = {address for address in both if f'href="{address}"' in page}
    own = {reverse("qualifications:confirm", args=[mine.pk])}
    assert seen == {"coordinator": both, "qa": both, "supervisor": own, "auditor": set()}
    tomorrow = client_of("qa").get("/", {"on": (today + timedelta(days=1)).isoformat()}).content.decode()
    assert "in 9 days" in tomorrow and not any(f'href="{address}"' in tomorrow for address in both)


def test_a_lapse_says_at_home_why(people: Any, client_of: Any) -> None:
    today = timezone.localdate()
    certificate(person("Ada Krol"), welded_on=add_months(today - timedelta(days=20), -6))
    page = client_of("auditor").get("/").content.decode()
    assert "no longer valid: no confirmation between" in page and "1 certificate has lapsed" in page
