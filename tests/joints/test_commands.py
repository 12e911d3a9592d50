"""The commands for a pipeline: coverage of a file, what falls due, sheets. Their output and their exit codes."""

import io
import json
import sys
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from django.core.management import CommandError, call_command

from joints.models import Assembly, Joint
from register.models import AuditEntry
from tests.conftest import PASSWORD
from tests.joints.makers import make_job, make_station
from tests.qualifications.make import certificate
from tests.wps.factory import approved
from tests.wps.iso import iso_draft, iso_record
from wps.models import IssuedSheet

HEAD = "Assembly;Joint number;Weld type;Joint type;Product;Grade;Thickness 1 [mm];Thickness 2 [mm];Throat a [mm];"
HEAD += "Position;Process;Workstation;Tack process;Tack workstation;Tack throat [mm]\n"
ROW = "B12;1;fillet;tee;plate;S355J2+N;12;12;5;PB;135;Cell 3;135;Cell 3;5\n"
ROBOT = {"name": "Cell 3", "kind": "robotic_cell", "mechanisation": "automatic", "unit": "Robot A"}
ROBOT |= dict.fromkeys(("arc_sensor", "joint_sensor", "multi_arc"), "no")


def run(*arguments: str) -> tuple[int, str]:
    out = io.StringIO()
    try:
        call_command(*arguments, stdout=out, stderr=io.StringIO())
    except SystemExit as left:
        return int(left.code or 0), out.getvalue()
    except CommandError as bad:
        return bad.returncode, str(bad)
    return 0, out.getvalue()


@pytest.fixture
def shop(people: dict[str, Any]) -> dict[str, Any]:
    """A procedure of a robot cell that serves both phases, an operator, a job."""
    draft = iso_draft(people["coordinator"], [iso_record(), iso_record("WPQR 013", run_type=["single_run"])])
    draft.serves_tack = True
    draft.window |= {"run_type": ["single_run", "multi_run"], "throat_a": {"min": "5", "max": "7"}}
    draft.save()
    revision = approved(draft, people["second_coordinator"], date(2026, 3, 2))
    piece = {"process": "135", "mechanisation": "automatic", "robot": "yes", "role": "operator", "unit": "Robot A"}
    piece |= {"weld_type": "fillet", "run_type": "multi_run", "position": "PB", "functional_knowledge": "yes"}
    piece |= {
        "operator_method": "procedure_test",
        "multi_arc": "no",
        "product": "plate",
        "arc_sensor": "no",
        "joint_sensor": "no",
    }
    holder = certificate(code="ISO 14732:2013", kind="operator", pieces=[piece], welded_on=date(2026, 3, 1))
    make_station(**ROBOT)
    return {"revision": revision, "holder": holder, "job": make_job()}


@pytest.fixture
def listed(tmp_path: Path) -> Any:
    def write(*rows: str) -> str:
        path = tmp_path / "list.csv"
        path.write_text(HEAD + "".join(rows))
        return str(path)

    return write


ASKED = ("--job", "24-031", "--on", "2026-04-01")


def test_all_covered_is_0(shop: dict[str, Any], listed: Any) -> None:
    code, said = run("coverage", listed(ROW), *ASKED, "--json", "--explain")
    found = json.loads(said)
    assert (code, found["counts"]) == (0, {"covered": 1}), found["joints"][0]["sentence"]
    (joint,) = found["joints"]
    assert (joint["row"], joint["assembly"], joint["procedures_final"]) == (2, "B12", ["WPS 014 rev A"])
    assert joint["answer"]["sentence"] == joint["sentence"]
    assert not Joint.objects.exists() and not Assembly.objects.exists(), "nothing is saved"


def test_some_not_is_1(shop: dict[str, Any], listed: Any) -> None:
    file = listed(ROW, ROW.replace("B12;1", "B12;2").replace(";12;12;", ";12;60;"), ROW.replace("1;", "3;", 1))
    code, said = run("coverage", file, *ASKED)
    assert code == 1
    lines = [line.split("\t") for line in said.splitlines()]
    assert [(line[0], line[1], line[2]) for line in lines][:2] == [("2", "B12/1", "covered"), ("3", "B12/2", "outside")]
    assert "60 mm" in lines[1][3]
    assert run("coverage", file, "--job", "24-031", "--on", "2026-03-01")[0] == 1, "before it was approved"


