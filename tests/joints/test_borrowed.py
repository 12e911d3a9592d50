"""What is lent or released to a plant is read there and changed at home: no form of it opens, no way leads to one."""

import re
from collections.abc import Iterator
from datetime import date
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.test import Client
from django.urls import URLPattern, get_resolver, reverse

from codes.readings import DEFAULTS
from qualifications.lending.where import lend
from qualifications.views.confirm_many import candidates
from register.evidence.models import EvidenceFile
from register.models import Plant, PlantRole
from register.plants.reach import of_plant, within
from tests.qualifications.make import certificate, event, person
from tests.wps.factory import KNOWN_CODE, make_record
from tests.wps.url_samples import SAMPLES as WPS
from wps import workflow
from wps.models import ProcedureRevision
from wps.releases.acts import release

HERE, FROM = "Tarn works", date(2026, 3, 10)
READ = {"view", "own_account", "start_work", "print_sheet"}
"""Capabilities that change nothing of the thing itself."""
NOT_SEEN = {
    "qualifications:loan_end",
    "qualifications:weld_log_strike",
    "qualifications:weld_log_take_in",
    "qualifications:calendar_revoke",
    "wps:release_take_back",
    "wps:material_edit",
    "wps:material_scan",
    "wps:material_scan_withdraw",
}
"""Of things that stay at home: neither lent nor released, so nothing of them is in sight (tests of plants)."""


def asked_of(view: Any) -> set[str]:
    """The capabilities that a view asks for."""
    found = {getattr(view, name, None) for name in ("required_capability", "post_capability")}
    return {str(one) for one in found if one is not None}


def changing() -> Iterator[tuple[str, tuple[str, ...]]]:
    """Every address of procedures, records and people that takes arguments and asks for more than reading."""

    def walk(patterns: Any, space: str) -> Iterator[tuple[str, tuple[str, ...]]]:
        for one in patterns:
            if not isinstance(one, URLPattern):
                yield from walk(one.url_patterns, one.namespace or space)
                continue
            view = getattr(one.callback, "view_class", one.callback)
            arguments = tuple(one.pattern.converters)
            if space in {"wps", "qualifications"} and arguments and not asked_of(view) <= READ:
                yield f"{space}:{one.name}", arguments

    yield from walk(get_resolver().url_patterns, "")


@pytest.fixture
def borrowed(db: None, coordinator: User, second_coordinator: User) -> dict[str, Any]:
    """One of each at the first plant, all in sight at the second."""
    home, north = Plant.objects.get(), Plant.objects.create(name="North works")
    with within(of_plant(home.pk)):
        held = certificate(person("Ada Krol"))
        signed = event(held, date(2026, 3, 1))
        record = make_record("WPQR 7", code=KNOWN_CODE)
        draft = workflow.start_procedure("WPS 7", "Plates", KNOWN_CODE, coordinator)
        draft.records.add(record)
        approved = ProcedureRevision.objects.get(pk=WPS["wps:revision_sheet"]()["pk"])
        scans = {
            kind: EvidenceFile.objects.create(
                subject_type=kind, subject_id=str(one.pk), file_name="a.pdf", kind="pdf", sha256="0" * 64, size=1
            )
            for kind, one in (("wps.testrecord", record), ("qualifications.certificate", held))
        }
    lend(held.person, north, FROM, None, "", coordinator)
    for one in (draft, approved):
        release(one.procedure, north, FROM, "one technical control", coordinator)
    user = User.objects.create_user("ute")
    PlantRole.objects.create(user=user, plant=north, role="coordinator")
    return {
        "north": north,
        "user": user,
        "person": held.person,
        "certificate": held,
        "event": signed,
        "record": record,
        "draft": draft,
        "approved": approved,
        "record_scan": scans["wps.testrecord"],
        "person_scan": scans["qualifications.certificate"],
    }


THINGS = {
    "person": ("qualifications:person_edit", "qualifications:lend", "qualifications:certificate_new"),
    "certificate": tuple(
        f"qualifications:{name}"
        for name in ("certificate_edit", "certificate_scan", "confirm", "prolong", "renew", "revoke")
    ),
    "event": ("qualifications:correct", "qualifications:event_scan"),
    "person_scan": ("qualifications:scan_withdraw",),
    "record": ("wps:record_edit", "wps:record_scan"),
    "record_scan": ("wps:record_scan_withdraw",),
    "draft": tuple(f"wps:revision_{name}" for name in ("edit", "live", "sketch", "check", "approve", "withdraw")),
    "procedure": ("wps:release", "wps:revision_new"),
}


def test_every_address_that_changes_something_is_asked() -> None:
    named = {name for names in THINGS.values() for name in names}
    assert {name for name, _ in changing()} == named | NOT_SEEN


def forms_of(borrowed: dict[str, Any]) -> list[tuple[str, str]]:
    """(in words, address) of every form of every thing that is borrowed."""
    asked = dict(changing())
    both = [borrowed["draft"], borrowed["approved"]]
    things = {kind: [borrowed[kind]] for kind in THINGS if kind in borrowed}
    things |= {"draft": both, "procedure": [one.procedure for one in both]}
    return [
        (f"{name} of {thing}", reverse(name, kwargs={asked[name][0]: thing.pk}))
        for kind, names in THINGS.items()
        for thing in things[kind]
        for name in names
    ]


def test_nothing_borrowed_opens_a_form_or_takes_one(borrowed: dict[str, Any]) -> None:
    browser = Client()
    browser.force_login(borrowed["user"])
    answers = {
        f"{verb} {said}": getattr(browser, verb)(url).status_code
        for said, url in forms_of(borrowed)
        for verb in ("get", "post")
    }
    assert {said: status for said, status in answers.items() if status not in {403, 404, 405}} == {}


def test_certificates_of_whoever_is_lent_are_not_put_up_for_signing(borrowed: dict[str, Any]) -> None:
    north, home = borrowed["north"], borrowed["person"].plant_id
    asked = {"keys": frozenset({borrowed["certificate"].pk}), "settings": DEFAULTS}
    for plant, found in ((north.pk, 0), (home, 1)):
        user = User.objects.create_user(f"signer {plant}")
        PlantRole.objects.create(user=user, plant_id=plant, role="qa")
        with within(of_plant(plant)):
            assert len(candidates(user, date(2026, 3, 20), **asked)) == found


def test_no_page_of_something_borrowed_leads_to_a_form_of_it(borrowed: dict[str, Any]) -> None:
    browser = Client()
    browser.force_login(borrowed["user"])
    both = [borrowed["draft"], borrowed["approved"]]
    things = [
        *both,
        *(one.procedure for one in both),
        *(borrowed[kind] for kind in ("person", "certificate", "record")),
    ]
    forms = {url: said for said, url in forms_of(borrowed)}
    for one in things:
        page = browser.get(one.get_absolute_url())
        assert page.status_code == 200
        ways = set(re.findall(r'(?:href|action)="(/[^"?#]*)', page.content.decode()))
        assert [forms[url] for url in sorted(ways & forms.keys())] == [], one
