"""Several confirmations at once: chosen, reviewed with the evidence, signed; what stands ticked and folded in."""

from collections.abc import Callable
from datetime import timedelta
from typing import Any

import pytest
from django.test import Client
from django.utils import timezone

from tests.conftest import SIGNED
from tests.qualifications.make import logged, person
from tests.qualifications.test_pages import fresh, text, url

pytestmark = pytest.mark.django_db
SignIn = Callable[[str], Client]


def test_several_are_chosen_reviewed_and_signed(client_of: SignIn, supervisor: Any) -> None:
    holder = person(supervisor=supervisor)
    held = [fresh(holder, number=f"W-{n}") for n in range(3)]
    weld = logged(holder, timezone.localdate())
    browser = client_of("supervisor")
    assert "W-0" in text(browser.get(url("confirm_many")))
    keys: dict[str, Any] = {"certificate": [c.pk for c in held[:2]]}
    review = browser.post(url("confirm_many"), keys | {"step": "review"})
    assert "joint B12/3" in text(review)
    assert browser.post(url("confirm_many"), keys | {"step": "sign"}).status_code == 422
    signing = keys | SIGNED | {"step": "sign", "agree": "yes"}
    assert "No weld is ticked for W-0" in text(browser.post(url("confirm_many"), signing))
    signing |= {f"weld_{c.pk}": [weld.pk] for c in held[:2]}
    assert browser.post(url("confirm_many"), signing | {"signing_password": "guessed"}).status_code == 422
    assert browser.post(url("confirm_many"), signing).status_code == 302
    assert held[0].events.get().details == {"weld_log": str(weld.pk)}
    assert [c.events.count() for c in held] == [1, 1, 0]


def test_what_was_unticked_stays_so_where_nothing_was_signed(client_of: SignIn, supervisor: Any) -> None:
    holder, today = person(supervisor=supervisor), timezone.localdate()
    held = fresh(holder)
    kept, gone = logged(holder, today - timedelta(days=1)), logged(holder, today)
    sent = {
        "certificate": [held.pk],
        f"weld_{held.pk}": [kept.pk],
        "step": "sign",
        "by_role": "foreman",
        "agree": "yes",
    }
    browser = client_of("supervisor")
    first = browser.post(url("confirm_many"), sent | {"step": "review"}).content.decode()
    assert first.count(" checked>") == 3
    again = browser.post(url("confirm_many"), sent | {"signing_password": "guessed"}).content.decode()
    assert f'value="{kept.pk}" checked' in again and f'value="{gone.pk}" checked' not in again
    assert 'value="yes" checked' in again and 'value="foreman"' in again
    without = browser.post(url("confirm_many"), sent | SIGNED | {"agree": ""}).content.decode()
    assert 'id="agree" name="agree" value="yes" aria-invalid="true"' in without


def test_all_welds_that_speak_for_a_certificate_can_be_seen_and_ticked(client_of: SignIn, supervisor: Any) -> None:
    """Eight stand open, the rest is counted and folded in; what is ticked there is signed for, and stays ticked."""
    holder, today = person(supervisor=supervisor), timezone.localdate()
    held = fresh(holder)
    welds = [logged(holder, today - timedelta(days=n)) for n in range(9)]
    browser = client_of("supervisor")
    sent: dict[str, Any] = {"certificate": [held.pk], "step": "review"}
    assert "8 of 9 welds: show the other" in text(browser.post(url("confirm_many"), sent))
    welds += [logged(holder, today - timedelta(days=n)) for n in range(9, 23)]
    page = browser.post(url("confirm_many"), sent).content.decode()
    assert "8 of 23 welds: show the other 15" in " ".join(page.split())
    assert all(f'value="{weld.pk}"' in page for weld in welds)
    assert "<details open" not in page.split("8 of 23")[0].rpartition("weld_")[2]
    sign = sent | SIGNED | {"step": "sign", "agree": "yes", f"weld_{held.pk}": [welds[-1].pk]}
    again = browser.post(url("confirm_many"), sign | {"signing_password": "guessed"}).content.decode()
    assert f'value="{welds[-1].pk}" checked' in again
    assert "<details open" in again.split("8 of 23")[0].rpartition("weld_")[2]
    assert browser.post(url("confirm_many"), sign).status_code == 302
    assert held.events.get().details == {"weld_log": str(welds[-1].pk)}


def test_eight_welds_are_not_counted_apart(client_of: SignIn, supervisor: Any) -> None:
    holder = person(supervisor=supervisor)
    held = fresh(holder)
    for n in range(8):
        logged(holder, timezone.localdate() - timedelta(days=n))
    page = text(client_of("supervisor").post(url("confirm_many"), {"certificate": [held.pk], "step": "review"}))
    assert "of 8 welds" not in page


def test_several_at_once_keep_to_own_people_and_to_evidence(client_of: SignIn, supervisor: Any) -> None:
    own, other = fresh(person(supervisor=supervisor)), fresh(person("Bo Lang"), number="W-2")
    browser = client_of("supervisor")
    sign = {"step": "sign", "agree": "yes"}
    assert browser.post(url("confirm_many"), sign | {"certificate": [own.pk, other.pk]}).status_code == 403
    response = browser.post(url("confirm_many"), sign | {"certificate": [own.pk]})
    assert response.status_code == 422
    assert "No weld inside its range" in text(response)
    assert browser.post(url("confirm_many"), sign).status_code == 422
    assert not own.events.exists()