def test_a_joint_on_file_may_be_asked_about_too(shop: dict[str, Any], listed: Any) -> None:
    Joint.objects.create(assembly=Assembly.objects.create(job=shop["job"], mark="B12"), number="1")
    assert run("coverage", listed(ROW), *ASKED)[0] == 0


def test_standard_input(shop: dict[str, Any], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO((HEAD + ROW).encode())))
    assert run("coverage", "-", *ASKED)[0] == 0


@pytest.mark.parametrize(
    ("row", "arguments", "said"),
    [
        (ROW, ("--job", "nowhere"), "No job nowhere"),
        (ROW, (*ASKED[:2], "--on", "2026-02-30"), "not a date"),
        (ROW.replace("fillet", "glued"), ASKED, "1 cells cannot be read"),
        (ROW.replace("Cell 3", "Moon"), ASKED, "cannot be read"),
        ("", ASKED, "no welds"),
    ],
)
def test_bad_input_is_2(shop: dict[str, Any], listed: Any, row: str, arguments: tuple[str, ...], said: str) -> None:
    code, message = run("coverage", listed(row), *arguments)
    assert code == 2
    assert said in message


@pytest.mark.parametrize("data", [b"", b"%PDF-1.7", b"\x00\x01\x02", b"PK\x03\x04cut", b"a;b\n\xff\xfe"])
def test_a_file_that_is_no_list_is_2(shop: dict[str, Any], tmp_path: Path, data: bytes) -> None:
    (tmp_path / "list.csv").write_bytes(data)
    assert run("coverage", str(tmp_path / "list.csv"), *ASKED)[0] == 2
    assert run("coverage", str(tmp_path / "none.csv"), *ASKED)[0] == 2


def test_what_falls_due(db: None) -> None:
    certificate()
    code, said = run("due", "--on", "2025-07-01", "--within", "30", "--json")
    (item,) = json.loads(said)["items"]
    assert (code, item["by"], item["days"], item["certificate"]) == (0, "2025-07-31", 30, "W-1")
    assert run("due", "--on", "2025-07-01", "--within", "29") == (0, "")
    assert run("due", "--on", "2025-07-01")[1].startswith("2025-07-31\tin 30 days\t")
    assert run("due", "--within", "-1")[0] == run("due", "--on", "soon")[0] == 2


def test_a_sheet_is_issued_by_somebody_and_then_comes_as_it_was(
    shop: dict[str, Any], tmp_path: Path, settings: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    settings.PUBLIC_URL = "https://welds.example.com"
    one, two = tmp_path / "one.pdf", tmp_path / "two.pdf"
    asked = ("sheet", "wps 014 rev a".upper().replace("REV", "rev"), "-o", str(one))
    assert "was issued yet" in run(*asked)[1]
    monkeypatch.setenv("SIGNING_PASSWORD", "guess")
    assert "not the password" in run(*asked, "--issue-as", "qa")[1]
    monkeypatch.setenv("SIGNING_PASSWORD", PASSWORD)
    assert "right to print sheets." in run(*asked, "--issue-as", "auditor")[1]
    assert not one.exists() and not IssuedSheet.objects.exists()
    code, said = run(*asked, "--issue-as", "qa")
    assert code == 0, said
    assert one.read_bytes() == bytes(IssuedSheet.objects.get().pdf)
    entry = AuditEntry.objects.order_by("number").last()
    assert entry is not None and (entry.user_name, entry.act) == ("qa", "issued a sheet")
    assert run("sheet", "WPS 014", "-o", str(two))[0] == 0
    assert two.read_bytes() == one.read_bytes()
    code, said = run("sheet", "WPS 014", "-o", str(two))
    assert (code, "there already" in said) == (2, True)


def test_a_draft_is_watermarked_and_kept_nowhere(coordinator: Any, tmp_path: Path) -> None:
    iso_draft(coordinator, [iso_record()])
    code, said = run("sheet", "WPS 014 rev A", "-o", str(tmp_path / "draft.pdf"))
    assert (code, "watermarked" in said) == (0, True)
    assert (tmp_path / "draft.pdf").read_bytes().startswith(b"%PDF")
    assert not IssuedSheet.objects.exists()
    assert run("sheet", "WPS 014", "-o", str(tmp_path / "x.pdf"))[0] == 2, "none is in force"
    assert run("sheet", "WPS 099 rev Z", "-o", str(tmp_path / "x.pdf"))[0] == 2
