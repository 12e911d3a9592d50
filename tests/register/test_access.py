"""Every address, asked as each role and as nobody. What is not granted is denied."""

import re
from collections.abc import Callable, Iterator
from typing import Any, NamedTuple

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import URLPattern, URLResolver, get_resolver, reverse

from register.roles import Capability, can
from tests.conftest import PEOPLE
from tests.url_samples import harmless_posts, samples

EVERYBODY = (*PEOPLE, "nobody")
# The only addresses that may be asked without signing in.
PUBLIC = {
    "login",
    "second:code",
    "health",
    "ready",
    "metrics",
    "wps:sheet_status",
    "qualifications:calendar_feed",
    "api_openapi",
    "api_nothing",
}

OWN_ONLY = {"qualifications:calendar_revoke"}
"""Addresses of things that their owner alone opens; the sample is the supervisor's."""


class Address(NamedTuple):
    """One address of the register: its full name, its view, and the arguments in it."""

    name: str
    view: Any
    arguments: tuple[str, ...]


def addresses(resolver: URLResolver | None = None, space: str = "", above: tuple[str, ...] = ()) -> Iterator[Address]:
    """All addresses below a resolver, with the arguments of every level above them."""
    for entry in (resolver or get_resolver()).url_patterns:
        held = (*above, *entry.pattern.regex.groupindex)
        if isinstance(entry, URLPattern):
            yield Address(f"{space}{entry.name or ''}", entry.callback, held)
        else:
            yield from addresses(entry, f"{space}{entry.namespace}:" if entry.namespace else space, held)


# The calls of the API are asked in tests/joints/api/test_access.py, by tokens in place of roles.
ALL = [address for address in addresses() if not address.name.startswith("api:")]
GUARDED = [address for address in ALL if address.name not in PUBLIC]
NAMES = [address.name for address in GUARDED]


def stated(address: Address, attribute: str) -> Capability | None:
    """A capability that the view states, on the function itself or on its class."""
    view = getattr(address.view, "view_class", None)
    own = getattr(address.view, attribute, None)
    found: Capability | None = own if own is not None else getattr(view, attribute, None)
    return found


def location(address: Address) -> str:
    return reverse(address.name, kwargs=samples()[address.name]() if address.arguments else None)


def test_every_address_has_a_name_of_its_own() -> None:
    names = [address.name for address in ALL]
    assert all(not name.endswith(":") and name for name in names), names
    assert sorted(names) == sorted(set(names))


def test_every_view_states_a_capability() -> None:
    silent = [address.name for address in GUARDED if stated(address, "required_capability") is None]
    assert not silent, f"these views state no required_capability: {silent}"


def test_only_the_named_few_are_public() -> None:
    open_to_all = {address.name for address in ALL if not getattr(address.view, "login_required", True)}
    assert open_to_all == PUBLIC


def test_every_address_with_arguments_has_a_sample() -> None:
    with_arguments = {address.name for address in ALL if address.arguments}
    missing = with_arguments - samples().keys()
    assert not missing, f"add these to tests/<app>/url_samples.py: {sorted(missing)}"
    needless = samples().keys() - with_arguments
    assert not needless, f"samples for addresses that do not exist or take no arguments: {sorted(needless)}"


@pytest.mark.parametrize("name", EVERYBODY)
@pytest.mark.parametrize("address", GUARDED, ids=NAMES)
def test_reading(address: Address, name: str, people: dict[str, Any], client_of: Callable[[str], Client]) -> None:
    """GET: nobody is sent to sign in, whoever lacks the capability gets 403, whoever holds it an answer."""
    url = location(address)
    response = client_of(name).get(url)
    capability = stated(address, "required_capability")
    assert capability is not None
    if name == "nobody":
        assert response.status_code == 302
        assert response.headers["Location"].startswith("/accounts/login/")
    elif can(people[name], capability):
        # One's own is asked; somebody else's is not there.
        not_there = {404} if address.name in OWN_ONLY else set()
        assert response.status_code in {200, 302, 405} | not_there, (url, response.status_code)
        assert not response.headers.get("Location", "").startswith("/accounts/login/")
    else:
        assert response.status_code == 403, (url, response.status_code)


@pytest.mark.parametrize("name", EVERYBODY)
@pytest.mark.parametrize("address", GUARDED, ids=NAMES)
def test_changing(address: Address, name: str, people: dict[str, Any], client_of: Callable[[str], Client]) -> None:
    """POST by whoever lacks the capability is refused. Whoever holds it is asked in the app's own tests."""
    needed = [stated(address, "required_capability"), stated(address, "post_capability")]
    if name != "nobody" and all(can(people[name], capability) for capability in needed if capability):
        pytest.skip("may change it")
    response = client_of(name).post(location(address), {})
    assert response.status_code == (302 if name == "nobody" else 403)
    if name == "nobody":
        assert response.headers["Location"].startswith("/accounts/login/")


READING_ONLY = {Capability.OWN_ACCOUNT, Capability.VIEW, Capability.READ_TRAIL, Capability.WATCH_WORK}


@pytest.mark.parametrize("address", GUARDED, ids=NAMES)
def test_a_class_view_that_takes_post_asks_for_more_than_reading(address: Address) -> None:
    """Otherwise an auditor could change something."""
    view = getattr(address.view, "view_class", None)
    takes_post = hasattr(view, "post") and "post" in getattr(view, "http_method_names", ())
    if not takes_post or address.name in harmless_posts():
        pytest.skip("takes no POST, or one that saves nothing")
    needed = {stated(address, "required_capability"), stated(address, "post_capability")} - {None}
    assert needed - READING_ONLY, f"{address.name}: state post_capability, or say why it is harmless"


WRITES = re.compile(r"\s*(INSERT|UPDATE|DELETE|REPLACE)\b", re.IGNORECASE)


@pytest.mark.parametrize("method", ["get", "post"])
@pytest.mark.parametrize("address", GUARDED, ids=NAMES)
def test_an_auditor_writes_nothing(address: Address, method: str, client_of: Callable[[str], Client]) -> None:
    url, client = location(address), client_of("auditor")
    with CaptureQueriesContext(connection) as queries:
        getattr(client, method)(url)
    written = [query["sql"] for query in queries if WRITES.match(query["sql"])]
    assert not [sql for sql in written if "django_session" not in sql], written
