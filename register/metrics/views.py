"""The page that Prometheus asks. There is none unless settings say who may ask."""

import ipaddress

from django.conf import settings
from django.contrib.auth.decorators import login_not_required
from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest, HttpResponse
from django.utils.crypto import constant_time_compare
from django.utils.translation import gettext
from django.views.decorators.http import require_safe

from register.address import client_address


@login_not_required
@require_safe
def metrics(request: HttpRequest) -> HttpResponse:
    """The figures as text. 404 where metrics are off, 403 for whoever may not read them."""
    if not (settings.METRICS_FROM or settings.METRICS_TOKEN):
        raise Http404(gettext("Metrics are off: METRICS_FROM or METRICS_TOKEN turns them on."))
    if not (has_token(request) or comes_from_near(request)):
        raise PermissionDenied(gettext("Neither this address nor this token may read the metrics."))
    from prometheus_client import CONTENT_TYPE_LATEST, CollectorRegistry, generate_latest, multiprocess

    from register.metrics.gauges import Standing

    registry = CollectorRegistry()
    multiprocess.MultiProcessCollector(registry, path=str(settings.METRICS_DIR))  # type: ignore[no-untyped-call]
    registry.register(Standing())  # type: ignore[arg-type]
    return HttpResponse(generate_latest(registry), content_type=CONTENT_TYPE_LATEST)


def has_token(request: HttpRequest) -> bool:
    """True if the request carries the token of METRICS_TOKEN."""
    scheme, _, token = request.headers.get("Authorization", "").partition(" ")
    return bool(settings.METRICS_TOKEN) and scheme == "Bearer" and constant_time_compare(token, settings.METRICS_TOKEN)


def comes_from_near(request: HttpRequest) -> bool:
    """True if METRICS_FROM names the address, or a network that holds it.

    Where a proxy stands between that PROXIES does not count, the address is the proxy's own and says nothing.
    """
    if "X-Forwarded-For" in request.headers and not settings.PROXIES:
        return False
    try:
        address = ipaddress.ip_address(client_address(request))
    except ValueError:
        return False
    return any(address in ipaddress.ip_network(text, strict=False) for text in settings.METRICS_FROM)
