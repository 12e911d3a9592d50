"""Geometry and turning plans in the browser: forms, the list that is sent in, the plan with its pictures."""

import re
from decimal import Decimal as D
from io import BytesIO
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from pypdf import PdfReader

from joints.models import AssemblyGeometry, Joint, JointGeometry
from joints.turning.listed import take_in, template_rows
from register.lists.table import Refusal
from tests.joints.files import xlsx_of
from tests.joints.makers import make_job, make_joint, make_station
from tests.joints.turning.geometry import beam, cell, geometry
from tests.joints.weld_logs import make_procedure

pytestmark = pytest.mark.django_db
HEAD = "assembly;joint;axis x;axis y;axis z;face x;face y;face z"
GOOD = "B1;1;1;0;0;0;-1;1"


def text(response: Any) -> str:
    return " ".join(response.content.decode().split())


def listed(*rows: str, head: str = HEAD) -> bytes:
    return "\n".join([head, *rows]).encode()


def test_the_page_of_a_joint_shows_iso_and_aws_side_by_side(client_of: Any) -> None:
    joint = make_joint(final_workstation=cell())
    page = client_of("auditor")
    assert "Position from geometry" not in text(page.get(joint.get_absolute_url()))
    geometry(joint, "1 0 0", "0 0.866025 0.5")
    found = text(page.get(joint.get_absolute_url()))
    assert "Position from geometry" in found and "The list says PB" in found
    assert ">PC<" in found and ">O (4F)<" in found
    assert "ISO and AWS differ here: the governing code decides" in found
    assert "Turned at Cell it comes into PA" in found
    assert "State the geometry" not in found


def test_a_geometry_is_stated_on_a_form(client_of: Any) -> None:
    joint = make_joint()
    page = client_of("coordinator")
    address = reverse("joints:joint_geometry", args=[joint.pk])
    good = {"axis_x": "1", "axis_y": "0", "axis_z": "0", "face_x": "0", "face_y": "-1", "face_z": "1"}
    assert "The face lies nearly along the weld axis" in text(
        page.post(address, good | {"face_x": "9", "face_y": "0", "face_z": "0"})
    )
    said = text(page.post(address, good | {"axis_x": "0"}))
    assert "The axis of the weld 0; 0; 0 has no direction. State the direction along the weld, for example" in said
    assert "across the weld" not in said
    no_face = page.post(address, good | {"face_y": "0", "face_z": "0"})
    assert "State the direction across the weld, root to face." in text(no_face)
    assert list(no_face.context["form"].errors) == ["face_x"]
    assert "State both places" in text(page.post(address, good | {"across_mm": "5"}))
    assert not JointGeometry.objects.exists()
    assert page.post(address, good).status_code == 302
    assert JointGeometry.objects.get().face == (0, -1, 1)
    assert "As the list says" in text(page.get(joint.get_absolute_url()))


def test_an_axis_and_a_section_are_stated_on_a_form(client_of: Any) -> None:
    assembly = make_joint().assembly
    page = client_of("coordinator")
    address = reverse("joints:assembly_geometry", args=[assembly.pk])
    axis = {"beam_x": "0", "beam_y": "1", "beam_z": "0"}
    assert "which is no direction" in text(page.post(address, {"beam_x": "0", "beam_y": "0", "beam_z": "0"}))
    assert "The picture of this section needs it" in text(page.post(address, axis | {"section": "i"}))
    bad = page.post(address, axis | {"section": "round", "depth_mm": "abc"})
    assert len(bad.context["form"].errors["depth_mm"]) == 1, "what cannot be read is not missing too"
    assert page.post(address, axis | {"section": "round", "depth_mm": "200"}).status_code == 302
    assert AssemblyGeometry.objects.get().beam == (0, 1, 0)


def test_a_list_is_taken_in_whole(client_of: Any) -> None:
    job = make_job()
    make_joint(job, number="1")
    make_joint(job, number="2")
    page = client_of("coordinator")
    head = f"{HEAD};across;up;part length;beam x;section;depth"
    data = listed(f"{GOOD};-5;-150,5;310;1;round;200", "B1;2;0;0;1;1;1;0;;;;;;", head=head)
    answer = page.post(reverse("joints:geometry_upload", args=[job.pk]), {"file": SimpleUploadedFile("g.csv", data)})
    assert answer.status_code == 302
    one, two = JointGeometry.objects.order_by("joint__number")
    assert (one.axis, one.face, one.up_mm, one.part_length_mm) == ((1, 0, 0), (0, -1, 1), D("-150.5"), 310)
    assert (two.axis, two.across_mm) == ((0, 0, 1), None)
    section = AssemblyGeometry.objects.get()
    assert (section.beam, section.section, section.depth_mm) == ((1, 0, 0), "round", 200)
    assert one.history.first().history_user_name == "coordinator"


def test_a_list_again_gives_the_new_geometry(coordinator: Any) -> None:
    job = make_joint().assembly.job
    take_in(job, listed(GOOD), coordinator)
    take_in(job, listed("B1;1;0;1;0;0;0;1"), coordinator)
    assert JointGeometry.objects.get().axis == (0, 1, 0)


