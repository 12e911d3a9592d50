"""The trail keeps English and is told in the reader's language: acts, notes, names, terms; never typed text."""

import re
from collections.abc import Iterator

import pytest
from django.contrib.auth.models import User
from django.test import Client
from django.urls import reverse

from register.audit import record_act
from register.judged_words.acts import OWN, acts_in, choices_in_rows, names_in
from register.judged_words.texts import TOP, texts
from register.models import AuditEntry
from register.roles import Role
from register.trail.words import said
from tests.joints.makers import make_joint
from tests.register.test_judged_words import in_german
from wps.trail import act_on_it

GERMAN = {
    "approved": "freigegeben", "%(act)s it": "%(act)s", "attached evidence": "Nachweis angehängt",
    "copied from revision {1}": "kopiert von Revision {1}", "status": "Status", "yes": "ja", "none": "keiner",
    "final welding": "zum Fertigschweißen", "reason": "Grund", "nothing": "nichts", "recorded {1}": "eingetragen: {1}",
    "set a new password for": "neues Kennwort für", "revocation": "Entzug", "note": "Bemerkung", "remarks": "Bemerkung",
    "%(field)s from %(old)s to %(new)s": "%(field)s von %(old)s in %(new)s",
    "changed %(fields)s": "geändert: %(fields)s",
}  # fmt: skip


@pytest.fixture
def german() -> Iterator[None]:
    with in_german(lambda text: GERMAN.get(text, text)):
        yield


def test_acts_are_found_where_they_are_written() -> None:
    found = {frame.key: module for frame, module in acts_in(TOP)}
    assert found["approved"] == "wps/workflow.py"
    # By a name, by a name of another module inside a text, and one of two.
    assert {"checked the clause", "took in an export", "printed a {1}", "recorded {1}", "withdrew"} <= found.keys()
    assert found.keys() <= texts().messages.keys()


def test_no_act_is_written_in_a_way_that_is_not_read() -> None:
    """Each module that writes an act gives one to the translators."""
    calls = re.compile(r"^from register.audit import .*record_act", re.MULTILINE)
    modules = (path for app in OWN for path in (TOP / app).rglob("*.py"))
    writing = {path.relative_to(TOP).as_posix() for path in modules if calls.search(path.read_text(encoding="utf-8"))}
    assert writing == {module for _, module in acts_in(TOP)}


def test_names_of_facts_and_choices_go_to_the_translators() -> None:
    assert {"ended on", "final welding", "filler make", "holder", "check code", "roles"} <= set(names_in(TOP))
    assert {"superseded", "revocation"} <= set(choices_in_rows())


def test_facts_are_told_and_typed_text_stays(german: None) -> None:
    held = {"status": "approved", "serves_final": True, "reason": "approved by the client, none better", "note": None}
    assert said(held) == (
        "Status: freigegeben; zum Fertigschweißen: ja; Grund: approved by the client, none better; Bemerkung: keiner"
    )


@pytest.mark.parametrize(
    ("act", "note", "english", "told"),
    [
        ("approved", "", "approved it", "freigegeben"),
        ("attached evidence", "", "attached evidence", "Nachweis angehängt"),
        ("set a new password for", "", "set a new password for", "neues Kennwort für"),
        ("approved", "copied from revision B", "approved it: copied from revision B",
         "freigegeben: kopiert von Revision B"),
        ("approved", "the flange clamp is new", "approved it: the flange clamp is new",
         "freigegeben: the flange clamp is new"),
    ],
)  # fmt: skip
def test_an_act_on_the_page_of_its_thing(act: str, note: str, english: str, told: str) -> None:
    entry = AuditEntry(act=act, note=note)
    assert act_on_it(entry) == english
    with in_german(lambda text: GERMAN.get(text, text)):
        assert act_on_it(entry) == told


def test_the_page_is_told_and_the_file_keeps_what_was_written(auditor: User, client: Client, german: None) -> None:
    client.force_login(auditor)
    record_act(auditor, "recorded revocation", auditor, after={"status": "approved"}, note="copied from revision B")
    page = client.get(reverse("trail:list")).content.decode()
    assert "eingetragen: Entzug" in page
    assert "Status: freigegeben" in page
    assert "kopiert von Revision B" in page
    file = client.get(f"{reverse('trail:list')}?export=csv").getvalue().decode()
    assert "recorded revocation" in file
    assert "eingetragen" not in file


def test_what_changed_on_a_joint_is_told(people: dict[str, User], client: Client, german: None) -> None:
    client.force_login(people["coordinator"])
    assert people["coordinator"].groups.filter(name=Role.COORDINATOR.value).exists()
    joint = make_joint()
    joint.remarks = "behind the stiffener"
    joint.save()
    assert (
        "geändert: Bemerkung von nichts in “behind the stiffener”"
        in client.get(joint.get_absolute_url()).content.decode()
    )
