"""What the API says is what the pages say: states as of a day, verdicts, pages, filters, entity tags, limits."""

from datetime import date, timedelta
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.db import connection
from django.test import Client

from joints.day import Day
from qualifications.models import Certificate
from qualifications.periods import state
from register.api.rates import Rate
from register.held.firm import firm_settings
from register.systems.scopes import Scope
from tests.conftest import dropped_triggers
from tests.joints.api.conftest import Asking, sending
from tests.joints.makers import make_job, make_joint
from tests.qualifications.make import certificate, event, logged, person
from tests.wps.iso import iso_draft, iso_record
from tests.wps.url_samples import SAMPLES
from wps.judgement import judge
from wps.models import IssuedSheet, ProcedureRevision


def read(client: Client, url: str, **query: object) -> Any:
    response = client.get(url, query)
    assert response.status_code == 200, response.content
    return response.json()


def test_a_list_in_pages_holds_every_row_once(asking: Asking) -> None:
    keys = [person(f"Ada {number}").pk for number in range(5)]
    client, seen = asking(Scope.READ_PEOPLE), []
    url: str | None = "/api/v1/people?limit=2&q=ada"
    for _ in range(4):
        assert url is not None
        page = read(client, url)
        seen += [one["id"] for one in page["items"]]
        url = page["next"]
        if url is None:
            break
        person(f"Late Ada {len(seen)}", site="Hall 2")
    assert url is None or seen[:5] == keys
    assert seen[:5] == keys
    assert len(seen) == len(set(seen))


@pytest.mark.parametrize(
    ("query", "found"),
    [
        ({"q": "KROL"}, ["Ada Krol"]),
        ({"site": "Hall 2"}, ["Ada Krol"]),
        ({"active": "false"}, ["Bo Lind"]),
        ({"changed_since": "2149-12-30T00:00:00Z"}, []),
        ({"changed_since": "2020-01-01T00:00:00"}, ["Ada Krol", "Bo Lind"]),
    ],
)
def test_people_are_filtered(asking: Asking, query: dict[str, str], found: list[str]) -> None:
    person("Ada Krol", site="Hall 2")
    person("Bo Lind", active=False, left_on=date(2026, 1, 31))
    assert [one["name"] for one in read(asking(), "/api/v1/people", **query)["items"]] == found


def test_no_call_gives_out_when_and_where_somebody_was_born(asking: Asking) -> None:
    ada = person("Ada Krol", born_on=date(1981, 2, 3), born_in="Wismar")
    client = asking()
    for url in ("/api/v1/people", f"/api/v1/people/{ada.pk}", "/api/v1/openapi.json"):
        said = client.get(url).content.decode()
        assert "1981" not in said and "Wismar" not in said and "born" not in said


# Welded on 31 January 2025: in force up to 31 July without a confirmation (ISO 9606-1:2012, 9.2), see
# tests/codes/test_iso_9606_1_2012_validity.py.
@pytest.mark.parametrize(("on", "valid"), [("2025-01-30", False), ("2025-07-31", True), ("2025-08-01", False)])
def test_the_state_of_a_certificate_is_that_of_the_day(asking: Asking, on: str, valid: bool) -> None:
    one = certificate()
    said = read(asking(), f"/api/v1/certificates/{one.pk}", on=on)
    found = state(one, date.fromisoformat(on), firm_settings())
    assert said["state"]["valid"] is valid is found.valid
    assert said["state"]["because"] == found.because
    assert said["state"]["clause"] == str(found.clause)
    assert said["state"]["mark"] == found.clause.mark.value
    assert said["earns"][0]["limits"]
    assert read(asking(name="Other"), "/api/v1/certificates", on=on)["items"][0]["state"]["valid"] is valid


def test_events_and_log_are_read(asking: Asking) -> None:
    one = certificate()
    event(one, date(2025, 7, 1), by_role="coordinator")
    logged(one.person, date(2025, 6, 1))
    client = asking()
    said = read(client, f"/api/v1/certificates/{one.pk}")
    assert [(e["kind"], e["on"], e["by_role"]) for e in said["events"]] == [
        ("confirmation", "2025-07-01", "coordinator")
    ]
    assert len(read(client, "/api/v1/weld-log", since="2025-06-01", until="2025-06-01")["items"]) == 1
    assert not read(client, "/api/v1/weld-log", since="2025-06-02")["items"]
    assert not read(client, "/api/v1/certificates", person=one.person_id + 1)["items"]


