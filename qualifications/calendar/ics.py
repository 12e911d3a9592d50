"""What falls due as a calendar (iCalendar, RFC 5545): an entry of a whole day for each deadline, and nothing else."""

from collections.abc import Iterable
from datetime import UTC, date, datetime, timedelta
from hashlib import sha256

from django.utils.translation import gettext

from qualifications.due import DueItem
from register.judged_words import told

PRODUCT = "-//Welding register//What falls due//EN"
REFRESH = timedelta(hours=6)


def calendar_of(items: Iterable[DueItem], on: date) -> bytes:
    """The calendar of the items, a decision on the day it came up, in the language that is spoken; the bytes depend on
    these and the day alone.

    A deadline keeps its identity from day to day, so that a calendar program moves nothing and forgets what was done.
    """
    from icalendar import Calendar

    made = Calendar()
    made.add("prodid", PRODUCT)
    made.add("version", "2.0")
    made.add("method", "PUBLISH")
    made.add("x-wr-calname", gettext("Welding certificates: what falls due"))
    made.add("refresh-interval", REFRESH, parameters={"VALUE": "DURATION"})
    for item in items:
        made.add_component(_entry(item, on))
    return bytes(made.to_ical())


def _entry(item: DueItem, on: date) -> object:
    from icalendar import Event

    entry = Event()
    entry.add("uid", uid_of(item))
    entry.add("dtstamp", datetime(on.year, on.month, on.day, tzinfo=UTC))
    entry.add("summary", f"{item.person_name}: {told(item.act)} ({item.number})")
    entry.add("dtstart", item.by)
    entry.add("dtend", item.by + timedelta(days=1))
    entry.add("transp", "TRANSPARENT")
    where = {"code": item.code, "clause": item.clause}
    said = gettext("%(code)s, %(clause)s. The day itself still counts.")
    if item.is_decision:
        said = gettext("%(code)s, %(clause)s: %(because)s.")
        where["because"] = told(item.because)
    entry.add("description", said % where)
    return entry


def uid_of(item: DueItem) -> str:
    """What makes two entries the same deadline."""
    said = f"{item.certificate_id}|{item.act}|{item.by.isoformat()}"
    return f"{sha256(said.encode()).hexdigest()[:24]}@welding-register"
