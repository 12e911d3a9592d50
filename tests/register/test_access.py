"""Every address, asked as each role and as nobody. What is not granted is denied."""

import re
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any, NamedTuple

import pytest
from django.db import connection, transaction
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import URLPattern, URLResolver, get_resolver, reverse

from register.base import pdf
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


@contextmanager
def taken_back() -> Iterator[None]:
    """What is asked within leaves nothing to whoever asks next."""
    with transaction.atomic():
        yield
        transaction.set_rollback(True)


@pytest.fixture(scope="module", autouse=True)
def each_paper_once() -> Iterator[None]:
    """Roles get the same sheets: one that says the same to the letter is set once. Here only answers count."""
    plain, kept = pdf._written, {}

    def written(apart: str, files: pdf.OwnFiles, *rest: Any) -> tuple[bytes, int]:
        said = repr((apart, files.stylesheet, files.drawings, rest))
        if said not in kept:
            kept[said] = plain(apart, files, *rest)
        return kept[said]

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(pdf, "_written", written)
        yield


@pytest.mark.parametrize("address", GUARDED, ids=NAMES)
def test_reading(address: Address, people: dict[str, Any], client_of: Callable[[str], Client]) -> None:
    """GET: nobody is sent to sign in, whoever lacks the capability gets 403, whoever holds it an answer."""
    url = location(address)
    capability = stated(address, "required_capability")
    assert capability is not None
    # One's own is asked; somebody else's is not there.
    granted = {200, 302, 405} | ({404} if address.name in OWN_ONLY else set())
    wrong = []
    for name in EVERYBODY:
        with taken_back():
            response = client_of(name).get(url)
        to_sign_in = response.headers.get("Location", "").startswith("/accounts/login/")
        if name == "nobody":
            right = response.status_code == 302 and to_sign_in
        elif can(people[name], capability):
            right = response.status_code in granted and not to_sign_in
        else:
            right = response.status_code == 403
        if not right:
            wrong.append((name, response.status_code, response.headers.get("Location")))
    assert not wrong, (url, wrong)


@pytest.mark.parametrize("address", GUARDED, ids=NAMES)
def test_changing(address: Address, people: dict[str, Any], client_of: Callable[[str], Client]) -> None:
    """POST by whoever lacks the capability is refused. Whoever holds it is asked in the app's own tests."""
    url = location(address)
    needed = [found for kind in ("required", "post") if (found := stated(address, f"{kind}_capability"))]
    wrong = []
    for name in EVERYBODY:
        if name != "nobody" and all(can(people[name], capability) for capability in needed):
            continue
        with taken_back():
            response = client_of(name).post(url, {})
        to_sign_in = response.headers.get("Location", "").startswith("/accounts/login/")
        if response.status_code != (302 if name == "nobody" else 403) or (name == "nobody" and not to_sign_in):
            wrong.append((name, response.status_code, response.headers.get("Location")))
    assert not wrong, (url, wrong)


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


@pytest.mark.parametrize("address", GUARDED, ids=NAMES)
def test_an_auditor_writes_nothing(address: Address, client_of: Callable[[str], Client]) -> None:
    url = location(address)
    for method in ("get", "post"):
        with taken_back():
            client = client_of("auditor")
            with CaptureQueriesContext(connection) as queries:
                getattr(client, method)(url)
        written = [query["sql"] for query in queries if WRITES.match(query["sql"])]
        assert not [sql for sql in written if "django_session" not in sql], (method, written)
