"""A made-up code among the known ones, and records and procedures made to it."""

from collections.abc import Callable, Iterator
from datetime import date
from typing import Any

import pytest
from django.contrib.auth.models import User

import codes.editions
from tests.wps.factory import approved, complete_draft, make_record
from tests.wps.trial import OTHER, TRIAL
from wps.models import ProcedureRevision, TestRecord


@pytest.fixture(autouse=True)
def trial_code(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """The trial code, and another one like it, are found like any other."""
    found = (*codes.editions.all_editions(), TRIAL, OTHER)
    monkeypatch.setattr(codes.editions, "all_editions", lambda: found)
    yield


@pytest.fixture
def record(db: None) -> TestRecord:
    """12 mm, 135, PA and PB: 6 to 24 mm."""
    return make_record()


@pytest.fixture
def draft(record: TestRecord, coordinator: User) -> ProcedureRevision:
    """A complete draft inside the record, written by the coordinator."""
    return complete_draft(coordinator, [record])


@pytest.fixture
def in_force(draft: ProcedureRevision, second_coordinator: User) -> ProcedureRevision:
    """The draft, checked and approved on 2 March 2026 by somebody else."""
    return approved(draft, second_coordinator, date(2026, 3, 2))


@pytest.fixture
def second_draft(coordinator: User) -> Callable[..., ProcedureRevision]:
    """A draft of another procedure, with changes."""

    def make(**changes: Any) -> ProcedureRevision:
        return complete_draft(coordinator, [], number="WPS 002", **changes)

    return make
