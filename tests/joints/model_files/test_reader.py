"""What is read of a model: welds alone, sizes in any unit, steel, thickness, place; what is not said is left open.

The entities, property names and enumerations are those of buildingSMART's IFC4 ADD2 TC1 and IFC4.3 ADD2 documentation.
"""

from pathlib import Path
from typing import Any

import pytest

from tests.joints.model_files.models import BEAM, TWO_WELDS, model

pytest.importorskip("ifcopenshell", reason="optional: pip install -r requirements-ifc.txt")

from joints.model_files.reader.model import Unreadable, read_model
from joints.model_files.reader.seams import seam_of
from joints.model_files.sandbox import read_in_sandbox

PITCH_IFC4 = {
    126: "IFCPROPERTYSINGLEVALUE('e',$,IFCPOSITIVELENGTHMEASURE(150.),$)",
    125: "IFCPROPERTYSINGLEVALUE('l',$,IFCPOSITIVELENGTHMEASURE(50.),$)",
    127: "IFCPROPERTYSINGLEVALUE('Intermittent',$,IFCBOOLEAN(.T.),$)",
}


@pytest.fixture
def read(tmp_path: Path):
    """Reads the bytes of a model in this process."""

    def read(data: bytes) -> dict[str, Any]:
        path = tmp_path / "model.ifc"
        path.write_bytes(data)
        return read_model(str(path))

    return read


def weld(found: dict[str, Any], number: str = "W-001") -> dict[str, Any]:
    return next(one for one in found["welds"] if one["number"] == number)


def test_the_model_of_two_welds(read) -> None:
    found = read(TWO_WELDS)
    first, second = found["welds"]
    assert (first["assembly"], first["number"], first["model_id"]) == ("AS-0001", "W-001", "2TLQdWo0zPmepDyxi03I$J")
    assert first["values"] == {
        "weld_type": "fillet", "joint_type": "tee", "product": "plate", "grade_1": "S355J2+N", "grade_2": "S355J2+N",
        "t1_mm": "20", "t2_mm": "12", "throat_mm": "5", "length_mm": "300", "intermittent": "no",
        "final_process": "135", "remarks": "named in the model: WPS-0001",
    }  # fmt: skip
    assert second["values"]["weld_type"] == "butt_cjp"
    assert second["values"]["preparation"] == "single_v"
    assert not first["notes"] and not second["notes"]


def test_place_and_face_follow_from_the_bodies(read) -> None:
    """A fillet between a plate and one standing on it faces half-way up and outwards; a butt weld outwards."""
    first, second = (one["geometry"] for one in read(TWO_WELDS)["welds"])
    assert first["axis"] == [1, 0, 0] and first["face"] == [0, -0.707107, 0.707107]
    assert second["axis"] == [1, 0, 0] and second["face"] == [0, -1, 0]
    assert first["part_length"] == 300


def test_the_names_of_ifc_4_3(read) -> None:
    changes = {
        124: "IFCPROPERTYSINGLEVALUE('NominalThroatThickness',$,IFCPOSITIVELENGTHMEASURE(5.),$)",
        125: "IFCPROPERTYSINGLEVALUE('WeldElementLength',$,IFCPOSITIVELENGTHMEASURE(50.),$)",
        126: "IFCPROPERTYSINGLEVALUE('WeldElementSpacing',$,IFCPOSITIVELENGTHMEASURE(150.),$)",
        127: "IFCPROPERTYSINGLEVALUE('Intermittent',$,IFCBOOLEAN(.T.),$)",
    }
    values = weld(read(model(changes, schema="IFC4X3_ADD2")))["values"]
    assert (values["throat_mm"], values["element_length_mm"], values["element_gap_mm"]) == ("5", "50", "100")
    assert values["length_mm"] == "300", "the run is as long as its path"


def test_a_spacing_of_ifc4_that_can_be_read_two_ways_is_asked(read) -> None:
    one = weld(read(model(PITCH_IFC4)))
    assert "element_gap_mm" not in one["values"]
    assert "may be the clear gap or centre to centre (a gap of 100 mm): ask" in one["notes"][0]
    gap = PITCH_IFC4 | {126: "IFCPROPERTYSINGLEVALUE('e',$,IFCPOSITIVELENGTHMEASURE(50.),$)"}
    assert weld(read(model(gap)))["values"]["element_gap_mm"] == "50", "not longer than the element: only a gap"


@pytest.mark.parametrize(
    ("said", "is_weld"),
    [
        ("$,$,$,#112,#116,'W-001',.WELD.", True),
        ("$,$,$,#112,#116,'W-001',$", True),  # the weld property set says it
        ("$,$,'bead',#112,#116,'W-001',.USERDEFINED.", True),
        ("$,$,$,#112,#116,'W-001',.GLUE.", False),
    ],
)
def test_which_fasteners_are_welds(read, said: str, is_weld: bool) -> None:
    head = said.replace("$", "'W-001'", 1)
    found = read(model({117: f"IFCFASTENER('2TLQdWo0zPmepDyxi03I$J',$,{head})"}))
    assert len(found["welds"]) == 1 + is_weld
    assert bool(found["notes"]) is not is_weld


