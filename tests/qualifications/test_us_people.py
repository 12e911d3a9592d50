"""Certificates that live on use (AWS D1.1, ASME IX): the log proposes, somebody signs, and every gap is checked."""

from collections.abc import Callable
from datetime import date, timedelta
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from codes.editions import all_editions, edition
from qualifications.clocks import Clock, clock_of, takes
from qualifications.due import falls_due
from qualifications.events import Signature, cautions, confirm, renew
from qualifications.models import Certificate, CertificateEvent
from qualifications.offers import offer
from qualifications.own_clocks import clocks_of
from qualifications.periods import state
from qualifications.proposals import proposal, thinned
from tests.conftest import SIGNED
from tests.qualifications.make import certificate, event, logged, person

pytestmark = pytest.mark.django_db
SignIn = Callable[[str], Client]
AWS = "AWS D1.1:2020 welder"
PIECE = {
    "unit_system": "si",
    "process": "136",
    "contractor": "Nordhalle",
    "weld_type": "butt_cjp",
    "product": "plate",
    "parent_t": "10",
    "aws_position": "3G",
    "progression": "uphill",
    "weld_detail": "ss_mb",
}
TESTED = date(2025, 1, 10)
KINDS = {"welder", "operator", "tack_welder"}
PEOPLE_EDITIONS = [e for e in all_editions() if KINDS & set(e.kinds)]


def us(**facts: Any) -> Certificate:
    """A welder's test to AWS D1.1 of 10 January 2025."""
    facts.setdefault("welded_on", TESTED)
    holder = facts.pop("holder", None) or person(employer="Nordhalle")
    return certificate(holder, code=AWS, pieces=[PIECE], option="", employer_then="Nordhalle", **facts)


def signed(user: Any, on: date, *welds: Any, **more: Any) -> Signature:
    return Signature(on, "Marek Holt", user, welds=welds, **more)


def test_the_clock_of_each_edition_is_found_by_asking_it() -> None:
    assert clock_of(us()) is Clock.USED
    assert clock_of(certificate(person("Bo Lang"), number="W-2")) is Clock.CONFIRMED
    assert clock_of(certificate(person("Cy Orr"), number="W-3", code="EN 287-1:2004")) is Clock.NONE
    assert takes(edition(AWS), "renewal")
    assert not takes(edition("ISO 9606-1:2012"), "use")
    assert not takes(edition("ISO 14732:2013"), "use")


@pytest.mark.parametrize(("day", "valid"), [(date(2025, 7, 10), True), (date(2025, 7, 11), False)])
def test_without_use_it_is_valid_for_six_months(day: date, valid: bool) -> None:
    assert state(us(), day).valid is valid


def test_a_signature_on_logged_welds_writes_one_event_for_each(coordinator: Any) -> None:
    held = us()
    welds = [logged(held.person, day, process="136") for day in (date(2025, 5, 1), date(2025, 10, 1))]
    made = confirm(held, signed(coordinator, date(2025, 11, 1), *welds), date(2025, 11, 1))
    assert [e.kind for e in made] == ["use", "use"]
    assert made[0].details["used_on"] == "2025-05-01"
    assert state(held, date(2026, 4, 1)).valid
    assert not state(held, date(2026, 4, 2)).valid


def test_a_gap_between_two_welds_is_not_bridged_by_a_later_signature(coordinator: Any) -> None:
    """Welds of March and October: the certificate lapsed in September, whatever was signed in October."""
    held = us()
    welds = [logged(held.person, day, process="136") for day in (date(2025, 3, 1), date(2025, 10, 1))]
    confirm(held, signed(coordinator, date(2025, 10, 2), *welds), date(2025, 10, 2))
    assert state(held, date(2025, 9, 1)).valid
    found = state(held, date(2025, 10, 2))
    assert not found.valid
    assert "lapsed on 2025-09-02" in found.because


def test_what_was_welded_after_the_lapse_is_refused(coordinator: Any) -> None:
    held = us()
    weld = logged(held.person, date(2025, 7, 11), process="136")
    with pytest.raises(ValueError, match="only a renewal test helps"):
        confirm(held, signed(coordinator, date(2025, 7, 12), weld), date(2025, 7, 12))
    assert not held.events.exists()


