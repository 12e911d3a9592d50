"""The places of the register, named by the questions of the trade. Whoever may not open a place does not see it."""

from dataclasses import dataclass, replace

from django.http import HttpRequest
from django.urls import NoReverseMatch, reverse
from django.utils.translation import gettext_lazy as _

from register.roles import Capability, User, can


@dataclass(frozen=True, slots=True)
class Entry:
    """A place: its label, the name of its address, and what one must be able to do to open it.

    `head`: the label of the place of the first row under which it stands in the second; "" stands in the first.
    """

    label: str
    url_name: str
    capability: Capability = Capability.VIEW
    head: str = ""


@dataclass(frozen=True, slots=True)
class Place:
    """An entry as the page shows it; `current` is "page" on the place itself, "true" below it, else empty."""

    label: str
    url: str
    current: str = ""
    head: str = ""


@dataclass(frozen=True, slots=True)
class Rows:
    """The places in two rows: the questions, and what else answers the question that one is at. All in `every`."""

    first: tuple[Place, ...] = ()
    second: tuple[Place, ...] = ()
    every: tuple[Place, ...] = ()

    def __bool__(self) -> bool:
        return bool(self.every)


ENTRIES = (
    Entry(_("Today"), "joints:home"),
    Entry(_("Background work"), "background:list", head=_("Today")),
    Entry(_("Jobs"), "joints:job_list"),
    Entry(_("Joints"), "joints:joint_list", head=_("Jobs")),
    Entry(_("Workstations"), "joints:workstation_list", head=_("Jobs")),
    Entry(_("Ask"), "joints:ask"),
    Entry(_("Procedures"), "wps:procedure_list"),
    Entry(_("Test records"), "wps:record_list", head=_("Procedures")),
    Entry(_("Material certificates"), "wps:material_list", head=_("Procedures")),
    Entry(_("Calculate"), "calc:calculations", head=_("Procedures")),
    Entry(_("People"), "qualifications:person_list"),
    Entry(_("Weld log"), "qualifications:weld_log", head=_("People")),
    Entry(_("Due"), "qualifications:due"),
    Entry(_("Calendar"), "qualifications:calendar", Capability.CONFIRM_OWN_PEOPLE, head=_("Due")),
    Entry(_("Confirm several"), "qualifications:confirm_many", Capability.CONFIRM_OWN_PEOPLE, head=_("Due")),
    Entry(_("If it lapses"), "joints:uncovered_by_lapse", head=_("Due")),
    Entry(_("Codes"), "held:codes"),
    Entry(_("Readings"), "held:readings", head=_("Codes")),
    Entry(_("Clauses"), "held:clauses", head=_("Codes")),
    Entry(_("Steel grades"), "held:grades", head=_("Codes")),
)
"""In the order of a coordinator's day: what is welded, how, by whom, what falls due, by which rules. An app that is
not there yet leaves its entries out."""


BELOW = {"/assemblies/": "joints:job_list", "/imports/": "joints:job_list"}
"""Where a page stands whose address does not begin with that of its place."""


def places(user: User, path: str) -> list[Place]:
    """The places that the user may open, the current one marked."""
    found = [(entry, url) for entry in ENTRIES if can(user, entry.capability) and (url := address(entry))]
    under = next((reverse(name) for head, name in BELOW.items() if path.startswith(head)), path)
    here = _current([url for _, url in found], under)
    return [Place(entry.label, url, _mark(url, here, path), entry.head) for entry, url in found]


def rows(every: list[Place]) -> Rows:
    """The places in two rows. A question is current where one of its second row is; without one there is no row."""
    at = next((place for place in every if place.current), None)
    question = (at.head or at.label) if at is not None else ""
    heads = {place.label for place in every if not place.head}
    first = tuple(
        replace(place, current="true") if at is not None and at.head and place.label == question else place
        for place in every
        if place.head not in heads
    )
    second = tuple(place for place in every if question and question in (place.label, place.head))
    return Rows(first, second if len(second) > 1 else (), tuple(every))


def address(entry: Entry) -> str:
    """The address of an entry, or "" where the app has no page of that name."""
    try:
        return reverse(entry.url_name)
    except NoReverseMatch:
        return ""


def nav(request: HttpRequest) -> Rows:
    """The places for a request."""
    user = getattr(request, "user", None)
    return rows(places(user, request.path)) if user is not None else Rows()


def _current(urls: list[str], path: str) -> str:
    """The longest address that the path starts with; the first page only counts for itself."""
    above = [url for url in urls if path == url or (url != "/" and path.startswith(url))]
    return max(above, key=len, default="")


def _mark(url: str, here: str, path: str) -> str:
    if url != here:
        return ""
    return "page" if url == path else "true"
