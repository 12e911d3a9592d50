"""A form that was sent after the sign-in had ended is shown again as it was sent: nothing is saved by it."""

from collections.abc import Callable
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from register.base.forms import version_of
from tests.wps.test_forms import DRAFT, KEY, RECORD
from wps.models import ProcedureRevision, TestRecord

pytestmark = pytest.mark.django_db
SignIn = Callable[[str], Client]
SAID = "You were signed out before this was saved."


def shown(response: Any) -> str:
    assert response.status_code == 422, response.content.decode()[:3000]
    page = " ".join(response.content.decode().split())
    assert SAID in page
    assert "data-put-back" in page
    return page


def test_a_test_record_with_all_its_pieces(client_of: SignIn) -> None:
    typed = RECORD | {"piece_count": "2", "piece1_parent_t": "19,4", "put_back": "1"}
    page = shown(client_of("coordinator").post(f"{reverse('wps:record_new')}?code={KEY}", typed))
    assert 'value="19,4"' in page
    assert 'value="WPQR 050"' in page
    assert not TestRecord.objects.exists()


def test_what_could_be_saved_is_not_saved_either(client_of: SignIn) -> None:
    address = f"{reverse('wps:record_new')}?code={KEY}"
    page = shown(client_of("coordinator").post(address, RECORD | {"put_back": "1"}))
    assert "Not saved" not in page
    assert not TestRecord.objects.exists()
    assert client_of("coordinator").post(address, RECORD).status_code == 302


def test_a_draft_of_a_procedure(draft: ProcedureRevision, client_of: SignIn) -> None:
    before = ProcedureRevision.objects.get(pk=draft.pk).window
    typed = DRAFT | {"seen_version": version_of(draft), "put_back": "1", "parent_t_max": "23,5"}
    page = shown(client_of("coordinator").post(reverse("wps:revision_edit", args=[draft.pk]), typed))
    assert 'value="23,5"' in page
    assert f'name="seen_version" value="{version_of(draft)}"' in page
    assert ProcedureRevision.objects.get(pk=draft.pk).window == before


@pytest.mark.parametrize("name", ["auditor", "supervisor"])
def test_whoever_may_not_save_may_not_ask_for_it(client_of: SignIn, name: str) -> None:
    assert client_of(name).post(f"{reverse('wps:record_new')}?code={KEY}", {"put_back": "1"}).status_code == 403


def test_a_form_that_is_asked_for_says_nothing_of_it(client_of: SignIn) -> None:
    assert SAID not in client_of("coordinator").get(f"{reverse('wps:record_new')}?code={KEY}").content.decode()
