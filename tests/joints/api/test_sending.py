"""What machines write: all of it or nothing, in the system's own name in the trail, and never an approval."""

import gzip
import json
from datetime import date
from decimal import Decimal
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from joints.models import ImportBatch, Joint, WeldRunFinding
from qualifications.models import WeldLogBatch, WeldLogEntry
from register.models import AuditEntry
from register.systems.scopes import Scope
from register.trail.verify import verify
from tests.joints.api.conftest import Asking
from tests.joints.makers import make_job, make_joint, make_station
from tests.joints.weld_logs import log, make_procedure
from tests.qualifications.make import person

WELD = {
    "moment": "2026-02-03T10:15:00",
    "person": "ADA-KROL",
    "process": "GMAW",
    "mechanisation": "partly mechanised",
    "joint": "B12/3",
    "wps": "WPS 014",
    "workstation": "Cell 3",
    "current_a": 231.5,
    "voltage_v": "26.42",
}
LIST = "Assembly;Joint number;Weld type;Thickness 1 [mm]\nB12;1;fillet;12\nB12;2;fillet;20\n"


def write(client: Client, *entries: dict[str, Any]) -> Any:
    return client.post("/api/v1/weld-log", {"entries": entries}, content_type="application/json")


def test_welds_are_logged_in_the_name_of_the_system(asking: Asking) -> None:
    ada = person("Ada Krol")
    response = write(asking(Scope.WRITE_LOG), WELD, WELD | {"moment": "2026-02-04", "current_a": None})
    assert response.status_code == 201, response.content
    assert response.json() | {"batch": 0, "notes": []} == {"batch": 0, "written": 2, "known": 0, "notes": []}
    second, first = WeldLogEntry.objects.all()
    assert (first.person, first.process, first.current_a) == (ada, "135", Decimal("231.5"))
    assert (second.on, second.at, second.voltage_v) == (date(2026, 2, 4), None, Decimal("26.42"))
    assert {first.entered_by_name, first.history.get().history_user_name} == {"system: Cell 3"}
    assert first.entered_by is None
    entry = AuditEntry.objects.order_by("number").last()
    assert (entry.user_name, entry.act) == ("system: Cell 3", "took in a log file")
    assert verify().whole


def test_the_same_welds_are_written_once(asking: Asking) -> None:
    person("Ada Krol")
    client = asking(Scope.WRITE_LOG)
    assert write(client, WELD).status_code == 201
    assert write(client, WELD).status_code == 409
    response = write(client, WELD, WELD | {"joint": "B12/4"})
    assert (response.json()["written"], response.json()["known"]) == (1, 1)
    assert WeldLogEntry.objects.count() == 2
    assert write(client, WELD, WELD | {"joint": "B12/4"}).status_code == 409


@pytest.mark.parametrize(
    ("change", "field", "said"),
    [
        ({"person": "Nobody"}, "person", "nobody on file"),
        ({"process": "glue"}, "process", "glue"),
        ({"moment": "11/12/2026"}, "moment", "2026-11-24 14:03:22"),
        ({"moment": "2149-01-01"}, "moment", "later than now"),
        ({"mechanisation": ""}, "mechanisation", "empty"),
        ({"joint": "=HYPERLINK(1)"}, "joint", "formula"),
        ({"joint": "x" * 121}, "joint", "120"),
        ({"current_a": -1}, "entries.current_a", "greater than 0"),
        ({"current_a": "NaN"}, "entries.current_a", "finite"),
        ({"wps": "W\x00"}, "entries.wps", "no text"),
    ],
)
def test_one_bad_weld_keeps_all_out(asking: Asking, change: dict[str, Any], field: str, said: str) -> None:
    person("Ada Krol")
    response = write(asking(Scope.WRITE_LOG), WELD, WELD | {"joint": "B12/4"} | change)
    assert response.status_code == 422, response.content
    (error,) = response.json()["errors"]
    assert (error["field"], error["row"]) == (field, 2)
    assert said in error["message"]
    assert not WeldLogEntry.objects.exists() and not WeldLogBatch.objects.exists()
    assert AuditEntry.objects.filter(user_name__startswith="system").count() == 0


