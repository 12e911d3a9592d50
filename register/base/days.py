"""Dates as people write them in sentences; tables and forms keep year-month-day."""

import re
from datetime import date, datetime

from django.utils import timezone
from django.utils.formats import date_format

_ISO_DAY = re.compile(r"\b(\d{4}-\d{2}-\d{2})\b")


def in_words(on: date) -> str:
    """Example: 2026-11-25 is "25 Nov 2026"."""
    return f"{on.day} {on:%b %Y}"


def days_in_words(text: str) -> str:
    """A sentence with its dates written out; what only looks like a date stays as it is.

    Example: "no confirmation since 2026-04-17" gives "no confirmation since 17 Apr 2026"; "2026-02-30" stays.
    """
    return _ISO_DAY.sub(_said, text)


def at_the_works(at: datetime) -> str:
    """A moment in the works' own time, as lists have it. Example: "2026-11-29 03:51"."""
    return f"{timezone.localtime(at):%Y-%m-%d %H:%M}"


def day_told(text: str) -> str:
    """A day as `in_words` writes it, in the language of the screen. Example: in German "25. November 2026"."""
    on = datetime.strptime(text, "%d %b %Y").date()  # noqa: DTZ007  (a day has no zone)
    return date_format(on, "DATE_FORMAT")


def _said(found: re.Match[str]) -> str:
    try:
        return in_words(date.fromisoformat(found[1]))
    except ValueError:
        return found[0]
