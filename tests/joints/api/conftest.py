"""Tokens for the tests of the API, and a client that sends one."""

from collections.abc import Callable, Iterable, Iterator
from datetime import timedelta
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.test import Client
from django.utils import timezone

from register.api import rates
from register.systems import acts
from register.systems.scopes import Scope

Asking = Callable[..., Client]


def token_of(by: User, name: str, scopes: Iterable[str]) -> str:
    return acts.make(by, name, scopes, timezone.localdate() + timedelta(days=30))[1]


def sending(secret: str, **more: Any) -> Client:
    return Client(headers={"authorization": f"Bearer {secret}"} | more)


@pytest.fixture(autouse=True)
def fresh_counts() -> Iterator[None]:
    """No test is refused for what another asked."""
    rates.asked.clear()
    rates.refused.clear()
    yield


@pytest.fixture
def asking(coordinator: User) -> Asking:
    """A client with a token of these scopes, of all where none is named."""

    def make(*scopes: Scope, name: str = "Cell 3") -> Client:
        return sending(token_of(coordinator, name, scopes or tuple(Scope)))

    return make
