"""The pages of people: what they show on the date asked about, who may act, and how many questions they ask."""

import re
from collections.abc import Callable
from datetime import date, timedelta
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from qualifications.models import Certificate, Person
from tests.conftest import SIGNED
from tests.qualifications.make import certificate, event, logged, person

pytestmark = pytest.mark.django_db
SignIn = Callable[[str], Client]


def url(name: str, *args: object) -> str:
    return reverse(f"qualifications:{name}", args=args)


def text(response: Any) -> str:
    return " ".join(re.sub(r'<span class="day">(.*?)</span>', r"\1", response.content.decode()).split())


def fresh(holder: Person | None = None, **facts: Any) -> Certificate:
    """A certificate whose confirmation is due in twenty days."""
    today = timezone.localdate()
    facts.setdefault("welded_on", today - timedelta(days=163))
    return certificate(holder, **facts)


def test_the_list_shows_what_is_held_on_the_date_asked_about(client_of: SignIn) -> None:
    certificate()
    browser = client_of("auditor")
    assert "1 of 1 valid" in text(browser.get(url("person_list"), {"on": "2025-07-31"}))
    assert "0 of 1 valid" in text(browser.get(url("person_list"), {"on": "2025-08-01"}))


@pytest.mark.parametrize(("query", "found"), [({"q": "krol"}, True), ({"q": "W-1"}, True), ({"q": "nobody"}, False)])
def test_people_are_found_by_name_and_certificate(client_of: SignIn, query: dict[str, str], found: bool) -> None:
    certificate()
    assert ("Ada Krol" in text(client_of("auditor").get(url("person_list"), query))) is found


def test_somebody_with_two_certificates_is_listed_once(client_of: SignIn) -> None:
    holder = person()
    certificate(holder), certificate(holder, number="W-2")
    page = text(client_of("auditor").get(url("person_list"), {"kind": "welder", "q": "W-"}))
    assert page.count("Ada Krol</a>") == 1


def test_the_list_asks_the_same_number_of_questions_for_many(
    client_of: SignIn, django_assert_max_num_queries: Any
) -> None:
    for number in range(20):
        held = certificate(person(f"Person {number}"), number=f"W-{number}")
        event(held, date(2025, 7, 1))
    browser = client_of("auditor")
    with django_assert_max_num_queries(14):
        browser.get(url("person_list"), {"on": "2025-08-01"})


def test_the_page_of_a_person(client_of: SignIn, django_assert_max_num_queries: Any) -> None:
    holder = person()
    for number in range(6):
        event(certificate(holder, number=f"W-{number}"), date(2025, 7, 1))
    logged(holder, date(2025, 6, 1))
    browser = client_of("auditor")
    with django_assert_max_num_queries(17):
        page = text(browser.get(url("person", holder.pk), {"on": "2025-08-01"}))
    assert "6 of 6 certificates valid on 2025-08-01" in page
    assert "confirmation by 2026-01-01" in page
    assert "B12/3" in page
    assert "put this person on file" in page


def test_the_range_is_derived_line_by_line_with_clauses(client_of: SignIn) -> None:
    held = certificate()
    page = text(client_of("auditor").get(url("certificate", held.pk), {"on": "2025-02-01"}))
    assert "from 3 mm" in page
    assert "ISO 9606-1:2012, 5.7, Table 8" in page
    assert "135 · GMAW, 138 · GMAW metal-cored" in page
    assert "ISO 9606-1 135 P FW FM1 S t10 PB ml" in page  # written from the test piece, none was stored


def test_range_and_test_piece_follow_the_units_of_the_reader(client_of: SignIn) -> None:
    """1 in is 25.4 mm (exact); the lower end of a range is rounded up, so that nothing is admitted that SI refuses."""
    held = certificate()
    browser = client_of("auditor")
    assert "from 3 mm" in text(browser.get(url("certificate", held.pk)))
    page = text(browser.get(url("certificate", held.pk), {"units": "us"}))
    assert "from 0.119 in" in page
    assert "from 3 mm" not in page
    assert "from 0.119 in" in text(browser.get(url("person", held.person_id)))


def test_an_edition_not_held_is_shown_as_not_judged(client_of: SignIn) -> None:
    held = certificate(code="EN 287-1:2004")
    page = text(client_of("auditor").get(url("certificate", held.pk)))
    assert "Not judged" in page
    assert "does not hold EN 287-1:2004" in page
    assert "is-covered" not in page


