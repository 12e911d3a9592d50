"""What 50 people do in a register on a busy morning, role by role."""

import random
from collections.abc import Callable, Iterator
from html.parser import HTMLParser
from typing import Any

from scripts.drill.client import Client, Reply

ROLES = ("coordinator",) * 8 + ("qa",) * 12 + ("supervisor",) * 22 + ("auditor",) * 8
"""Who the fifty are: mostly supervisors in the bays and QA, a few coordinators and auditors."""
Page = tuple[str, str]
"""A name for the figures, and an address."""


def make_people() -> list[str]:
    """One account each; returns the names. The password is the demonstration's."""
    from django.contrib.auth.hashers import make_password
    from django.contrib.auth.models import Group, User

    from register.demo import PASSWORD

    names, word = [], make_password(PASSWORD)
    for number, role in enumerate(ROLES):
        user = User.objects.create(username=f"{role}{number}", password=word)
        user.groups.set([Group.objects.get(name=role)])
        names.append(user.username)
    return names


def addresses() -> dict[str, list[str]]:
    """The addresses of each kind of page, from what is on file."""
    from django.urls import reverse

    from joints.models import Assembly, Job, Joint
    from qualifications.models import Certificate, Person
    from wps.models import Procedure, ProcedureRevision, TestRecord

    def each(name: str, model: Any, **narrowed: Any) -> list[str]:
        keys = model.objects.filter(**narrowed).order_by("pk").values_list("pk", flat=True)[:400]
        return [reverse(name, args=[key]) for key in keys]

    lists = ("home", "job_list", "joint_list", "workstation_list", "ask")
    plain = {name: [reverse(f"joints:{name}")] for name in lists}
    plain |= {name: [reverse(f"qualifications:{name}")] for name in ("person_list", "due", "weld_log", "calendar")}
    plain |= {name: [reverse(f"wps:{name}")] for name in ("procedure_list", "record_list")}
    plain |= {"trail": [reverse("trail:list")], "readings": [reverse("held:readings")]}
    plain |= {
        "job": each("joints:job", Job),
        "assembly": each("joints:assembly", Assembly),
        "joint": each("joints:joint", Joint),
        "joint_edit": each("joints:joint_edit", Joint),
        "person": each("qualifications:person", Person),
        "certificate": each("qualifications:certificate", Certificate),
        "procedure": each("wps:procedure", Procedure),
        "revision": each("wps:revision", ProcedureRevision),
        "sheet": each("wps:revision_sheet", ProcedureRevision, status="approved"),
        "record": each("wps:record", TestRecord),
    }
    return plain


VISITS: dict[str, tuple[str, ...]] = {
    "coordinator": (
        "home", "job_list", "job", "assembly", "joint", "joint", "joint_edit", "procedure_list", "procedure",
        "revision", "record", "due", "person", "readings",
    ),
    "qa": (
        "home", "procedure_list", "procedure", "revision", "sheet", "due", "person", "certificate", "joint",
        "joint_list",
    ),
    "supervisor": ("home", "weld_log", "person_list", "person", "certificate", "joint", "assembly", "due", "calendar"),
    "auditor": ("home", "trail", "joint_list", "joint", "certificate", "record", "revision", "readings", "job"),
}  # fmt: skip
"""The pages that each role goes through; a page named twice is opened twice as often."""


def round_of(role: str, found: dict[str, list[str]], chance: random.Random) -> Iterator[Page]:
    """Pages without end, in an order of its own."""
    while True:
        for name in chance.sample(VISITS[role], len(VISITS[role])):
            if found[name]:
                yield name, chance.choice(found[name])


class Form(HTMLParser):
    """The last form of a page that is sent by POST, as a browser would send it untouched."""

    def __init__(self, page: bytes) -> None:
        super().__init__()
        self.fields: dict[str, str] = {}
        self._select = self._text = ""
        self.feed(page.decode())

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        name, value = given.get("name") or "", given.get("value") or ""
        if tag == "input" and name:
            if given.get("type") not in ("checkbox", "radio", "submit", "file") or "checked" in given:
                self.fields[name] = value
        elif tag == "select":
            self._select = name
            self.fields.setdefault(name, "")
        elif tag == "option" and "selected" in given:
            self.fields[self._select] = value
        elif tag == "textarea":
            self._text = name
            self.fields[name] = ""

    def handle_data(self, data: str) -> None:
        if self._text:
            self.fields[self._text] += data

    def handle_endtag(self, tag: str) -> None:
        if tag == "textarea":
            self._text = ""


def write_a_remark(client: Client, url: str, page: Reply, text: str, timed: Callable[..., Reply]) -> None:
    """Send the form of a joint back with another remark, as somebody who corrects it."""
    fields = Form(page.body).fields
    fields.pop("csrfmiddlewaretoken", None)
    timed("joint saved", client.post, url, fields | {"remarks": text})
