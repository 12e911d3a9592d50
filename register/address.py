"""The address that a request comes from."""

from django.conf import settings
from django.http import HttpRequest


def client_address(request: HttpRequest) -> str:
    """The address of whoever asks, at most 45 characters; "" where none is known (a socket file).

    settings.PROXIES is the number of our own proxies: each writes the address it was called from at the end of
    X-Forwarded-For. What stands before that anybody can invent, so it is not read; with 0 nothing of it is.
    """
    seen = [part.strip() for part in request.META.get("HTTP_X_FORWARDED_FOR", "").split(",") if part.strip()]
    if settings.PROXIES and len(seen) >= settings.PROXIES:
        return str(seen[-settings.PROXIES])[:45]
    return str(request.META.get("REMOTE_ADDR", ""))[:45]