def test_void_entries_and_their_corrections_are_both_shown(client_of: SignIn) -> None:
    held = certificate()
    wrong = event(held, date(2025, 7, 1), evidence="joint C3")
    event(held, date(2025, 7, 5), "correction", voids=wrong, reason="another welder was meant")
    page = text(client_of("auditor").get(url("certificate", held.pk)))
    assert "<s>2025-07-01</s>" in page
    assert "another welder was meant" in page
    assert "joint C3" in page


def test_text_on_file_cannot_run_in_a_page(client_of: SignIn) -> None:
    holder = person("<script>alert(1)</script>", site="<b>Hall</b>")
    held = certificate(holder, designation="<img src=x>", number="<i>1</i>")
    event(held, date(2025, 7, 1), evidence="<script>")
    logged(holder, date(2025, 7, 1), joint="<script>")
    browser = client_of("coordinator")
    for address in (url("person_list"), url("person", holder.pk), url("certificate", held.pk), url("weld_log")):
        page = browser.get(address).content.decode()
        for bad in ("<script>alert", "<b>Hall", "<img src=x>", "<i>1</i>"):
            assert bad not in page, address


@pytest.mark.parametrize("name", ["coordinator", "supervisor"])
def test_a_person_is_entered_by_the_coordinator_only(client_of: SignIn, name: str) -> None:
    data = {"name": "Ida Voss", "identification": "W21", "active": "on"}
    response = client_of(name).post(url("person_new"), data)
    assert response.status_code == (302 if name == "coordinator" else 403)
    assert Person.objects.count() == (1 if name == "coordinator" else 0)


def test_bad_entries_of_a_person_are_named_at_their_field(client_of: SignIn) -> None:
    person("Ada Krol", identification="W07")
    response = client_of("coordinator").post(
        url("person_new"), {"name": "", "identification": "W07", "born_on": "31.31.1990"}
    )
    assert response.status_code == 422
    page = text(response)
    assert "write year-month-day" in page
    assert "needs a last day of work" in page
    assert "Somebody on file has this already" in page
    data = {"name": "Bo Lang", "identification": "W08", "active": "on"}
    tomorrow = (timezone.localdate() + timedelta(days=1)).isoformat()
    assert "still to come" in text(client_of("coordinator").post(url("person_new"), data | {"born_on": tomorrow}))
    assert Person.objects.count() == 1


def test_two_who_change_a_person_at_once_see_each_other(client_of: SignIn) -> None:
    holder = person()
    seen = holder.changed_at.isoformat()
    holder.site = "Hall 2"
    holder.save()
    data = {"name": "Ada Krol", "identification": "ADA-KROL", "site": "Hall 3", "active": "on", "seen_version": seen}
    response = client_of("coordinator").post(url("person_edit", holder.pk), data)
    assert response.status_code == 409
    assert "Hall 2" in text(response)
    assert Person.objects.get().site == "Hall 2"


def test_a_signature_of_the_supervisor_counts_for_own_people_only(client_of: SignIn, supervisor: Any) -> None:
    own, other = fresh(person(supervisor=supervisor)), fresh(person("Bo Lang"), number="W-2")
    browser = client_of("supervisor")
    data = {"on": timezone.localdate().isoformat(), "evidence": "B12/3", "by_name": "Somebody Else"}
    assert browser.get(url("confirm", own.pk)).status_code == 200
    assert browser.get(url("confirm", other.pk)).status_code == 403
    assert browser.post(url("confirm", own.pk), SIGNED | data).status_code == 302
    assert browser.post(url("confirm", other.pk), SIGNED | data).status_code == 403
    assert own.events.get().by_name == "Supervisor"  # signs in the own name only
    assert not other.events.exists()


def test_a_confirmation_takes_its_evidence_from_the_log(client_of: SignIn) -> None:
    held = fresh()
    day = timezone.localdate() - timedelta(days=10)
    entry = logged(held.person, day)
    browser = client_of("qa")
    assert "joint B12/3" in text(browser.get(url("confirm", held.pk)))
    data = {"on": timezone.localdate().isoformat(), "by_name": "Petra V", "use": [entry.pk]}
    assert browser.post(url("confirm", held.pk), SIGNED | data).status_code == 302
    made = held.events.get()
    assert made.evidence == f"{day.isoformat()}: 135 · GMAW, joint B12/3, WPS 014"
    assert made.details == {"weld_log": str(entry.pk)}


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"evidence": ""}, "State the evidence"),
        ({"on": "2199-01-01"}, "later than today"),
        ({"on": "yesterday"}, "write year-month-day"),
        ({"on": "2001-01-01"}, "nothing can be confirmed before it"),
        ({"by_name": ""}, "required"),
    ],
)
def test_a_confirmation_that_cannot_be_is_refused_at_its_field(
    client_of: SignIn, change: dict[str, str], said: str
) -> None:
    held = fresh()
    data = {"on": timezone.localdate().isoformat(), "by_name": "Petra V", "evidence": "B12/3"} | change
    response = client_of("qa").post(url("confirm", held.pk), SIGNED | data)
    assert response.status_code == 422
    assert said in text(response)
    assert not held.events.exists()


