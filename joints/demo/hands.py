"""Who wrote what of the demonstration: the name in the history of each row."""

from collections.abc import Iterator
from contextlib import contextmanager
from types import SimpleNamespace

from django.contrib.auth.models import User
from simple_history.models import HistoricalRecords


@contextmanager
def written_by(user: User) -> Iterator[None]:
    """Name the user in the history of every row written inside, as a request of theirs would."""
    context = HistoricalRecords.context
    context.request = SimpleNamespace(user=user)
    try:
        yield
    finally:
        del context.request
