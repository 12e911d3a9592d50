"""The places of the register, named by the questions of the trade. Whoever may not open a place does not see it."""

from dataclasses import dataclass

from django.http import HttpRequest
from django.urls import NoReverseMatch, reverse

from register.roles import Capability, User, can


@dataclass(frozen=True, slots=True)
class Entry:
    """A place: its label, the name of its address, and what one must be able to do to open it."""

    label: str
    url_name: str
    capability: Capability = Capability.VIEW


@dataclass(frozen=True, slots=True)
class Place:
    """An entry as the page shows it; `current` is "page" on the place itself, "true" below it, else empty."""

    label: str
    url: str
    current: str = ""


ENTRIES = (
    Entry("Today", "joints:home"),
    Entry("Jobs", "joints:job_list"),
    Entry("Ask", "joints:ask"),
    Entry("Procedures", "wps:procedure_list"),
    Entry("Test records", "wps:record_list"),
    Entry("People", "qualifications:person_list"),
    Entry("Due", "qualifications:due"),
    Entry("Weld log", "qualifications:weld_log"),
    Entry("Workstations", "joints:workstation_list"),
    Entry("Calculate", "calc:calculations"),
    Entry("Codes", "held:codes"),
)
"""In the order of a coordinator's day. An app that is not there yet leaves its entries out."""


def places(user: User, path: str) -> list[Place]:
    """The places that the user may open, the current one marked."""
    found = [(entry, url) for entry in ENTRIES if can(user, entry.capability) and (url := address(entry))]
    here = _current([url for _, url in found], path)
    return [Place(entry.label, url, _mark(url, here, path)) for entry, url in found]


def address(entry: Entry) -> str:
    """The address of an entry, or "" where the app has no page of that name."""
    try:
        return reverse(entry.url_name)
    except NoReverseMatch:
        return ""


def nav(request: HttpRequest) -> list[Place]:
    """The places for a request."""
    user = getattr(request, "user", None)
    return places(user, request.path) if user is not None else []


def _current(urls: list[str], path: str) -> str:
    """The longest address that the path starts with; the first page only counts for itself."""
    above = [url for url in urls if path == url or (url != "/" and path.startswith(url))]
    return max(above, key=len, default="")


def _mark(url: str, here: str, path: str) -> str:
    if url != here:
        return ""
    return "page" if url == path else "true"
