"""A model goes the way of every list: bounded, shown, compared, taken in; the answers go back into it."""

from dataclasses import replace

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from joints.imports.batch import confirm, take_in
from joints.imports.table import Refusal
from joints.model_files import sandbox, step
from joints.model_files.sandbox import read_in_sandbox
from joints.models import AssemblyGeometry, ImportBatch, Joint, JointGeometry
from tests.joints.makers import make_job
from tests.joints.model_files.models import BEAM, TWO_WELDS, model

ifcopenshell = pytest.importorskip("ifcopenshell", reason="optional: pip install -r requirements-ifc.txt")
pytestmark = pytest.mark.django_db


def bring(job, by, data: bytes, scope: str = ImportBatch.WHOLE) -> ImportBatch:
    return take_in(job, "model.ifc", data, {}, by, scope=scope)


def test_a_model_is_taken_in_with_its_geometry(coordinator) -> None:
    job = make_job()
    batch = bring(job, coordinator, model(BEAM))
    assert not batch.errors and batch.comparison["added"] == 2
    assert not Joint.objects.exists()
    confirm(batch.pk, coordinator)
    joint = Joint.objects.get(number="W-001")
    assert (joint.t1_mm, joint.t2_mm, joint.throat_mm, joint.final_process) == (19, 12, 5, "135")
    assert joint.assembly.mark == "AS-0001" and joint.assembly.kind == "Bracket"
    place = JointGeometry.objects.get(joint=joint)
    assert [float(v) for v in (*place.axis, *place.face)] == [1, 0, 0, 0, -0.707107, 0.707107]
    assert (place.across_mm, place.up_mm, place.part_length_mm) == (-6, 150, 300)
    beam = AssemblyGeometry.objects.get()
    assert (beam.section, beam.depth_mm, beam.flange_mm) == ("i", 300, 19)


def test_a_changed_model_is_compared_by_identity(coordinator) -> None:
    job = make_job()
    confirm(bring(job, coordinator, TWO_WELDS).pk, coordinator)
    changed = model({
        117: "IFCFASTENER('2TLQdWo0zPmepDyxi03I$J',$,'W-007',$,$,#112,#116,'W-007',.WELD.)",
        124: "IFCPROPERTYSINGLEVALUE('a',$,IFCPOSITIVELENGTHMEASURE(6.),$)",
        145: "", 157: "", 162: "", 170: "IFCRELAGGREGATES('2l9vos7u1UFP21XBqn0UjG',$,$,$,#31,(#49,#69,#89,#117))",
    })  # fmt: skip
    batch = bring(job, coordinator, changed)
    lines = batch.comparison["lines"]
    assert [(c["field"], c["before"], c["after"]) for c in lines["changed"]] == [
        ("number", "W-001", "W-007"),
        ("throat_mm", "5", "6"),
    ]
    assert [c["number"] for c in lines["removed"]] == ["W-002"]
    confirm(batch.pk, coordinator)
    assert Joint.objects.get().number == "W-007"


def test_what_no_field_holds_is_left_out_with_a_note(coordinator) -> None:
    changes = {
        122: "IFCPROPERTYSINGLEVALUE('Process',$,IFCINTEGER(999),$)",
        100: "IFCMATERIAL('Steel of Uncle Otto',$,'steel')",
    }
    batch = bring(make_job(), coordinator, model(changes))
    notes = [p["message"] for p in batch.problems if p["row"]]
    assert any("“999” is not a known process" in note or "999" in note for note in notes)
    confirm(batch.pk, coordinator)
    joint = Joint.objects.get(number="W-001")
    assert (joint.final_process, joint.grade_1) == ("", "Steel of Uncle Otto"), "the check of the weld data asks"


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (TWO_WELDS.replace(b"('IFC4')", b"('IFC2X3')"), "IFC4 and IFC4.3 are read"),
        (TWO_WELDS.replace(b"('IFC4')", b"('../../etc/passwd')"), "IFC4 and IFC4.3 are read"),
        (b"ISO-10303-21;\nFILE_SCHEMA(('IFC4'));" + b";" * (step.MAX_INSTANCES + 1), "at most 1,500,000 are read"),
        (TWO_WELDS[:200] + b"FILE_SCHEMA(('IFC4'));" + bytes(2000), "cannot be read"),
        (model({117: "", 145: "", 133: "", 162: "", 129: "", 157: "", 170: "", 181: ""}), "holds no welds"),
    ],
    ids=["old schema", "path as schema", "too many", "broken", "no welds"],
)
def test_a_hostile_or_useless_model_is_refused(coordinator, data: bytes, says: str) -> None:
    with pytest.raises(Refusal, match=says):
        bring(make_job(), coordinator, data)
    assert not ImportBatch.objects.exists()


def test_a_model_over_the_limit_is_refused(monkeypatch) -> None:
    monkeypatch.setattr(step, "MAX_BYTES", len(TWO_WELDS))
    assert step.check_step(TWO_WELDS) == "IFC4"
    with pytest.raises(Refusal, match="at most 0 MB are read"):
        step.check_step(TWO_WELDS + b" ")


def test_a_reader_that_takes_too_long_is_ended() -> None:
    with pytest.raises(Refusal, match=r"longer than 0\.01 seconds"):
        read_in_sandbox(TWO_WELDS, seconds=0.01)


