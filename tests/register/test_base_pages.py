"""The shared pages, asked as people would: lists, one thing, forms, acts, refusals."""

import re
from collections.abc import Callable
from datetime import timedelta
from typing import Any

import pytest
from django.test import Client
from django.utils import timezone
from django_tables2 import Column

from joints.models import Job
from register.base.forms import version_of
from register.base.tables import LeanTable
from register.models import AuditEntry

pytestmark = [pytest.mark.django_db, pytest.mark.urls("tests.register.base_pages")]

LIST = "/acts-for-tests/"
As = Callable[[str], Client]


@pytest.fixture
def acts(db: None) -> None:
    AuditEntry.objects.bulk_create(
        AuditEntry(user_name="ines" if n % 2 else "jonas", act=f"act {n:03}", subject="=1+1") for n in range(60)
    )


def page_of(client: Client, address: str, status: int = 200) -> str:
    answer = client.get(address)
    assert answer.status_code == status, answer.content.decode()[:500]
    return answer.content.decode()


def names(html: str) -> list[str]:
    return re.findall(r">(act \d+)</a>", html)


def test_a_list_shows_25_rows_and_the_way_on(client_of: As, acts: None) -> None:
    html = page_of(client_of("auditor"), LIST)
    assert len(names(html)) == 25
    assert "1 to 25 of 60" in html
    assert 'href="?page=2#list"' in html and 'id="list"' in html and 'rel="prev"' not in html
    last = page_of(client_of("auditor"), LIST + "?page=3")
    assert len(names(last)) == 10 and 'rel="next"' not in last and "51 to 60 of 60" in last


@pytest.mark.parametrize("page", ["0", "-1", "x", "99999999999999", "4", "²"])
def test_a_page_that_is_not_there_shows_one_that_is(client_of: As, acts: None, page: str) -> None:
    assert names(page_of(client_of("auditor"), f"{LIST}?page={page}"))


def test_search_takes_every_word_and_keeps_it_on_the_way(client_of: As, acts: None) -> None:
    html = page_of(client_of("auditor"), LIST + "?q=ines+act&sort=act")
    assert names(html)[0] == "act 001" and "1 to 25 of 30" in html
    assert "?q=ines+act&amp;sort=act&amp;page=2" in html
    assert "?q=ines+act&amp;sort=-act" in html
    assert 'aria-sort="ascending"' in html


def test_a_list_shown_as_blocks_has_a_way_to_sort_it(client_of: As, acts: None) -> None:
    """On a phone the heads are out of sight: above the blocks stands by what they are sorted, and each other way."""
    ways = re.compile(r'<details class="sorts">.*?</details>', re.S)
    (found,) = ways.findall(page_of(client_of("auditor"), LIST + "?q=ines&sort=act&page=2"))
    assert "Sorted by <b>Act</b>" in found and "ascending" in found
    assert re.findall(r'href="([^"]+)"', found)[0] == "?q=ines&amp;sort=-act#list"
    assert [re.sub("<.*?>", "", way).strip() for way in re.findall(r"<li>(.*?)</li>", found, re.S)] == [
        "Act, descending", "Who", "At", "Subject id", "Subject type", "Number",
    ]  # fmt: skip
    assert not ways.findall(page_of(client_of("auditor"), LIST + "?q=nothing-like-it"))


def test_a_search_of_a_thousand_words_is_answered(
    client_of: As, acts: None, django_assert_max_num_queries: Callable[..., Any]
) -> None:
    """Each word was a condition of its own, and the database refused them after seconds of work."""
    client = client_of("auditor")
    with django_assert_max_num_queries(12) as asked:
        assert "1 to 25 of 30" in page_of(client, LIST + "?q=ines+act+" + "a+" * 1000)
        page_of(client, LIST + "?q=" + "+".join(f"w{n}" for n in range(1000)))
    assert max(len(question["sql"]) for question in asked) < 10_000


