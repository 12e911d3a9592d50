"""A failed renewal of a certificate that stays valid waits for a decision: on the due list, home, papers, card, mail.

AWS D1.1:2020, 6.2.3.1 (2): a failed test is no end by itself, somebody decides.
"""

from collections.abc import Callable
from datetime import date, timedelta
from typing import Any

import pytest
from django.core import mail
from django.test import Client
from django.urls import reverse

from joints.home import deadlines, dues, summary
from joints.uncovered_by_lapse import _first_of_each
from qualifications.api.due import due_out
from qualifications.calendar.digest import send, subject_of
from qualifications.calendar.ics import calendar_of
from qualifications.due import DECISION, DueItem, falls_due, grouped
from qualifications.models import Certificate
from qualifications.offers import offer
from qualifications.paper import pdfs
from qualifications.paper.facts import due_facts
from register.papers.codes import canonical
from register.papers.printing import PaperChoice, rendered
from register.plants.models import Plant
from tests.qualifications.make import event
from tests.qualifications.test_papers import words
from tests.qualifications.test_us_people import us

pytestmark = pytest.mark.django_db
SignIn = Callable[[str], Client]
FAILED = date(2025, 6, 1)


def failed(on: date = FAILED) -> Certificate:
    """Welded on 10 January 2025, used on 10 May, so valid to 10 November; the renewal test on a day failed."""
    held = us(number="US-1")
    used = {"used_on": "2025-05-10", "process": "136", "mechanisation": "partly_mechanised"}
    event(held, date(2025, 5, 10), "use", details=used)
    event(held, on, "failed_renewal", reason="bend 2 open", details={"why": "bend 2 open"})
    return held


def decisions(held: Certificate, on: date) -> list[DueItem]:
    return [item for item in falls_due([offer(held)], on) if item.is_decision]


@pytest.mark.parametrize(("days", "open_"), [(-1, False), (0, True), (1, True), (120, True)])
def test_it_stands_from_its_day_on_however_long_ago(days: int, open_: bool) -> None:
    """Beyond the ninety days for which a lapse is shown too."""
    found = decisions(failed(), FAILED + timedelta(days=days))
    assert bool(found) is open_
    for item in found:
        assert (item.act, item.by, item.days, item.within) == (DECISION, FAILED, -days, 0)
        assert "the renewal test of 2025-06-01 failed: bend 2 open" in item.what
        assert str(item.clause) == "AWS D1.1:2020, 6.2.3.1 (2)"
        assert not item.is_lapse
        assert not item.is_ahead


def test_a_renewal_that_is_passed_settles_it_that_day() -> None:
    held, passed = failed(), FAILED + timedelta(days=20)
    event(held, passed, "renewal", details={"trained_on": str(passed), "passed": "yes"})
    assert decisions(held, passed - timedelta(days=1))
    assert not decisions(held, passed)


def test_a_revocation_settles_it_and_so_does_the_lapse() -> None:
    held = failed()
    last = date(2025, 11, 10)
    assert decisions(held, last)
    assert not decisions(held, last + timedelta(days=1))
    event(held, FAILED + timedelta(days=5), "revocation", reason="lack of fusion")
    held = Certificate.objects.get(pk=held.pk)
    assert decisions(held, FAILED + timedelta(days=4))
    assert not decisions(held, FAILED + timedelta(days=5))


def test_it_stands_first_under_a_heading_of_its_own() -> None:
    groups = grouped(falls_due([offer(failed())], FAILED + timedelta(days=100)))
    assert groups[0].title == "To be decided now"
    assert [item.act for item in groups[0].items] == [DECISION]
    assert DECISION not in [item.act for group in groups[1:] for item in group.items]
    assert grouped(())[0].title == "No longer valid"