@pytest.mark.parametrize("entries", [[], [WELD] * 1001, "welds", None])
def test_a_sending_of_another_size_or_shape_is_refused(asking: Asking, entries: Any) -> None:
    body = json.dumps({"entries": entries})
    assert asking().post("/api/v1/weld-log", body, content_type="application/json").status_code == 422


def propose(client: Client, job: int, data: bytes, name: str = "list.csv") -> Any:
    return client.post(f"/api/v1/jobs/{job}/joint-lists?file_name={name}", data, content_type="text/csv")


def test_joints_are_proposed_and_a_person_takes_them_in(asking: Asking, client_of: Any) -> None:
    job = make_job()
    client = asking(Scope.PROPOSE_JOINTS)
    response = propose(client, job.pk, LIST.encode())
    assert response.status_code == 201, response.content
    said = response.json()
    assert (said["rows"], said["errors"], said["status"]) == (2, 0, "uploaded")
    assert not Joint.objects.exists(), "a proposal counts for nothing"
    entry = AuditEntry.objects.order_by("number").last()
    assert (entry.user_name, entry.act) == ("system: Cell 3", "sent in a list of welds")
    person_browser = client_of("coordinator")
    assert "system: Cell 3" in person_browser.get(said["look_at"]).content.decode()
    assert person_browser.post(reverse("joints:import_confirm", args=[said["id"]])).status_code == 302
    assert Joint.objects.count() == 2
    again = client.get(f"/api/v1/joint-lists/{said['id']}").json()
    assert (again["status"], again["confirmed_by"]) == ("confirmed", "coordinator")
    assert propose(client, job.pk, LIST.encode()).status_code == 409


def test_what_is_wrong_in_a_proposal_is_named(asking: Asking) -> None:
    job = make_job()
    client = asking(Scope.PROPOSE_JOINTS)
    said = propose(client, job.pk, LIST.replace("20", "thick").encode()).json()
    assert said["errors"] == 1
    assert (said["problems"][0]["row"], said["problems"][0]["column"]) == (3, "Thickness 1 [mm]")
    assert propose(client, job.pk, b"").status_code == 422
    assert propose(client, job.pk, b"%PDF-1.7").status_code == 422
    assert propose(client, job.pk, b"x" * (10 * 1024**2 + 1)).status_code == 413
    assert propose(client, 999, LIST.encode()).status_code == 404
    assert ImportBatch.objects.count() == 1


@pytest.mark.parametrize("packed", [False, True])
def test_weld_values_are_judged(asking: Asking, packed: bool) -> None:
    make_station()
    joint, revision = make_joint(), make_procedure()
    data = log("0;B1/1;1;230;26;400", "1;B1/1;1;300;26;400", "2;B1/1;1;230;26;400")
    data = gzip.compress(data, mtime=0) if packed else data
    client = asking(Scope.WRITE_WELD_VALUES)
    url = f"/api/v1/jobs/{joint.assembly.job_id}/weld-values?file_name=cell.csv&revision={revision.pk}"
    response = client.post(url, data, content_type="text/csv")
    assert response.status_code == 201, response.content
    (run,) = response.json()["runs"]
    assert (run["joint_id"], run["outcome"]) == (joint.pk, "outside")
    assert run["details"]["excursions"][0]["by"] == "40"
    assert WeldRunFinding.objects.get().uploaded_by == "system: Cell 3"
    assert AuditEntry.objects.order_by("number").last().user_name == "system: Cell 3"
    assert client.post(url, data, content_type="text/csv").status_code == 409
    assert (
        client.post(url.replace(f"revision={revision.pk}", "revision=999"), data, content_type="text/csv").status_code
        == 422
    )


def test_a_body_over_the_limit_is_refused(asking: Asking, settings: Any) -> None:
    settings.BODY_LIMIT = 100
    response = asking().post("/api/v1/weld-log", "x" * 101, content_type="application/json")
    assert (response.status_code, response.headers["Content-Type"]) == (413, "application/problem+json")