def test_what_falls_due(asking: Asking) -> None:
    one = certificate()
    client = asking()
    (item,) = read(client, "/api/v1/due", on="2025-07-01", within=30)["items"]
    assert (item["certificate_id"], item["by"], item["days"], item["lapsed"]) == (one.pk, "2025-07-31", 30, False)
    assert item["clause"] and item["mark"]
    assert not read(client, "/api/v1/due", on="2025-07-01", within=29)["items"]
    (lapse,) = read(client, "/api/v1/due", on="2025-08-10")["items"]
    assert lapse["lapsed"] is True


def test_a_joint_is_answered_as_on_its_page(asking: Asking, coordinator: User, second_coordinator: User) -> None:
    joint = make_joint()
    certificate(person("Ada Krol"))
    on = date(2025, 3, 1)
    client = asking()
    said = read(client, f"/api/v1/joints/{joint.pk}/coverage", on=on.isoformat())
    answer = Day(on, firm_settings()).explain(joint, joint.assembly.job)
    assert (said["outcome"], said["sentence"]) == (answer.outcome.value, answer.sentence)
    assert said["reasons"] == list(answer.reasons)
    assert said["final"]["nearest_certificate"]["person_name"] == "Ada Krol"
    findings = said["final"]["nearest_certificate"]["verdict"]["findings"]
    assert findings and all(one["clause"] and one["mark"] for one in findings)
    assert any(one["margin"] is not None for one in findings)
    less = read(client, f"/api/v1/joints/{joint.pk}/coverage", on=on.isoformat(), findings="missed")
    assert {one["outcome"] for one in less["final"]["nearest_certificate"]["verdict"]["findings"]} <= {
        "outside",
        "not stated",
    }
    (line,) = read(client, f"/api/v1/jobs/{joint.assembly.job_id}/coverage", on=on.isoformat())["items"]
    assert (line["outcome"], line["sentence"]) == (answer.outcome.value, answer.sentence)


def test_a_joint_described_is_answered_like_the_same_on_file(asking: Asking) -> None:
    joint = make_joint(tack_workstation=None, final_workstation=None)
    plain = read(client := asking(), f"/api/v1/joints/{joint.pk}")
    stated = {name: plain[name] for name in ("weld_type", "joint_type", "product", "grade_1", "grade_2", "position")}
    stated |= {"t1_mm": 12, "t2_mm": "20.0", "throat_mm": "5", "final_process": "135", "tack_process": "135"}
    stated |= {"tack_length_mm": 50, "tack_throat_mm": 3}
    body = {"job": joint.assembly.job.number, "on": "2026-11-25", "joint": stated}
    said = client.post("/api/v1/coverage", body, content_type="application/json").json()
    known = read(client, f"/api/v1/joints/{joint.pk}/coverage", on="2026-11-25")
    assert said["final"] == known["final"]
    assert said["tack"] == known["tack"]


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"job": "nowhere"}, "job"),
        ({"joint": {"grade_1": "S355J9"}}, "joint.grade_1"),
        ({"joint": {"t1_mm": -1}}, "joint.t1_mm"),
        ({"joint": {"t1_mm": 1e300}}, "joint.t1_mm"),
        ({"joint": {"final_workstation": "Moon"}}, "joint.final_workstation"),
        ({"joint": {"position": "upside down"}}, "joint.position"),
        ({"joint": {"weld_type": "fil\x00let"}}, "joint.weld_type"),
        ({"on": "2026-02-30"}, "on"),
        ({"on": "1066-10-14"}, "on"),
        ({"joint": None}, "joint"),
        ({"joint": "fillet"}, "joint"),
        ({"joint": {"weld_typ": "fillet"}}, "joint.weld_typ"),
        ({"date": "2026-11-25"}, "date"),
    ],
)
def test_a_bad_question_names_the_field(asking: Asking, change: dict[str, Any], field: str) -> None:
    body = {"on": "2026-11-25", "joint": {"weld_type": "fillet"}} | change
    response = asking().post("/api/v1/coverage", body, content_type="application/json")
    assert response.status_code == 422
    assert [one["field"] for one in response.json()["errors"]] == [field], response.json()
    assert response.json()["errors"][0]["message"]