def test_the_type_says_it_and_an_occurrence_goes_before_it(read) -> None:
    more = """
    #200=IFCPROPERTYSINGLEVALUE('a',$,IFCPOSITIVELENGTHMEASURE(7.),$);
    #201=IFCPROPERTYSINGLEVALUE('z',$,IFCPOSITIVELENGTHMEASURE(7.),$);
    #202=IFCPROPERTYSET('1CxLDrD6rAaxM6iVfxIpPP',$,'Pset_FastenerWeld',$,(#200,#201));
    #203=IFCFASTENERTYPE('2CxLDrD6rAaxM6iVfxIpPP',$,'F',$,$,(#202),$,$,$,.WELD.);
    #204=IFCRELDEFINESBYTYPE('3CxLDrD6rAaxM6iVfxIpPP',$,$,$,(#117),#203);"""
    changes = {117: "IFCFASTENER('2TLQdWo0zPmepDyxi03I$J',$,'W-001',$,$,#112,#116,'W-001',$)"}
    values = weld(read(model(changes, more)))["values"]
    assert (values["throat_mm"], values["leg_mm"]) == ("5", "7")


@pytest.mark.parametrize(
    ("unit", "t1", "throat"),
    [
        ("IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.)", "20", "5"),
        ("IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.)", "20000", "5000"),
        ("IFCCONVERSIONBASEDUNIT(#210,.LENGTHUNIT.,'INCH',#211)", "508", "127"),
    ],
)
def test_lengths_in_the_unit_of_the_project(read, unit: str, t1: str, throat: str) -> None:
    more = """
    #210=IFCDIMENSIONALEXPONENTS(1,0,0,0,0,0,0);
    #211=IFCMEASUREWITHUNIT(IFCLENGTHMEASURE(25.4),#212);
    #212=IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.);"""
    values = weld(read(model({6: unit}, more)))["values"]
    assert (values["t1_mm"], values["throat_mm"]) == (t1, throat)


def test_a_property_with_a_unit_of_its_own(read) -> None:
    changes = {124: "IFCPROPERTYSINGLEVALUE('a',$,IFCPOSITIVELENGTHMEASURE(0.005),#213)"}
    more = "#213=IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.);"
    assert weld(read(model(changes, more)))["values"]["throat_mm"] == "5"


def test_a_flange_is_the_thickness_where_the_weld_is_on_it(read) -> None:
    found = read(model(BEAM))
    assert weld(found)["values"]["t1_mm"] == "19"
    assert found["assemblies"]["AS-0001"] == {
        "beam": [1, 0, 0], "through": [0, 100, -130], "up": [0, 0, 1], "section": "i", "depth_mm": 300,
        "width_mm": 300, "web_mm": 11, "flange_mm": 19,
    }  # fmt: skip


def test_where_the_weld_has_no_place_two_thicknesses_are_asked(read) -> None:
    """W-001 without representation and without connection curve lies nowhere."""
    changes = BEAM | {
        117: "IFCFASTENER('2TLQdWo0zPmepDyxi03I$J',$,'W-001',$,$,$,$,'W-001',.WELD.)",
        133: "IFCRELCONNECTSWITHREALIZINGELEMENTS('0nqvenpizULQd87E6nasoO',$,$,$,$,#49,#69,(#117),'weld')",
    }
    one = weld(read(model(changes)))
    assert "t1_mm" not in one["values"] and one["values"]["t2_mm"] == "12"
    assert "PL1 is 11 mm or 19 mm thick where it may be welded" in one["notes"]
    assert "geometry" not in one


def test_the_connection_curve_stands_in_for_the_path(read) -> None:
    """It is in the coordinates of the relating part."""
    changes = {117: "IFCFASTENER('2TLQdWo0zPmepDyxi03I$J',$,'W-001',$,$,$,$,'W-001',.WELD.)"}
    one = weld(read(model(changes)))
    assert one["values"]["length_mm"] == "300" and one["geometry"]["axis"] == [1, 0, 0]


def test_hollow_sections_are_pipes_of_their_smaller_side(read) -> None:
    changes = {63: "IFCRECTANGLEHOLLOWPROFILEDEF(.AREA.,'RHS',#64,300.,120.,8.,$,$)"}
    values = weld(read(model(changes)))["values"]
    assert (values["product"], values["diameter_mm"], values["t2_mm"]) == ("pipe", "120", "8")


@pytest.mark.parametrize(
    ("relations", "notes", "parts"),
    [
        ({133: ""}, ["the model does not say which parts it joins"], 0),
        (
            {133: "IFCRELCONNECTSWITHREALIZINGELEMENTS('0nqvenpizULQd87E6nasoO',$,$,$,#132,#49,#49,(#117),'weld')"},
            ["the model names PL1 as both parts"],
            1,
        ),
    ],
)
def test_parts_that_are_not_said_are_not_guessed(read, relations, notes: list[str], parts: int) -> None:
    one = weld(read(model(relations)))
    assert one["notes"] == notes
    assert sum(name in one["values"] for name in ("t1_mm", "t2_mm")) == parts


