"""What a page does after it has started a piece of work."""

from django.contrib import messages
from django.http import HttpRequest

from register.background.models import State, Work


def address_after(work: Work, request: HttpRequest) -> str:
    """Where to go: to the result of what was done at once, otherwise to the page of the work.

    Raises ValueError with the reason where it was done at once and refused.
    """
    if work.state == State.FAILED:
        raise ValueError(work.message)
    if work.state != State.DONE:
        return work.get_absolute_url()
    messages.success(request, work.message)
    return work.result_url or work.get_absolute_url()