def test_nothing_found_and_nothing_on_file_are_two_things(client_of: As, acts: None) -> None:
    html = page_of(client_of("auditor"), LIST + "?q=nowhere")
    assert "Nothing on file matches." in html and "Nothing has been done yet." not in html


def test_an_empty_list_teaches(client_of: As) -> None:
    html = page_of(client_of("auditor"), LIST)
    assert "Nothing has been done yet." in html and "Every act is written here." in html


def test_a_list_costs_a_fixed_number_of_queries(client_of: As, acts: None, django_assert_num_queries) -> None:
    client = client_of("auditor")
    # Session, user, roles (once, for what one may do and for their names), rows, count up to the cap.
    with django_assert_num_queries(5):
        client.get(LIST)
    with django_assert_num_queries(5):
        client.get(LIST + "?page=2&q=act&sort=-act")


def test_values_are_escaped(client_of: As) -> None:
    AuditEntry.objects.create(act="<script>", note="<b>", subject="&")
    html = page_of(client_of("auditor"), LIST)
    assert "&lt;script&gt;</a>" in html and "&lt;b&gt;" in html and "<b>&" not in html
    assert "<script>" not in html


def test_a_list_is_taken_away_whole_and_disarmed(client_of: As, acts: None) -> None:
    answer = client_of("auditor").get(LIST + "?export=csv&q=ines&page=2")
    lines = b"".join(answer.streaming_content).decode("utf-8-sig").splitlines()
    assert len(lines) == 31 and lines[0].startswith("Act,Who,")
    assert ",'=1+1," in lines[1]
    assert client_of("auditor").get(LIST + "?export=xlsx").content[:2] == b"PK"


def test_an_unknown_kind_of_file_is_refused(client_of: As, acts: None) -> None:
    assert "as csv or xlsx, not as “pdf”" in page_of(client_of("auditor"), LIST + "?export=pdf", 400)


def test_a_bad_date_is_refused_with_the_remedy(client_of: As) -> None:
    html = page_of(client_of("auditor"), LIST + "?on=2025-02-29", 400)
    assert "is not a date: write year-month-day" in html and "Sign out" in html


def test_the_date_asked_about_stays_until_let_go(client_of: As) -> None:
    client = client_of("auditor")
    assert 'as it stood on <span class="day">2024-02-29' in page_of(client, LIST + "?on=2024-02-29")
    assert 'as it stood on <span class="day">2024-02-29' in page_of(client, LIST)
    assert "as it stood" not in page_of(client, LIST + "?on=today")


def test_a_day_to_come_did_not_stand_yet(client_of: As) -> None:
    ahead = timezone.localdate().replace(day=1) + timedelta(days=400)
    client = client_of("auditor")
    html = page_of(client, f"{LIST}?on={ahead}")
    assert "as it will stand on" in html and "as it stood" not in html
    assert "What will need a decision" in page_of(client, "/")


def test_whoever_may_not_is_told_so(client_of: As) -> None:
    html = page_of(client_of("auditor"), "/jobs-for-tests/", 403)
    assert "Not open to you" in html and "signed in as auditor" in html
    assert client_of("nobody").get(LIST).status_code == 302


def test_an_unknown_address_says_so(client_of: As) -> None:
    assert "Not on file" in page_of(client_of("qa"), "/acts-for-tests/nowhere/", 404)


@pytest.fixture
def job(db: None) -> Job:
    return Job.objects.create(number="4711", title="Hall", client="Nordhafen")


def change(client: Client, job: Job, **entries: str):
    given = {"number": job.number, "title": job.title, "client": job.client} | entries
    return client.post(f"/jobs-for-tests/{job.pk}/", given)


def seen(client: Client, job: Job) -> str:
    return re.search(r'name="seen_version" value="([^"]+)"', page_of(client, f"/jobs-for-tests/{job.pk}/"))[1]


def test_a_form_saves_and_says_so(client_of: As, job: Job) -> None:
    client = client_of("coordinator")
    answer = change(client, job, title="Hall 2", seen_version=seen(client, job))
    assert answer.status_code == 302
    job.refresh_from_db()
    assert job.title == "Hall 2"