def test_a_date_before_the_last_entry_must_be_said_knowingly(client_of: SignIn) -> None:
    held = fresh()
    today = timezone.localdate()
    event(held, today - timedelta(days=10))
    data = {"on": (today - timedelta(days=20)).isoformat(), "by_name": "Petra V", "evidence": "B12/3"}
    browser = client_of("qa")
    response = browser.post(url("confirm", held.pk), SIGNED | data)
    assert response.status_code == 422
    assert "before the last entry on file" in text(response)
    assert browser.post(url("confirm", held.pk), SIGNED | data | {"knowingly": "on"}).status_code == 302
    assert "said_knowingly" in held.events.earliest("on").details


def test_a_revocation_is_recorded_with_its_reason(client_of: SignIn) -> None:
    held = fresh()
    today = timezone.localdate().isoformat()
    data = {"kind": "revocation", "on": today, "by_name": "Marta L"}
    browser = client_of("coordinator")
    assert browser.post(url("revoke", held.pk), SIGNED | data | {"reason": ""}).status_code == 422
    assert browser.post(url("revoke", held.pk), SIGNED | data | {"reason": "cold laps"}).status_code == 302
    assert "cold laps" in text(browser.get(url("certificate", held.pk)))
    assert "Not valid" in text(browser.get(url("certificate", held.pk)))


def test_a_supervisor_corrects_a_confirmation_but_no_revocation(client_of: SignIn, supervisor: Any) -> None:
    held = fresh(person(supervisor=supervisor))
    today = timezone.localdate()
    wrong, revoked = event(held, today), event(held, today, "revocation", reason="doubt")
    browser = client_of("supervisor")
    data = {"on": today.isoformat(), "reason": "another welder was meant"}
    assert browser.post(url("correct", wrong.pk), SIGNED | data).status_code == 302
    assert browser.post(url("correct", revoked.pk), SIGNED | data).status_code == 403
    assert held.events.count() == 3


def test_the_log_is_written_for_own_people(client_of: SignIn, supervisor: Any) -> None:
    own, other = person(supervisor=supervisor), person("Bo Lang")
    today = timezone.localdate()
    data = {"person": own.pk, "on": today.isoformat(), "process": "135", "mechanisation": "partly_mechanised"}
    browser = client_of("supervisor")
    assert browser.post(url("weld_log_new"), data).status_code == 302
    assert browser.post(url("weld_log_new"), data | {"person": other.pk}).status_code == 422
    late = browser.post(url("weld_log_new"), data | {"on": (today + timedelta(days=1)).isoformat()})
    assert "later than today" in text(late)
    entry = own.weld_log.get()
    assert (entry.entered_by, entry.entered_by_name) == (supervisor, "Supervisor")


def test_the_log_as_of_a_day_ends_with_that_day(client_of: SignIn) -> None:
    holder, browser = person(), client_of("auditor")
    for day in (date(2025, 3, 1), date(2025, 3, 2)):
        logged(holder, day, joint=f"J{day.day}")
    page = text(browser.get(url("weld_log"), {"on": "2025-03-01"}))
    assert ("J1" in page, "J2" in page) == (True, False)
    assert "J2" in text(browser.get(url("weld_log"), {"on": "2025-03-02"}))


def test_an_entry_is_struck_out_with_a_reason_and_stays(client_of: SignIn, supervisor: Any) -> None:
    entry = logged(person(supervisor=supervisor), timezone.localdate())
    other = logged(person("Bo Lang"), timezone.localdate())
    browser = client_of("supervisor")
    assert browser.get(url("weld_log_strike", other.pk)).status_code == 403
    assert browser.post(url("weld_log_strike", entry.pk), {"reason": ""}).status_code == 422
    assert browser.post(url("weld_log_strike", entry.pk), {"reason": "wrong joint"}).status_code == 302
    assert "Struck out: wrong joint" in text(browser.get(url("weld_log")))


