"""The home page asks what falls due under the firm's own readings, as the page of what falls due does."""

from datetime import date
from typing import Any

import pytest

from codes.iso_9606_1_2012.switches import FILLET_PH_PC
from joints import home
from register.held.firm import firm_settings, set_reading

pytestmark = pytest.mark.django_db


def test_what_falls_due_at_home_is_read_as_the_firm_reads(people: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    by = people["coordinator"]
    other = next(option for option in FILLET_PH_PC.options if option != FILLET_PH_PC.default)
    set_reading(by, FILLET_PH_PC.key, other, "agreed with the examining body")
    asked: list[Any] = []
    monkeypatch.setattr(home, "certificate_offers", lambda settings=None: asked.append(settings) or ())
    assert home.dues(date(2026, 11, 25), by) == []
    assert asked == [firm_settings()] and asked[0][FILLET_PH_PC.key] == other
