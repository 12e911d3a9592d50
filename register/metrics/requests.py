"""Every request counted and timed by the name of its view: addresses hold keys, names do not.

Imported only where metrics are wanted: each process of the web then keeps its counts in files of METRICS_DIR.
"""

import time
from collections.abc import Callable
from functools import cache
from typing import Any

from django.conf import settings
from django.core.exceptions import MiddlewareNotUsed
from django.http import HttpRequest, HttpResponse

Answer = Callable[[HttpRequest], HttpResponse]
STEPS = (0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1.0, 2.5, 5.0, 10.0, 30.0)
"""Upper ends of the classes of waiting time [s]."""


@cache
def instruments() -> tuple[Any, Any]:
    """The counter and the histogram, made once in a process."""
    from prometheus_client import Counter, Histogram

    labels = ("view", "method")
    count = Counter("register_requests", "Requests answered", (*labels, "status"))
    return count, Histogram("register_request_seconds", "Time to answer [s]", labels, buckets=STEPS)


class Measure:
    """Count and time every request; not there at all where nobody may read the figures."""

    def __init__(self, get_response: Answer) -> None:
        if not (settings.METRICS_FROM or settings.METRICS_TOKEN):
            raise MiddlewareNotUsed
        self.get_response = get_response
        self.count, self.seconds = instruments()

    def __call__(self, request: HttpRequest) -> HttpResponse:
        began = time.perf_counter()
        response = self.get_response(request)
        view = name_of(request)
        # Any word may stand where the method does; only those that we answer are told apart.
        method = request.method if request.method in ("GET", "HEAD", "POST", "PUT", "PATCH", "DELETE") else "other"
        self.seconds.labels(view, method).observe(time.perf_counter() - began)
        self.count.labels(view, method, str(response.status_code)).inc()
        return response


def name_of(request: HttpRequest) -> str:
    """The name of the view that answered, or "none" where no address fitted."""
    found = request.resolver_match
    return (found.view_name if found is not None else "") or "none"