@pytest.mark.parametrize(
    ("facts", "proposes"),
    [
        ({}, True),
        ({"process": "111"}, False),
        ({"mechanisation": "automatic"}, False),
        ({"struck_out": "another welder"}, False),
        ({"on": date(2025, 7, 11)}, False),
        ({"on": TESTED}, False),
    ],
)
def test_which_welds_the_log_proposes(facts: dict[str, Any], proposes: bool) -> None:
    held = us()
    entry = logged(held.person, **({"on": date(2025, 7, 10), "process": "136"} | facts))
    assert bool(proposal(held, [entry], date(2025, 7, 20)).entries) is proposes


def test_a_weld_for_another_employer_is_not_proposed() -> None:
    held = us(holder=person(employer="Another Firm"))
    entry = logged(held.person, date(2025, 7, 1), process="136")
    assert not proposal(held, [entry], date(2025, 7, 2)).entries


def test_a_chain_of_welds_is_proposed_whole_and_what_is_on_file_no_more(coordinator: Any) -> None:
    held = us()
    days = [date(2025, 5, 1), date(2025, 9, 1), date(2026, 1, 5)]
    log = [logged(held.person, day, process="136") for day in days]
    today = date(2026, 1, 6)
    found = proposal(held, log, today)
    assert {e.on for e in found.chosen} == set(days)
    assert cautions(held, today, today)  # as recorded it is not valid today
    confirm(held, signed(coordinator, today, *found.chosen), today)
    assert state(held, today).valid
    held = Certificate.objects.get(pk=held.pk)
    assert not proposal(held, log, today).entries
    assert not cautions(held, today, today)


def test_each_process_of_one_certificate_needs_its_own_welds(coordinator: Any) -> None:
    """AWS D1.1, 6.2.3.1, and ASME IX, QW-322.1(a): by process, whatever paper both tests stand on."""
    held = us()
    held.pieces = [PIECE, PIECE | {"process": "111"}]
    held.save()
    cored, stick = (
        logged(held.person, on, process=one) for on, one in ((date(2025, 7, 1), "136"), (date(2025, 6, 1), "111"))
    )
    confirm(held, signed(coordinator, date(2025, 7, 2), cored), date(2025, 7, 2))
    held = Certificate.objects.get(pk=held.pk)
    assert not state(held, date(2025, 7, 11)).valid
    assert proposal(held, [cored, stick], date(2025, 7, 2)).entries == (stick,)
    confirm(held, signed(coordinator, date(2025, 7, 2), stick), date(2025, 7, 2))
    held = Certificate.objects.get(pk=held.pk)
    assert state(held, date(2025, 12, 1)).valid
    assert not state(held, date(2025, 12, 2)).valid


def test_of_each_month_the_first_and_the_last_are_kept() -> None:
    holder = person()
    log = [logged(holder, date(2025, 7, day)) for day in (9, 2, 28, 15)]
    assert [e.on.day for e in thinned(log)] == [2, 28]


def test_words_as_evidence_need_the_day_of_the_weld(coordinator: Any) -> None:
    held = us()
    by = signed(coordinator, date(2025, 6, 1), evidence="joint C1/2 to WPS 30")
    with pytest.raises(ValueError, match="day of the weld"):
        confirm(held, by, date(2025, 6, 1))
    by = signed(coordinator, date(2025, 6, 1), evidence="joint C1/2 to WPS 30", used_on=date(2025, 5, 30))
    confirm(held, by, date(2025, 6, 1))
    assert state(held, date(2025, 11, 30)).valid
    assert not state(held, date(2025, 12, 1)).valid


def test_a_renewal_opens_a_lapsed_one_again(coordinator: Any) -> None:
    held = us()
    renew(held, True, signed(coordinator, date(2025, 12, 1), evidence="plate 10 mm"), "", date(2025, 12, 1))
    assert not state(held, date(2025, 11, 30)).valid
    assert state(held, date(2025, 12, 1)).valid


def test_after_a_revocation_only_a_full_test_renews(coordinator: Any) -> None:
    held = us()
    event(held, date(2025, 5, 1), "revocation", reason="lack of fusion")
    day = date(2025, 6, 1)
    with pytest.raises(ValueError, match="full test of the same kind"):
        renew(held, True, signed(coordinator, day), "", day)
    renew(held, True, signed(coordinator, day, details={"full_test": "yes"}), "", day)
    assert state(held, day).valid


def test_a_failed_renewal_needs_words(coordinator: Any) -> None:
    held, day = us(), date(2025, 6, 1)
    with pytest.raises(ValueError, match="what the test failed on"):
        renew(held, False, signed(coordinator, day), " ", day)
    assert renew(held, False, signed(coordinator, day), "porosity", day).kind == "failed_renewal"