def test_a_reader_that_dies_says_so(monkeypatch) -> None:
    monkeypatch.setattr(sandbox, "BOUNDS", replace(sandbox.BOUNDS, memory=8 * 1024**2))
    with pytest.raises(Refusal, match="The model cannot be read: the reader gave up on it"):
        read_in_sandbox(TWO_WELDS, seconds=20)


def test_placements_that_run_in_a_circle_cost_the_place_alone() -> None:
    found = read_in_sandbox(model({112: "IFCLOCALPLACEMENT(#112,#111)"}))
    first = found["welds"][0]
    assert first["values"]["throat_mm"] == "5" and "geometry" not in first


def entities(data: bytes) -> dict[int, str]:
    held = ifcopenshell.file.from_string(data.decode("latin-1"))
    return {one.id(): str(one) for one in held}


def test_the_answers_go_back_and_nothing_else_changes(client_of, coordinator) -> None:
    job = make_job()
    batch = bring(job, coordinator, TWO_WELDS)
    confirm(batch.pk, coordinator)
    url = reverse("joints:import_answers", args=[batch.pk])
    first = client_of("auditor").get(url, {"on": "2026-11-25"})
    assert first.headers["Content-Disposition"].endswith('-2026-11-25.ifc"')
    before, after = entities(TWO_WELDS), entities(first.content)
    assert {number: after[number] for number in before} == before, "every entity as it was"
    assert first.content.startswith(TWO_WELDS[: TWO_WELDS.rindex(b"ENDSEC;")]), "and every byte before the end"
    held = ifcopenshell.file.from_string(first.content.decode("latin-1"))
    from ifcopenshell.util.element import get_psets

    said = get_psets(held.by_guid("2TLQdWo0zPmepDyxi03I$J"))["WeldRegister_Coverage"]
    assert (said["Answer"], said["AskedOn"], said["Procedures"]) == ("outside", "2026-11-25", "")
    assert said["Reasons"].startswith("procedure: ")
    # Taken in again with our sets in it, it is the same model; written again, each weld has one set.
    again = bring(job, coordinator, first.content)
    assert again.comparison["same"] == 2 and not again.comparison["changed"]
    confirm(again.pk, coordinator)
    second = client_of("auditor").get(reverse("joints:import_answers", args=[again.pk]), {"on": "2026-11-26"})
    assert second.content.count(b"'WeldRegister_Coverage'") == first.content.count(b"'WeldRegister_Coverage'") == 2
    assert b"2026-11-25" not in second.content[len(TWO_WELDS) - 30 :]


@pytest.mark.parametrize(
    ("said", "spelled"),
    [
        ("plain", "'plain'"),
        ("it's", "'it''s'"),
        ("a\\b", "'a\\\\b'"),
        ("5 µm", "'5 \\X2\\00B5\\X0\\m'"),
        ("Ł=1;", "'\\X2\\0141\\X0\\=1;'"),
    ],
)
def test_texts_as_step_spells_them(said: str, spelled: str) -> None:
    assert step.text(said) == spelled
    held = ifcopenshell.file.from_string(TWO_WELDS.decode().replace("'W-001','Fillet", f"{spelled},'Fillet"))
    assert held.by_guid("2TLQdWo0zPmepDyxi03I$J").Name == said


@pytest.mark.parametrize("piece", [b"/**/", b"''", b"#1=", b"/*", b"#1='x", b"#1 "])
def test_an_instance_that_never_ends_takes_no_longer_than_its_bytes(piece: bytes) -> None:
    """Behind the end of a good model it held the process for hours: eighteen comments took eight seconds."""
    assert not list(step.instances(b"#1=" + piece * 100_000))


def test_instances_are_found_whatever_stands_in_texts_and_comments() -> None:
    data = b"#1=A('x;#9=B()');/* #8=C(); */\n#2 = D(1,\n'it''s;');#3=E(/* ; */$);"
    assert [data[start:end].strip() for _, start, end in step.instances(data)][-1] == b"#3=E(/* ; */$);"
    assert [number for number, *_ in step.instances(data) if number != 8] == [1, 2, 3]


def test_a_model_on_the_page(client_of) -> None:
    page = client_of("coordinator")
    file = SimpleUploadedFile("../../model.ifc", TWO_WELDS)
    shown = page.post(reverse("joints:import_upload", args=[make_job().pk]), {"file": file}, follow=True)
    text = " ".join(shown.content.decode().split())
    assert "All 2 rows can be taken in." in text and "Read as IFC4: 2 welds." in text
    batch = ImportBatch.objects.get()
    assert batch.file_name == "model.ifc"
    page.post(reverse("joints:import_confirm", args=[batch.pk]))
    assert "The model with today" in page.get(batch.get_absolute_url()).content.decode()
    assert Joint.objects.filter(weld_date=None).count() == 2


def test_an_identity_follows_from_its_words() -> None:
    """22 characters in base 64, the first of them 0 to 3, as the 128 bits of IfcGloballyUniqueId ask for."""
    assert step.guid("a", "b") == step.guid("a", "b") != step.guid("a", "c")
    assert len(step.guid("a")) == 22 and step.guid("a")[0] in "0123"