def test_the_due_list_counts_it_apart_and_shows_it_within_each_horizon(client_of: SignIn) -> None:
    failed()
    on = FAILED + timedelta(days=100)
    for within in ("30", "180"):
        page = " ".join(client_of("coordinator").get(f"/people/due/?on={on}&within={within}").content.decode().split())
        assert "1 to be decided now" in page
        assert "To be decided now (1)" in page
    assert "to be decided now" not in client_of("coordinator").get("/people/due/?on=2025-05-31").content.decode()


def test_home_names_it_first_and_in_its_sentence(client_of: SignIn, coordinator: Any) -> None:
    failed()
    on = FAILED + timedelta(days=140)
    found = dues(on, coordinator)
    assert found[0].is_decision
    assert not deadlines(found, coordinator)[0].may_confirm
    assert summary(0, 0, found).startswith("1 failed test is to be decided on; ")
    page = " ".join(client_of("coordinator").get(f"/?on={on}").content.decode().split())
    assert "decide whether to revoke it" in page
    assert "open since" in page


def test_paper_and_its_facts_state_it() -> None:
    held = failed()
    on = FAILED + timedelta(days=1)
    items = falls_due([offer(held)], on)
    before = due_facts([item for item in items if not item.is_decision], on)
    assert canonical(due_facts(items, on)) != canonical(before)
    draft = pdfs.due_draft(Plant.objects.get(), grouped(items), on, items=items)
    said = words(rendered(draft, PaperChoice(), "https://register.example/s/{code}/")[0])
    assert "decide whether to revoke it: the renewal test of 2025-06-01 failed: bend 2 open" in said


def test_the_pocket_card_says_it_and_another_card_is_as_it_was() -> None:
    held = failed()
    day_before, on = FAILED - timedelta(days=1), FAILED
    assert b"to_decide" not in canonical(pdfs.facts_of_card(str(held.person_id), day_before))
    assert b"bend 2 open" in canonical(pdfs.facts_of_card(str(held.person_id), on))
    said = words(rendered(pdfs.card_draft(held.person, on), PaperChoice(), "https://register.example/s/{code}/")[0])
    assert "in question since the failed test of 2025-06-01" in said
    assert "Ask the welding coordinator before you weld by it." in said
    former = pdfs.card_draft(held.person, day_before)
    assert "in question" not in words(rendered(former, PaperChoice(), "https://register.example/s/{code}/")[0])


def test_it_is_mailed_once_and_counted_apart(settings: Any) -> None:
    failed()
    settings.DUE_DIGEST_TO = ["due@nordhalle.example"]
    on = FAILED + timedelta(days=1)
    send(on, (30,))
    assert mail.outbox[0].subject == "Welding certificates: 1 to be decided"
    assert "decide whether to revoke it: the renewal test of 2025-06-01 failed" in mail.outbox[0].body
    assert send(on + timedelta(days=1), (30,)).mails == 0
    assert subject_of(falls_due([offer(Certificate.objects.get())], on)) == (
        "Welding certificates: 1 deadline, 1 to be decided"
    )


def test_the_calendar_keeps_it_on_its_day() -> None:
    said = calendar_of(decisions(failed(), FAILED + timedelta(days=9)), FAILED + timedelta(days=9)).decode()
    assert "DTSTART;VALUE=DATE:20250601" in said
    assert "decide whether to revoke it" in said
    assert "The day itself still counts" not in said.replace("\r\n ", "")


def test_a_list_file_and_the_interface_state_it(client_of: SignIn) -> None:
    held = failed()
    (item,) = decisions(held, FAILED)
    assert due_out(item)["decide"] is True
    assert due_out(item)["lapsed"] is False
    sent = client_of("coordinator").get(f"{reverse('qualifications:due')}?on={FAILED}&export=csv")
    assert "decide whether to revoke it" in b"".join(sent.streaming_content).decode()


def test_what_a_lapse_would_uncover_starts_from_what_is_ahead() -> None:
    """A decision is no lapse: it must not stand for its certificate there."""
    items = [item for item in falls_due([offer(failed())], FAILED + timedelta(days=100)) if item.is_ahead]
    assert [item.act for item in _first_of_each(items)] == ["weld with the process"]
