"""The calendar: private addresses that can be revoked, nothing in them but what falls due; the digest, sent once."""

import re
from collections.abc import Callable
from datetime import date, timedelta
from typing import Any

import pytest
from django.core import mail
from django.core.exceptions import PermissionDenied
from django.core.management import CommandError, call_command
from django.db import IntegrityError, transaction
from django.test import Client
from django.urls import reverse
from django.utils import timezone, translation
from icalendar import Calendar

from qualifications.calendar import feeds
from qualifications.calendar.digest import body_of, send, subject_of, to_announce
from qualifications.calendar.ics import calendar_of
from qualifications.models import CalendarFeed, Certificate, DueNotice
from register.models import AuditEntry
from tests.conftest import PASSWORD
from tests.qualifications.make import certificate, event, person
from tests.test_answers_told import told_too
from tests.test_translated_pages import marked

__all__ = ["marked", "told_too"]
pytestmark = pytest.mark.django_db
SignIn = Callable[[str], Client]
DAYS = (30, 7)


def due_in(days: int, **facts: Any) -> Certificate:
    """A certificate whose confirmation is due in so many days from today."""
    held = certificate(welded_on=timezone.localdate() - timedelta(days=400), **facts)
    # Six months less so many days ago, found by the register's own arithmetic.
    from codes.dates import add_months

    by = timezone.localdate() + timedelta(days=days)
    event(held, add_months(held.welded_on, 5))
    on = next(d for n in range(150, 200) if add_months(d := by - timedelta(days=n), 6) == by)
    event(held, on)
    return held


def made(client: Client, **data: str) -> str:
    """The path of a new address, as the page shows it once."""
    page = client.post(reverse("qualifications:calendar"), {"label": "telephone"} | data).content.decode()
    found = re.search(r'value="http://testserver(/people/calendar/feed/[^"]+)"', page)
    assert found, page
    return found.group(1)


def test_an_address_is_shown_once_and_only_its_hash_is_kept(client_of: SignIn) -> None:
    browser = client_of("supervisor")
    path = made(browser)
    token = path.rsplit("/", 1)[1].removesuffix(".ics")
    feed = CalendarFeed.objects.get()
    assert len(token) >= 40
    assert feed.token_sha256 == feeds.digest(token)
    assert token not in str(CalendarFeed.objects.values_list()[0])
    assert token not in browser.get(reverse("qualifications:calendar")).content.decode()
    assert not any(token in str(entry.after) for entry in AuditEntry.objects.all())


def test_it_is_read_without_signing_in_and_holds_nothing_but_deadlines(client_of: SignIn) -> None:
    due_in(20, holder=person("Ada Krol", born_on=date(1990, 1, 2)), notes="a secret")
    certificate(person("Bo Lang"), number="W-2", welded_on=timezone.localdate() - timedelta(days=220))  # lapsed
    response = Client().get(made(client_of("qa")))
    assert response.status_code == 200
    assert response.headers["Content-Type"] == "text/calendar; charset=utf-8"
    assert "attachment" in response.headers["Content-Disposition"]
    assert response.headers["Cache-Control"] == "private, no-store"
    entries = list(Calendar.from_ical(response.content).walk("VEVENT"))
    first = entries[0]
    assert str(first["summary"]) == "Ada Krol: confirmation (W-1)"
    assert first["dtstart"].dt == timezone.localdate() + timedelta(days=20)
    assert first["dtend"].dt == first["dtstart"].dt + timedelta(days=1)
    assert len({str(e["uid"]) for e in entries}) == len(entries)
    assert b"Bo Lang" not in response.content
    assert b"1990" not in response.content
    assert b"secret" not in response.content


def test_the_same_day_gives_the_same_bytes(client_of: SignIn) -> None:
    due_in(20)
    path = made(client_of("qa"))
    assert Client().get(path).content == Client().get(path).content


def test_own_people_only(client_of: SignIn, supervisor: Any) -> None:
    due_in(20, holder=person("Ada Krol", supervisor=supervisor))
    due_in(21, holder=person("Bo Lang"), number="W-2")
    content = Client().get(made(client_of("supervisor"), own_people="on")).content
    assert b"Ada Krol" in content
    assert b"Bo Lang" not in content


def test_revoked_it_answers_nothing(client_of: SignIn) -> None:
    browser = client_of("supervisor")
    path = made(browser)
    feed = CalendarFeed.objects.get()
    address = reverse("qualifications:calendar_revoke", args=[feed.pk])
    assert client_of("qa").post(address).status_code == 404  # somebody else's
    assert browser.post(address).status_code == 302
    assert Client().get(path).status_code == 404
    assert browser.post(address).status_code == 409
    assert AuditEntry.objects.filter(act="revoked a calendar address").count() == 1


