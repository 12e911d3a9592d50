"""What a session knows of the second factor: whether a code was given, and who waits between password and code."""

import time
from dataclasses import asdict, dataclass

from django.http import HttpRequest

SIGNED_IN = "second_factor"
"""True in the session of whoever signed in with a code."""
WAITING = "waits_for_code"
PATIENCE_SECONDS = 300


@dataclass(frozen=True, slots=True)
class Waiting:
    """Who gave the right password, when, and where to go afterwards. `password`: the session hash of that password."""

    user: int
    backend: str
    password: str
    next: str
    at: float


def keep_waiting(request: HttpRequest, who: Waiting | None) -> None:
    """Remember who waits for the code, or nobody."""
    if who is None:
        request.session.pop(WAITING, None)
    else:
        request.session[WAITING] = asdict(who)


def waiting(request: HttpRequest) -> Waiting | None:
    """Who waits, for five minutes after the password."""
    found = request.session.get(WAITING)
    if not isinstance(found, dict) or time.time() - found["at"] > PATIENCE_SECONDS:
        return None
    return Waiting(**found)