def test_a_revision_is_judged_as_on_its_page(asking: Asking, coordinator: User) -> None:
    draft = iso_draft(coordinator, [iso_record()])
    client = asking()
    said = read(client, f"/api/v1/revisions/{draft.pk}/judgement", on="2026-11-25")
    found = judge(ProcedureRevision.objects.get(pk=draft.pk), date(2026, 11, 25), firm_settings())
    assert (said["outcome"], said["sentence"]) == (found.outcome.value, found.sentence)
    allows = said["processes"][0]["variables"][0]["allows"][0]["finding"]
    assert allows["clause"] and allows["mark"]
    whole = read(client, f"/api/v1/revisions/{draft.pk}")
    assert whole["window"] == draft.window
    assert [one["number"] for one in whole["records"]] == ["WPQR 012"]
    assert read(client, f"/api/v1/procedures/{draft.procedure_id}")["revisions"][0]["status"] == "draft"
    assert not read(client, "/api/v1/revisions", in_force_on="2026-11-25")["items"]
    record = draft.records.get()
    assert read(client, f"/api/v1/records/{record.pk}")["earns"][0]["limits"]


def test_a_sheet_says_whether_it_is_in_force(asking: Asking, people: dict[str, Any]) -> None:
    sheet = IssuedSheet.objects.get(check_code=SAMPLES["wps:sheet_status"]()["code"])
    client = asking()
    said = read(client, f"/api/v1/sheets/{sheet.check_code.lower()}")
    assert (said["in_force"], said["letter"]) == (True, sheet.revision.letter)
    (line,) = read(client, f"/api/v1/revisions/{sheet.revision_id}/sheets")
    assert (line["sha256"], line["check_code"]) == (sheet.sha256, said["check_code"])


def test_an_issued_sheet_is_given_out_byte_for_byte(asking: Asking, people: dict[str, Any]) -> None:
    SAMPLES["wps:sheet_status"]()
    sheet = IssuedSheet.objects.get()
    url = f"/api/v1/revisions/{sheet.revision_id}/sheets/{sheet.sha256}"
    client = asking(Scope.READ_SHEETS)
    found = client.get(url)
    assert (found.status_code, found.headers["Content-Type"]) == (200, "application/pdf")
    assert found.content == bytes(sheet.pdf)
    assert client.get(url, headers={"If-None-Match": found.headers["ETag"]}).status_code == 304
    assert client.get(url.replace(sheet.sha256, "0" * 64)).status_code == 404
    assert client.get(url.replace(f"/{sheet.revision_id}/", "/99999/")).status_code == 404
    assert asking(Scope.READ_DUE, name="Cell 4").get(url).status_code == 403
    with dropped_triggers(connection):
        IssuedSheet.objects.update(pdf=b"%PDF-1.7 other")  # past the register
    refused = client.get(url)
    assert refused.status_code == 400 and "not what was issued" in refused.json()["detail"]


def test_what_is_unchanged_is_not_sent_again(asking: Asking) -> None:
    one = certificate()
    client, url = asking(), f"/api/v1/certificates/{one.pk}?on=2025-03-01"
    tag = client.get(url).headers["ETag"]
    again = client.get(url, headers={"if-none-match": tag})
    assert (again.status_code, again.content) == (304, b"")
    Certificate.objects.get(pk=one.pk).save()
    assert client.get(url, headers={"if-none-match": tag}).status_code == 200
    assert "no-cache" in client.get(url).headers["Cache-Control"]
    assert "Authorization" in client.get(url).headers["Vary"]


def test_too_many_questions_wait(asking: Asking, settings: Any) -> None:
    settings.API_PER_MINUTE, settings.API_REFUSALS_PER_MINUTE = 2, 2
    client, other = asking(), asking(name="Other")
    assert [client.get("/api/v1/jobs").status_code for _ in range(3)] == [200, 200, 429]
    assert int(client.get("/api/v1/jobs").headers["Retry-After"]) in range(1, 61)
    assert other.get("/api/v1/jobs").status_code == 200
    wrong = sending("wreg_wrong")
    assert [wrong.get("/api/v1/jobs").status_code for _ in range(3)] == [401, 401, 429]
    assert other.get("/api/v1/jobs").status_code == 200, "whoever has a token is not shut out by a neighbour's mistakes"


def test_a_rate_counts_by_the_minute() -> None:
    rate = Rate()
    assert [rate.seconds_to_wait("a", 2, 30.0) for _ in range(3)] == [0, 0, 30]
    assert rate.seconds_to_wait("b", 2, 30.0) == 0
    assert rate.seconds_to_wait("a", 2, 60.0) == 0


def test_jobs_are_listed(asking: Asking) -> None:
    make_job()
    make_job(number="24-032", title="Tower", client="Harbour works")
    client = asking()
    assert [one["number"] for one in read(client, "/api/v1/jobs", q="harbour")["items"]] == ["24-032"]
    assert read(client, "/api/v1/jobs", changed_since=(date(2149, 1, 1) + timedelta(1)).isoformat())["items"] == []