@pytest.mark.parametrize("change", ["off", "role"])
def test_an_owner_who_may_look_no_more_opens_nothing(client_of: SignIn, supervisor: Any, change: str) -> None:
    path = made(client_of("supervisor"))
    if change == "off":
        supervisor.is_active = False
        supervisor.save()
    else:
        supervisor.groups.clear()
    assert Client().get(path).status_code == 404


def test_a_guess_opens_nothing(client_of: SignIn) -> None:
    path = made(client_of("qa"))
    assert Client().get(path.replace(path[-10:], "aaaaaa.ics")).status_code == 404
    assert Client().post(path).status_code == 405


def test_ten_addresses_are_enough(client_of: SignIn, qa: Any) -> None:
    for number in range(feeds.AT_MOST):
        feeds.create(qa, str(number), False)
    with pytest.raises(ValueError, match="revoke one first"):
        feeds.create(qa, "one more", False)
    assert client_of("qa").post(reverse("qualifications:calendar"), {"label": "x"}).status_code == 409
    feeds.revoke(CalendarFeed.objects.first(), qa)
    assert feeds.create(qa, "one more", False)


@pytest.fixture
def addresses(people: dict[str, Any]) -> None:
    for name in ("coordinator", "supervisor"):
        people[name].email = f"{name}@example.org"
        people[name].save()


@pytest.mark.usefixtures("addresses")
def test_each_deadline_is_announced_once_for_each_horizon() -> None:
    due_in(20)
    today = timezone.localdate()
    first = send(today, DAYS)
    assert (first.mails, first.announced, first.nobody) == (1, 1, 0)
    assert mail.outbox[0].to == ["coordinator@example.org"]
    assert "Ada Krol, W-1 (ISO 9606-1:2012): confirmation" in mail.outbox[0].body
    assert send(today, DAYS).announced == 0
    assert send(today + timedelta(days=12), DAYS).announced == 0  # eight days ahead
    assert send(today + timedelta(days=13), DAYS).announced == 1  # seven
    assert send(today + timedelta(days=13), DAYS).announced == 0
    assert send(today + timedelta(days=21), DAYS).announced == 1  # the lapse
    assert mail.outbox[-1].subject == "Welding certificates: 1 lapsed"
    assert [(n.horizon, n.sent_to) for n in DueNotice.objects.order_by("pk")] == [
        (30, "coordinator@example.org"),
        (7, "coordinator@example.org"),
        (0, "coordinator@example.org"),
    ]


@pytest.mark.usefixtures("addresses")
@pytest.mark.parametrize(("days", "horizon"), [(31, None), (30, 30), (8, 30), (7, 7), (0, 7)])
def test_the_edges_of_the_horizons(days: int, horizon: int | None) -> None:
    due_in(days)
    found = [one.horizon for one in to_announce(timezone.localdate(), DAYS) if one.item.act == "confirmation"]
    assert found == ([] if horizon is None else [horizon])


@pytest.mark.usefixtures("addresses")
def test_a_supervisor_hears_of_own_people_only(supervisor: Any) -> None:
    due_in(20, holder=person("Ada Krol", supervisor=supervisor))
    due_in(21, holder=person("Bo Lang"), number="W-2")
    send(timezone.localdate(), DAYS)
    bodies = {message.to[0]: message.body for message in mail.outbox}
    assert "Bo Lang" in bodies["coordinator@example.org"]
    assert "Ada Krol" in bodies["supervisor@example.org"]
    assert "Bo Lang" not in bodies["supervisor@example.org"]


@pytest.mark.usefixtures("addresses")
def test_the_addresses_of_the_settings_come_first(settings: Any) -> None:
    settings.DUE_DIGEST_TO = ["welding@example.org"]
    settings.PUBLIC_URL = "https://register.example.org/"
    due_in(20)
    send(timezone.localdate(), DAYS)
    (message,) = mail.outbox
    assert message.to == ["welding@example.org"]
    assert "https://register.example.org/people/due/" in message.body


