"""Who asks: a token in the Authorization header, never a session. Each call names the one scope that it needs."""

import time
from typing import Any

from django.conf import settings
from django.contrib.auth.models import AnonymousUser
from django.http import HttpRequest
from django.utils import timezone
from ninja.security import HttpBearer

from register.address import client_address
from register.api import rates
from register.api.problems import Problem, no_token
from register.plants.reach import of_plant
from register.systems.acts import recognised
from register.systems.models import System
from register.systems.scopes import Scope


class Needs(HttpBearer):
    """Guard of a call: 401 without a token that counts, 403 without the scope, 429 where it asks too often."""

    openapi_bearerFormat = "token of the register"

    def __init__(self, scope: Scope) -> None:
        self.scope = scope
        super().__init__()

    def __call__(self, request: HttpRequest) -> Any:
        """Raises Problem. Whoever is signed in by a session in the same browser is nobody here."""
        request.user = AnonymousUser()
        if not str(request.headers.get("Authorization", "")).lower().startswith("bearer "):
            raise no_token()
        return super().__call__(request)

    def authenticate(self, request: HttpRequest, token: str) -> System:
        """The system that asks, kept as `request.auth`. Raises Problem."""
        system = system_of(request, token)
        if not system.holds(self.scope):
            raise Problem(403, f"The token lacks {self.scope.value}. The coordinator makes one that has it.")
        request.plant_reach = of_plant(system.token.plant_id)  # type: ignore[attr-defined]
        return system


def system_of(request: HttpRequest, token: str) -> System:
    """The system of a token, counted. Raises Problem 401 or 429."""
    now, address = time.monotonic(), client_address(request)
    system = recognised(token.strip(), timezone.now())
    if system is None:
        _wait(rates.refused.seconds_to_wait(address, settings.API_REFUSALS_PER_MINUTE, now))
        raise no_token()
    _wait(rates.asked.seconds_to_wait(str(system.token.pk), settings.API_PER_MINUTE, now))
    return system


def _wait(seconds: int) -> None:
    if seconds:
        detail = f"Ask again in {seconds} seconds."
        raise Problem(429, detail, headers={"Retry-After": str(seconds)})


def asked_by(request: HttpRequest) -> System:
    """The system that asks; only inside a call that is guarded."""
    found: System = request.auth  # type: ignore[attr-defined]
    return found