def test_the_second_to_save_sees_both_versions_and_overwrites_nothing(client_of: As, job: Job) -> None:
    first, second = client_of("coordinator"), client_of("second_coordinator")
    opened = seen(second, job)
    change(first, job, title="Hall North", seen_version=seen(first, job))
    answer = change(second, job, title="Hall South", seen_version=opened)
    html = answer.content.decode()
    assert answer.status_code == 409
    assert "coordinator saved it" in html and "Hall North" in html and "Hall South" in html
    assert ">Client</th>" not in html, "only fields that differ are compared"
    job.refresh_from_db()
    assert job.title == "Hall North"
    again = re.search(r'name="seen_version" value="([^"]+)"', html)[1]
    assert again == version_of(job)
    assert change(second, job, title="Hall South", seen_version=again).status_code == 302


def test_a_form_that_hides_what_it_saw_is_a_clash(client_of: As, job: Job) -> None:
    assert change(client_of("coordinator"), job, title="x").status_code == 409


def test_what_is_missing_is_named_at_the_field(client_of: As, job: Job) -> None:
    client = client_of("coordinator")
    answer = change(client, job, title="", starts_on="soon", seen_version=seen(client, job))
    html = answer.content.decode()
    assert answer.status_code == 422
    assert ">Title</a>: Missing; enter it." in html and 'aria-invalid="true"' in html
    assert 'id="id_title_error"' in html and 'aria-describedby="id_title_error"' in html
    assert 'type="date" name="starts_on"' in html


def test_facts_are_shown_and_gaps_named(client_of: As, job: Job) -> None:
    job.client = ""
    job.save()
    html = page_of(client_of("auditor"), f"/jobs-for-tests/{job.pk}/show/")
    assert '<dt>Client</dt>\n  <dd><span class="soft">not stated</span>' in html and "<dd>Hall</dd>" in html


def test_an_act_is_shown_first_then_done(client_of: As, job: Job) -> None:
    client, address = client_of("coordinator"), f"/jobs-for-tests/{job.pk}/rename/"
    assert "Hall loses its name." in page_of(client, address)
    job.refresh_from_db()
    assert job.title == "Hall"
    assert client.post(address).status_code == 302
    job.refresh_from_db()
    assert job.title == "renamed"


def test_an_act_that_cannot_be_done_says_why(client_of: As, job: Job) -> None:
    job.title = "kept"
    job.save()
    answer = client_of("coordinator").post(f"/jobs-for-tests/{job.pk}/rename/")
    assert answer.status_code == 409 and "it is called kept" in answer.content.decode()


def test_the_first_column_names_the_row() -> None:
    class Two(LeanTable):
        name = Column()
        size = Column(verbose_name='Size "mm"')
        numeric = ("size",)

    table = Two([{"name": "a", "size": 3}, {"name": "b", "size": None}])
    assert table.body.splitlines() == [
        '<tr><th scope="row">a</th><td class="num" data-label="Size &quot;mm&quot;">3</td></tr>',
        '<tr><th scope="row">b</th><td class="none num">–</td></tr>',
    ]


@pytest.mark.parametrize(("said", "shown"), [("wet", ["name", "note", "way"]), ("", ["name", "way"])])
def test_a_column_that_says_nothing_is_left_out_and_ways_on_are_off_paper(said: str, shown: list[str]) -> None:
    class Three(LeanTable):
        name = Column()
        note = Column()
        way = Column(empty_values=())
        if_said = ("note",)
        off_paper = says_itself = ("way",)

        def render_way(self, record: dict[str, str]) -> str:
            return "on" if record["note"] else ""

    table = Three([{"name": "a", "note": ""}, {"name": "b", "note": said}])
    assert [column.name for column in table.shown] == shown
    assert [head.css for head in table.heads][-1] == "onscreen"
    assert '<td class="none onscreen"></td>' in table.body
    assert ('<td class="onscreen">on</td>' in table.body) is bool(said)