@pytest.fixture
def two_languages(settings: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    """A second language beside English, in which every text names the language that it is told in."""
    settings.LANGUAGES = [*settings.LANGUAGES, ("de", "Deutsch")]
    settings.MIDDLEWARE = [*settings.MIDDLEWARE, "django.middleware.locale.LocaleMiddleware"]
    for name in ("gettext", "ngettext"):
        said = getattr(translation._trans, name)
        monkeypatch.setattr(
            translation._trans, name, lambda *given, said=said: f"[{translation.get_language()}]{said(*given)}"
        )


@pytest.mark.usefixtures("addresses", "two_languages")
def test_mail_and_calendar_speak_the_language_of_the_last_sign_in(people: dict[str, Any], settings: Any) -> None:
    due_in(20, holder=person(supervisor=people["supervisor"]))
    for name, wish in (("supervisor", "de-AT,de;q=0.8"), ("coordinator", "en")):
        browser = Client(headers={"accept-language": wish})
        browser.post(reverse("login"), {"username": name, "password": PASSWORD})
        assert (name, browser.session.get("_auth_user_id")) == (name, str(people[name].pk))
    send(timezone.localdate(), DAYS)
    subjects = {message.to[0]: message.subject for message in mail.outbox}
    assert subjects["supervisor@example.org"].startswith("[de]")
    assert subjects["coordinator@example.org"].startswith("[en")
    feeds.create(people["supervisor"], "telephone", False)
    _, token = feeds.create(people["supervisor"], "tablet", False)
    content = Client().get(reverse("qualifications:calendar_feed", args=[token])).content.decode()
    assert "[de]Welding certificates: what falls due" in content
    assert "[en" not in content
    settings.LANGUAGES = settings.LANGUAGES[:1]
    assert "[de]" not in Client().get(reverse("qualifications:calendar_feed", args=[token])).content.decode()


@pytest.mark.usefixtures("told_too")
def test_no_word_of_mail_and_calendar_stands_outside_the_catalogue() -> None:
    from tests.qualifications.test_due_order import item

    items = [item(), item(act="lapsed", because="no confirmation between 2026-04-26 and 2026-10-26")]
    calendar = str(Calendar.from_ical(calendar_of(items, date(2026, 11, 29))).walk("VEVENT")[0]["description"])
    for said in (subject_of(items), body_of(items, date(2026, 11, 29)), calendar):
        for one in items:
            for name in (one.person_name, one.number, one.code, str(one.clause)):
                said = said.replace(name, "")
        assert not re.findall(r"[A-Za-z]{2,}", re.sub("⟦[^⟦⟧]*⟧", "", re.sub("⟦[^⟦⟧]*⟧", "", said))), said


def test_with_nobody_to_write_to_nothing_is_noted_and_the_command_fails() -> None:
    due_in(20)
    with pytest.raises(CommandError, match="nobody to write to"):
        call_command("send_due_digest")
    assert not DueNotice.objects.exists()


@pytest.mark.usefixtures("addresses")
def test_a_mail_server_that_fails_leaves_all_to_the_next_run(monkeypatch: pytest.MonkeyPatch) -> None:
    from qualifications.calendar import digest

    due_in(20)

    class Broken:
        def send_messages(self, messages: object) -> None:
            raise ConnectionError("no route to host")

    with monkeypatch.context() as patch:
        patch.setattr(digest, "get_connection", Broken)
        with pytest.raises(ConnectionError):
            send(timezone.localdate(), DAYS)
    assert not DueNotice.objects.exists()
    assert send(timezone.localdate(), DAYS).announced == 1


@pytest.mark.usefixtures("addresses")
def test_the_command(capsys: pytest.CaptureFixture[str]) -> None:
    due_in(20)
    call_command("send_due_digest", "--dry-run")
    assert "Ada Krol, W-1" in capsys.readouterr().out
    assert not mail.outbox
    call_command("send_due_digest", "--on", timezone.localdate().isoformat())
    assert "1 announced in 1 mails." in capsys.readouterr().out
    with pytest.raises(CommandError, match="is not a date"):
        call_command("send_due_digest", "--on", "tomorrow")


def test_a_notice_stands_once() -> None:
    facts = {"certificate": certificate(), "act": "confirmation", "by": date(2026, 1, 1), "horizon": 7}
    notice = DueNotice.objects.create(**facts)
    with pytest.raises(IntegrityError), transaction.atomic():
        DueNotice.objects.create(**facts)
    with pytest.raises(PermissionDenied):
        notice.save()


def test_subjects() -> None:
    from tests.qualifications.test_due_order import item

    lapse = item(act="lapsed")
    assert subject_of([item()]) == "Welding certificates: 1 deadline"
    assert subject_of([item(), item(), lapse]) == "Welding certificates: 2 deadlines, 1 lapsed"