def test_a_failed_test_of_a_valid_certificate_is_entered_knowingly_and_shown_until_it_is_settled(
    client_of: SignIn,
) -> None:
    """AWS D1.1, 6.2.3.1 (2): it ends the qualification only where somebody finds a reason to question the ability."""
    today = date.today()  # noqa: DTZ011 - the page asks the same clock
    held, browser = us(welded_on=today - timedelta(days=60)), client_of("coordinator")
    address = reverse("qualifications:renew", args=[held.pk])
    assert "knowingly" not in browser.get(address).content.decode()
    sent = SIGNED | {"on": today.isoformat(), "passed": "no", "evidence": "bend 2 open, report 7", "by_name": "Marta L"}
    answer = browser.post(address, sent)
    assert answer.status_code == 422
    page = answer.content.decode()
    assert "The certificate stays valid after this entry" in page
    assert "AWS D1.1:2020, 6.2.3.1 (2)" in page
    assert 'name="knowingly"' in page
    assert not held.events.exists()
    assert browser.post(address, sent | {"knowingly": "on"}).status_code == 302
    assert "stays valid" in held.events.get().details["said_knowingly"]
    for url in (held.get_absolute_url(), held.person.get_absolute_url()):
        shown = " ".join(browser.get(url).content.decode().split())
        assert f"The renewal test of {today.isoformat()} failed: bend 2 open, report 7." in shown, url
        assert "does not by itself end a certificate that is valid" in shown, url
        assert "(AWS D1.1:2020, 6.2.3.1 (2))" in shown, url
    renew(held, True, signed(None, today, details={"trained_on": today.isoformat()}), "", today)
    assert "does not by itself end" not in browser.get(held.get_absolute_url()).content.decode()


def test_a_failed_test_of_a_lapsed_certificate_needs_no_caution(client_of: SignIn) -> None:
    held = us()
    sent = SIGNED | {"on": "2025-12-01", "passed": "no", "evidence": "bend 2 open, report 7", "by_name": "Marta L"}
    assert client_of("coordinator").post(reverse("qualifications:renew", args=[held.pk]), sent).status_code == 302
    assert held.events.get().kind == "failed_renewal"


def test_an_iso_certificate_is_not_renewed(coordinator: Any) -> None:
    with pytest.raises(ValueError, match="enter a new one"):
        renew(certificate(), True, signed(coordinator, date(2025, 6, 1)), "", date(2025, 6, 1))


def test_what_falls_due_is_the_next_weld() -> None:
    (item,) = falls_due([offer(us())], date(2025, 7, 1))
    assert (item.act, item.by) == ("weld with the process", date(2025, 7, 10))


def test_a_tack_welder_has_no_clock() -> None:
    piece = {name: PIECE[name] for name in ("unit_system", "process", "contractor", "aws_position", "progression")}
    held = certificate(code="AWS D1.1:2020 tack welder", kind="tack_welder", pieces=[piece], option="")
    assert state(held, date(2035, 1, 1)).valid
    assert falls_due([offer(held)], date(2025, 7, 1)) == ()


@pytest.mark.parametrize("key", [e.key for e in PEOPLE_EDITIONS])
def test_the_form_of_every_edition_of_people(client_of: SignIn, key: str) -> None:
    address = reverse("qualifications:certificate_new", args=[person().pk])
    page = client_of("coordinator").get(address, {"code": key}).content.decode()
    for stated in edition(key).fields:
        assert f'name="piece1_{stated.name}"' in page
    assert ('name="option"' in page) is not takes(edition(key), "use")


def test_welds_are_signed_on_the_page_of_one_certificate(client_of: SignIn) -> None:
    today = date.today()  # noqa: DTZ011 - the page asks the same clock
    held = us(welded_on=today - timedelta(days=100))
    weld = logged(held.person, today - timedelta(days=3), process="136")
    address = reverse("qualifications:confirm", args=[held.pk])
    browser = client_of("coordinator")
    page = browser.get(address).content.decode()
    assert f'value="{weld.pk}"' in page
    assert "checked" in page
    sent = {"on": today.isoformat(), "by_name": "Marta L", "use": [weld.pk]}
    assert browser.post(address, SIGNED | sent).status_code == 302
    made = CertificateEvent.objects.get()
    assert (made.kind, made.details["process"]) == ("use", "136")
    words = {"on": today.isoformat(), "by_name": "Marta L", "evidence": "joint 7"}
    assert "Give the day of the weld" in browser.post(address, words).content.decode()


