"""What every page and every act pays before it does anything: the guard, the log of acts, a history row."""

from collections.abc import Iterator
from typing import Any

from bench.database import p50, p95, scratch_database, times_ms

NAME = "Common ground: one request, one act (ms)"


def main() -> list[dict[str, Any]]:
    with scratch_database():
        return list(rows())


def rows() -> Iterator[dict[str, Any]]:
    from django.contrib.auth.models import AnonymousUser, User
    from django.test import Client

    from register.audit import record_act
    from register.demo import make_sign_ins
    from register.roles import Capability, can

    marta = make_sign_ins()["marta"]
    client = Client(HTTP_HOST="localhost")
    acts = {
        "health page": lambda: client.get("/health/"),
        "ready page": lambda: client.get("/ready/"),
        "one act written": lambda: record_act(marta, "measured", marta),
        "capability of a fresh user": lambda: can(User.objects.get(pk=marta.pk), Capability.VIEW),
        "capability of nobody": lambda: can(AnonymousUser(), Capability.VIEW),
    }
    for name, act in acts.items():
        taken = times_ms(act, repeats=100)
        yield {"what": name, "p50": p50(taken), "p95": p95(taken)}
