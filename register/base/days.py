"""Moments as people read them. A day is year-month-day everywhere: on screens, on papers and in sentences."""

from datetime import datetime

from django.utils import timezone


def at_the_works(at: datetime) -> str:
    """A moment in the works' own time, as lists have it. Example: "2026-11-29 03:51"."""
    return f"{timezone.localtime(at):%Y-%m-%d %H:%M}"
