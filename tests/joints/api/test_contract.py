"""The API against its own description: cases are made from it, fitting and unfitting, and every answer must fit it.

A few for each call in the everyday run; API_EXAMPLES=300 asks as many of each kind.
"""

import os
from collections.abc import Iterator
from typing import Any

import pytest
import schemathesis
from django.core.signals import request_finished, request_started
from django.core.wsgi import get_wsgi_application
from django.db import close_old_connections
from hypothesis import HealthCheck, given
from hypothesis import settings as examples
from schemathesis import GenerationMode
from schemathesis.checks import not_a_server_error
from schemathesis.specs.openapi.checks import (
    content_type_conformance,
    response_schema_conformance,
    status_code_conformance,
)

from joints.api.description import schema
from register.systems.scopes import Scope
from tests.joints.api.conftest import token_of
from tests.joints.api.test_access import KEYS
from tests.url_samples import samples

CHECKS = [not_a_server_error, status_code_conformance, content_type_conformance, response_schema_conformance]
DESCRIBED = schemathesis.openapi.from_dict(schema())
DESCRIBED.app = get_wsgi_application()
CALLS = [found.ok() for found in DESCRIBED.get_all_operations()]
MANY = int(os.environ.get("API_EXAMPLES", "0"))
BOUND = examples(
    max_examples=MANY or 6,
    derandomize=not MANY,
    deadline=None,
    database=None,
    suppress_health_check=list(HealthCheck),
)


@pytest.fixture(autouse=True)
def one_connection() -> Iterator[None]:
    """The server would close the connection that the test holds its transaction on."""
    signals = (request_started, request_finished)
    for signal in signals:
        signal.disconnect(close_old_connections)
    yield
    for signal in signals:
        signal.connect(close_old_connections)


@pytest.mark.parametrize("mode", [GenerationMode.POSITIVE, GenerationMode.NEGATIVE], ids=lambda mode: mode.value)
@pytest.mark.parametrize("call", CALLS, ids=lambda call: call.label)
def test_every_answer_fits_the_description(call: Any, mode: GenerationMode, coordinator: Any, settings: Any) -> None:
    settings.API_PER_MINUTE = 10**6
    sent = {"Authorization": f"Bearer {token_of(coordinator, 'Prober', list(Scope))}"}
    known = {}
    if "{key}" in call.path and mode is GenerationMode.POSITIVE:
        known = {"path_parameters": {"key": samples()[KEYS[call.path.split("/")[3]]]()["pk"]}}

    @given(case=call.as_strategy(mode, **known))
    @BOUND
    def ask(case: Any) -> None:
        case.call_and_validate(headers=sent, checks=CHECKS)

    ask()


def test_all_calls_are_asked() -> None:
    assert {call.label for call in CALLS} == {
        f"{method.upper()} {path}" for path, methods in schema()["paths"].items() for method in methods
    }