def several() -> Certificate:
    """One test of GTAW root and FCAW fill, each with its own clock (AWS D1.1, 6.2.3.1)."""
    held = us()
    held.pieces = [PIECE | {"process": "141"}, PIECE]
    held.save()
    return held


def test_of_several_processes_a_renewal_says_for_which_it_counts(client_of: SignIn) -> None:
    held, browser = several(), client_of("coordinator")
    address = reverse("qualifications:renew", args=[held.pk])
    page = browser.get(address).content.decode()
    assert 'name="processes" value="141:"' in page
    assert "GTAW" in page
    sent = SIGNED | {"on": "2025-12-01", "passed": "yes", "evidence": "plate 10 mm, report 7", "by_name": "Marta L"}
    answer = browser.post(address, sent)
    assert answer.status_code == 422
    assert "Tick the processes that the test piece was welded with." in answer.content.decode()
    assert browser.post(address, sent | {"processes": ["111:"]}).status_code == 422
    assert browser.post(address, sent | {"processes": ["141:"]}).status_code == 302
    assert held.events.get().details == {"process": "141"}
    assert not state(held, date(2025, 12, 1)).valid
    assert browser.post(address, sent | {"on": "2025-12-03", "processes": ["136:"]}).status_code == 302
    held = Certificate.objects.get()
    assert [state(held, date(2025, 12, day)).valid for day in (2, 3)] == [False, True]
    assert state(held, date(2025, 12, 3)).until == date(2026, 6, 1)
    shown = browser.get(held.get_absolute_url()).content.decode()
    assert "renewal test passed: 141" in shown


def test_a_use_of_one_process_is_taken_down_while_the_other_has_lapsed(coordinator: Any) -> None:
    """Else, once the lapsed one is renewed, the one that was welded all the time would seem to have lapsed too."""
    held = several()
    for day in (date(2025, 6, 1), date(2025, 11, 1)):
        weld = logged(held.person, day, process="141")
        assert weld in proposal(held, [weld], day).entries
        confirm(held, signed(coordinator, day, weld), day)
        held = Certificate.objects.get()
    assert not state(held, date(2025, 11, 1)).valid
    day = date(2025, 12, 1)
    renew(held, True, signed(coordinator, day, details={"process": "136"}), "", day)
    assert state(Certificate.objects.get(), day).until == date(2026, 5, 1)


def test_of_several_processes_a_weld_in_words_says_with_which(client_of: SignIn) -> None:
    held, browser, today = several(), client_of("coordinator"), date.today()  # noqa: DTZ011 - the page asks the same
    Certificate.objects.filter(pk=held.pk).update(welded_on=today - timedelta(days=30))
    address = reverse("qualifications:confirm", args=[held.pk])
    day = today.isoformat()
    sent = SIGNED | {"on": day, "used_on": day, "by_name": "Marta L", "evidence": "joint 7, root GTAW, fill FCAW"}
    assert "Tick the process of the weld" in browser.post(address, sent).content.decode()
    assert browser.post(address, sent | {"processes": ["141:", "136:"]}).status_code == 302
    made = CertificateEvent.objects.get()
    assert (made.kind, made.details["process"]) == ("confirmation", "141,136")
    assert state(Certificate.objects.get(), today + timedelta(days=160)).valid


def test_which_processes_have_clocks_of_their_own() -> None:
    """AWS D1.1 holds short-circuiting GMAW-S apart; ASME IX, QW-322, counts by process alone."""
    modes = [PIECE | {"process": "135", "transfer_mode": mode} for mode in ("spray", "dip", "spray")]
    assert clocks_of(us()) == ()
    aws = us(number="W-2", holder=person("Bo Lang", employer="Nordhalle"))
    for code, found in ((AWS, (("135", "spray"), ("135", "dip"))), ("ASME IX:2021 welder", ())):
        aws.code, aws.pieces = code, modes
        assert clocks_of(aws) == found, code


def test_a_renewal_test_is_recorded_on_its_page(client_of: SignIn) -> None:
    held = us()
    address = reverse("qualifications:renew", args=[held.pk])
    sent = {"on": "2025-12-01", "passed": "yes", "evidence": "plate 10 mm, report 7", "by_name": "Marta L"}
    assert client_of("coordinator").post(address, SIGNED | sent).status_code == 302
    assert held.events.get().kind == "renewal"
    assert client_of("qa").post(address, sent).status_code == 403