def test_the_log_has_no_column_for_notes_or_corrections_that_nobody_makes(client_of: SignIn) -> None:
    entry = logged(person(), timezone.localdate())
    heads = [">Note<", ">Correction<"]
    assert [head in text(client_of("auditor").get(url("weld_log"))) for head in heads] == [False, False]
    assert [head in text(client_of("coordinator").get(url("weld_log"))) for head in heads] == [False, True]
    entry.note = "out of position"
    entry.save()
    assert [head in text(client_of("auditor").get(url("weld_log"))) for head in heads] == [True, False]


def test_the_log_of_a_person_names_the_way_of_welding_once_and_no_joint_where_there_is_none(client_of: SignIn) -> None:
    entry = logged(person(), timezone.localdate(), joint="")
    page = text(client_of("auditor").get(url("person", entry.person_id)))
    assert "135 · GMAW, partly mechanised</td>" in page
    assert '<td class="none">–</td>' in page


def test_what_is_voided_is_named_with_its_reason(client_of: SignIn) -> None:
    held = fresh()
    wrong = event(held, timezone.localdate(), "revocation", reason="Lack of fusion.")
    page = text(client_of("coordinator").get(url("correct", wrong.pk)))
    assert "Reason: Lack of fusion. It stays on file" in page


@pytest.mark.parametrize(
    ("code", "heading"), [("ISO 9606-1:2012", "Dates and option"), ("AWS D1.1:2020 welder", "Dates")]
)
def test_dates_stand_with_the_option_where_the_standard_has_one(client_of: SignIn, code: str, heading: str) -> None:
    holder = person()
    page = text(client_of("coordinator").get(url("certificate_new", holder.pk), {"code": code}))
    assert f">{heading}<" in page


def test_what_falls_due_and_what_lapsed(client_of: SignIn, django_assert_max_num_queries: Any) -> None:
    for number in range(10):
        certificate(person(f"Person {number}"), number=f"W-{number}")
    browser = client_of("auditor")
    with django_assert_max_num_queries(15):
        before = text(browser.get(url("due"), {"on": "2025-07-31"}))
    assert "Within 30 days (10)" in before
    assert "No longer valid (0)" in before
    after = text(browser.get(url("due"), {"on": "2025-08-01"}))
    assert "No longer valid (10)" in after
    assert "no confirmation between 2025-01-31 and 2025-07-31" in after


def test_what_falls_due_is_narrowed_down_and_taken_away(client_of: SignIn, supervisor: Any) -> None:
    certificate(person("Ada Krol", site="Hall 1", supervisor=supervisor))
    certificate(person("Bo Lang", site="=Hall 2"), number="W-2")
    browser = client_of("supervisor")
    on = {"on": "2025-07-31"}
    assert "Bo Lang" not in text(browser.get(url("due"), on | {"site": "Hall 1"}))
    assert "Bo Lang" not in text(browser.get(url("due"), on | {"mine": "on"}))
    assert "Ada Krol" not in text(browser.get(url("due"), on | {"process": "111"}))
    lines = b"".join(browser.get(url("due"), on | {"export": "csv"}).streaming_content).decode().splitlines()
    assert len(lines) == 3
    assert "'=Hall 2" in lines[2]
    assert browser.get(url("due"), on | {"export": "xlsx"}).content[:2] == b"PK"


@pytest.mark.parametrize("query", [{"within": "45"}, {"export": "pdf"}, {"site": "Mars"}, {"on": "tomorrow"}])
def test_an_address_that_cannot_be_read_is_refused(client_of: SignIn, query: dict[str, str]) -> None:
    assert client_of("auditor").get(url("due"), query).status_code == 400


def test_place_and_employer_stand_on_one_line_where_the_window_is_wide(client_of: SignIn) -> None:
    person("Ada Krol", employer="Nordhafen Steel Structures", site="Hall 2")
    page = text(client_of("auditor").get("/people/"))
    for value in ("Nordhafen Steel Structures", "Hall 2"):
        assert f'<td class="line">{value}</td>' in page


def test_a_form_that_was_not_saved_is_headed_by_what_is_on_file(client_of: SignIn) -> None:
    """The name that was typed is no name yet."""
    page = url("person_edit", person().pk)
    answer = client_of("coordinator").post(page, {"name": "Eve Marsh", "identification": "W-7"})
    assert answer.status_code == 422
    assert "Change Ada Krol (ADA-KROL)</h1>" in text(answer) and "Eve Marsh" in text(answer)