@pytest.mark.parametrize(
    ("rows", "head", "said"),
    [
        ([GOOD], "assembly;joint;axis x", "lacks the columns “axis y”"),
        ([GOOD], f"{HEAD};axis x", "Two columns are headed “axis x”"),
        (["B1;9;1;0;0;0;0;1"], HEAD, "Row 2: no joint 9 of assembly B1 is on file"),
        ([GOOD, GOOD], HEAD, "Row 3: joint 1 of B1 stands in row 2 already"),
        (["B1;1;1;0;0;0;0;"], HEAD, "Row 2: face z is empty"),
        (["B1;1;one;0;0;0;0;1"], HEAD, "Row 2, axis x:"),
        (["B1;1;1;0;0;1;0;0"], HEAD, "Row 2: the face lies nearly along the weld axis"),
        (["B1;1;0;0;0;1;0;0"], HEAD, "Row 2: the axis of the weld 0; 0; 0 has no direction"),
        ([f"{GOOD};5"], f"{HEAD};across", "Row 2: state both across and up"),
        ([f"{GOOD};star"], f"{HEAD};section", "“star” is no section; write i, box or round"),
        ([f"{GOOD};i"], f"{HEAD};section", "Assembly B1: the section needs depth, width, web, flange"),
        ([f"{GOOD};0"], f"{HEAD};beam x", "the beam axis is 0 in all three columns"),
        ([f"{GOOD};-5"], f"{HEAD};part length", "is no size"),
        ([f"{GOOD};1000000"], f"{HEAD};depth", "Row 2, depth mm:"),
    ],
)
def test_a_bad_list_says_row_and_remedy_and_writes_nothing(
    coordinator: Any, rows: list[str], head: str, said: str
) -> None:
    job = make_joint().assembly.job
    with pytest.raises(Refusal, match=re.escape(said)):
        take_in(job, listed(*rows, head=head), coordinator)
    assert not JointGeometry.objects.exists()


def test_rows_may_not_contradict_each_other_about_an_assembly(coordinator: Any) -> None:
    job = make_joint(number="1").assembly.job
    make_joint(job, number="2")
    with pytest.raises(Refusal, match="depth mm of B1 differs from an earlier row"):
        take_in(job, listed(f"{GOOD};200", "B1;2;1;0;0;0;0;1;300", head=f"{HEAD};depth"), coordinator)


def test_a_formula_in_a_workbook_is_refused(coordinator: Any) -> None:
    job = make_joint().assembly.job
    data = xlsx_of([HEAD.split(";"), ["B1", "1", 1, 0, 0, 0, "=1+0", 1]])
    with pytest.raises(Refusal, match="formula"):
        take_in(job, data, coordinator)


def test_a_refused_list_is_said_on_the_page(client_of: Any) -> None:
    job = make_joint().assembly.job
    file = SimpleUploadedFile("g.csv", listed("B1;9;1;0;0;0;0;1"))
    answer = client_of("coordinator").post(reverse("joints:geometry_upload", args=[job.pk]), {"file": file})
    assert answer.status_code == 422 and "Nothing was written" in text(answer)


def test_the_template_is_a_list_that_is_taken_in(client_of: Any, coordinator: Any) -> None:
    data = client_of("auditor").get(reverse("joints:geometry_template")).content
    joint = make_joint(mark="B12", number="1")
    assert len(template_rows()) == 2
    found = take_in(joint.assembly.job, data, coordinator)
    assert (found.joints, found.assemblies) == (1, 1)
    assert Joint.objects.get().geometry.up_mm == -180


def plan_of(assembly: Any, **asked: str) -> tuple[str, dict[str, str]]:
    return reverse("joints:turning_plan", args=[assembly.pk]), {"on": "2026-11-25", **asked}


def test_the_plan_names_stations_and_why_nothing_is_planned(client_of: Any) -> None:
    assembly = beam()
    make_joint(assembly.job, number="9")
    page = client_of("auditor")
    found = text(page.get(*plan_of(assembly)))
    assert "No weld of this assembly has a stop" in found
    assert ": not covered in" in found
    assert "arc 0° to 270°, starting at 0°" in found
    assert "Welded elsewhere" in found and "Bay 1" in found
    bay = Joint.objects.get(number="9").final_workstation
    assert "without a rotator" in text(page.get(*plan_of(assembly, station=str(bay.pk))))
    assert page.get(*plan_of(assembly, station="0")).status_code == 400


def test_an_assembly_without_a_workstation_teaches(client_of: Any) -> None:
    make_station()
    joint = make_joint(final_workstation=None)
    assert "No joint of this assembly has a workstation" in text(client_of("qa").get(*plan_of(joint.assembly)))


def test_a_sheet_for_the_cell_with_the_turns_of_an_assembly(client_of: Any) -> None:
    """Printed by whoever may print; the turns stand on the sheet for the cell alone."""
    assembly, revision = beam(), make_procedure()
    address = reverse("joints:cell_sheet", args=[assembly.pk, cell().pk, revision.pk])
    response = client_of("qa").get(address, {"kind": "cell-de", "units": "us"})
    said = PdfReader(BytesIO(response.content)).pages[0].extract_text()
    assert "Drehwinkel der Wendevorrichtung" in said and "B1 · Cell" in said
    # What a scan leads to is the sheet without them: said beside the code.
    assert "Prüfcode und Scan: die Anweisung ohne Drehwinkel" in " ".join(said.split())
    assert "kein Halt des Drehplans" in said
    assert response.headers["Cache-Control"] == "private, no-store"
    assert "cell only" in text(client_of("qa").get(address, {"kind": "full"}))
    assert client_of("auditor").get(address).status_code == 403
