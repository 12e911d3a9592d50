"""The date that is being asked about: `?on=2026-03-01` sets it, the session remembers it, `?on=today` lets it go."""

from dataclasses import dataclass
from datetime import date
from urllib.parse import urlencode

from django.core.exceptions import BadRequest
from django.http import HttpRequest
from django.utils import timezone
from django.utils.dateparse import parse_date
from django.utils.translation import gettext

PARAMETER = "on"
SESSION_KEY = "asked_date"
EARLIEST, LATEST = date(1950, 1, 1), date(2149, 12, 31)
"""Outside these years a date is a slip of the keyboard, not a question."""


class BadAskedDate(BadRequest):
    """The date asked about cannot be read; the page answers 400 with this text."""


@dataclass(frozen=True, slots=True)
class Asked:
    """The date asked about, for the header of every page."""

    date: date
    is_today: bool
    keep: tuple[tuple[str, str], ...]
    today_url: str

    @property
    def is_ahead(self) -> bool:
        """True for a day still to come: nothing stood on it yet."""
        return self.date > timezone.localdate()


def asked_date(request: HttpRequest) -> date:
    """The date that this request asks about: the query, else the session, else today.

    Raises BadAskedDate (answered 400) where `?on=` is no date between 1950 and 2149.
    Example: "?on=2024-02-29" is a date, "?on=2025-02-29" is refused.
    """
    known: date | None = getattr(request, "_asked_date", None)
    if known is None:
        known = _read(request)
        request._asked_date = known  # type: ignore[attr-defined]
    return known


def read_date(text: str) -> date:
    """A date written YYYY-MM-DD. Raises BadAskedDate that says what would be right."""
    try:
        found = parse_date(text.strip())
    except ValueError:
        found = None
    if found is None:
        raise BadAskedDate(
            gettext("“%(text)s” is not a date: write year-month-day, such as 2026-03-01.") % {"text": text[:40]}
        )
    if not EARLIEST <= found <= LATEST:
        raise BadAskedDate(
            gettext("The year %(year)s cannot be asked about: take one from 1950 to 2149.") % {"year": found.year}
        )
    return found


def asked(request: HttpRequest) -> Asked:
    """What the header shows. A date that cannot be read counts as today here, so that the refusal itself has a page."""
    today = timezone.localdate()
    try:
        day = asked_date(request)
    except BadAskedDate:
        day = today
    keep = tuple((k, v) for k, v in _query(request) if k not in (PARAMETER, "page"))
    return Asked(day, day == today, keep, "?" + urlencode([*keep, (PARAMETER, "today")]))


def _read(request: HttpRequest) -> date:
    session = getattr(request, "session", None)
    text = request.GET.get(PARAMETER)
    if text is not None:
        return _asked_anew(text, session)
    kept = session.get(SESSION_KEY) if session is not None else None
    return read_date(kept) if kept else timezone.localdate()


def _asked_anew(text: str, session: object) -> date:
    today = timezone.localdate()
    day = today if text in ("", "today") else read_date(text)
    if session is None:
        return day
    if day == today:
        session.pop(SESSION_KEY, None)  # type: ignore[attr-defined]
    else:
        session[SESSION_KEY] = day.isoformat()  # type: ignore[index]
    return day


def _query(request: HttpRequest) -> list[tuple[str, str]]:
    return [(key, value) for key, values in request.GET.lists() for value in values]
