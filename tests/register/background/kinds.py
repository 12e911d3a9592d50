"""Kinds of work for the tests."""

from django.contrib.auth.models import User

from register.background.kinds import Refused, background
from register.background.progress import Progress
from register.roles import Capability


@background("Count", Capability.START_WORK)
def count(progress: Progress, to: int) -> None:
    """Count, and leave the number on file."""
    with progress.whole():
        for n in range(to):
            User.objects.create(username=f"counted {n}")
            progress(n + 1, to, "Counting")
        progress.outcome(f"Counted to {to}.", "/", "The start", {"to": to})


@background("Say nothing", Capability.VIEW)
def say_nothing(progress: Progress) -> None:
    """Ends without a word."""


@background("Refuse", Capability.VIEW)
def refuse(progress: Progress) -> None:
    """Refuses in the middle of a write."""
    with progress.whole():
        User.objects.create(username="half done")
        raise Refused("There is nothing to count.")


@background("Break", Capability.VIEW)
def break_down(progress: Progress) -> None:
    """A fault of our own in the middle of a write."""
    with progress.whole():
        User.objects.create(username="half done")
        raise ZeroDivisionError


@background("Set readings", Capability.SET_READINGS)
def coordinators_only(progress: Progress) -> None:
    """For coordinators."""
    raise AssertionError("must not be reached")