def test_every_weld_at_the_origin_is_a_fault_of_the_exporter(read) -> None:
    found = read(model({112: "IFCLOCALPLACEMENT($,#11)", 142: "IFCLOCALPLACEMENT($,#11)"}))
    assert "Every weld lies at the same place" in found["notes"][0]
    assert all("geometry" not in one for one in found["welds"])


def test_numbers_and_marks_that_are_not_their_own_are_told_apart(read) -> None:
    name = "IFCFASTENER('0UbX$fTj5M_Oj$A3kKw1sI',$,'W-001',$,$,#142,#144,'W-001',.WELD.)"
    numbers = [one["number"] for one in read(model({145: name}))["welds"]]
    assert numbers == ["W-001 2TLQdWo0", "W-001 0UbX$fTj"]


@pytest.mark.parametrize(
    ("first", "second", "expect"),
    [
        ("fillet", "", ("fillet", "", False)),
        ("Fillet weld", "FILLET", ("fillet", "", True)),
        ("V", "", ("butt", "single_v", False)),
        ("V", "V", ("butt", "double_v", True)),
        ("single-V butt weld", None, ("butt", "single_v", False)),
        ("HV", "HV", ("butt", "double_bevel", True)),
        ("10", "", ("fillet", "", False)),
        ("3", "", ("", "", False)),  # square butt with raised edges or V: the editions of ISO 2553 differ
        ("", "", ("", "", False)),
        ("zigzag", "", ("", "", False)),
    ],
)
def test_kinds_of_seam_as_they_are_written(first, second, expect) -> None:
    *found, notes = seam_of(first, second)
    assert tuple(found) == expect
    assert bool(notes) is (first in ("3", "zigzag"))


@pytest.mark.parametrize(
    ("s", "weld_type", "depth"), [(12, "butt_cjp", None), (11.9, "butt_pjp", "11.9"), (20, "butt_cjp", None)]
)
def test_a_depth_under_the_thickness_is_partial_penetration(read, s: float, weld_type: str, depth: str | None) -> None:
    found = read(model({153: f"IFCPROPERTYSINGLEVALUE('s',$,IFCPOSITIVELENGTHMEASURE({float(s)}),$)"}))
    values = weld(found, "W-002")["values"]
    assert (values["weld_type"], values.get("penetration_mm")) == (weld_type, depth)


def test_what_is_no_model_says_so(read) -> None:
    with pytest.raises(Unreadable):
        read(b"ISO-10303-21;\nrubbish")
    with pytest.raises(Unreadable, match="IFC2X3"):
        read(b"ISO-10303-21;HEADER;FILE_DESCRIPTION((''),'2;1');FILE_NAME('','',(''),(''),'','','');"
             b"FILE_SCHEMA(('IFC2X3'));ENDSEC;DATA;ENDSEC;END-ISO-10303-21;")  # fmt: skip


FAN, SECONDS = 60, 30
"""Parts of each part, five deep: 60^5 are more than a reader ends in its time."""


def test_a_path_of_parts_that_each_hold_many_is_given_up() -> None:
    more = "".join(
        f"#{600 + 2 * at}=IFCCOMPOSITECURVE(({','.join([f'#{601 + 2 * at}'] * FAN)}),.F.);\n"
        f"#{601 + 2 * at}=IFCCOMPOSITECURVESEGMENT(.CONTINUOUS.,.T.,#{602 + 2 * at});\n"
        for at in range(5)
    )
    for leaf in ("IFCPOLYLINE((#12,#113))", "IFCPOLYLINE((#12))"):
        found = read_in_sandbox(model({114: "IFCCOMPOSITECURVE((#601),.F.)"}, f"{more}#610={leaf};\n"), SECONDS)
        assert weld(found)["geometry"]["axis"] == [1, 0, 0]  # where the two parts meet


@pytest.mark.parametrize("leaf", ["IFCEXTRUDEDAREASOLID(#43,#11,#15,20.0)", "IFCSPHERE(#11,5.)"])
def test_a_body_of_items_that_each_stand_for_many_is_given_up(leaf: str) -> None:
    more = "#700=IFCCARTESIANTRANSFORMATIONOPERATOR3D($,$,#12,$,$);\n" + "".join(
        f"#{601 + 3 * at}=IFCMAPPEDITEM(#{602 + 3 * at},#700);\n"
        f"#{602 + 3 * at}=IFCREPRESENTATIONMAP(#11,#{603 + 3 * at});\n"
        f"#{603 + 3 * at}=IFCSHAPEREPRESENTATION(#13,'Body','MappedRepresentation',"
        f"({','.join([f'#{604 + 3 * at}'] * FAN)}));\n"
        for at in range(5)
    )
    body = "IFCSHAPEREPRESENTATION(#13,'Body','MappedRepresentation',(#601))"
    found = read_in_sandbox(model({47: body}, f"{more}#616={leaf};\n"), SECONDS)
    assert "20" not in weld(found)["values"].values()  # the thickness is not stated
