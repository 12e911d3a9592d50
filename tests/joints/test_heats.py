"""Parts that name a heat: found on file, of the right grade and size, and its analysis in the preheat of the joint."""

from decimal import Decimal as D
from html import unescape
from typing import Any

import pytest
from django.contrib.auth.models import User

from codes.calc.carbon import IN_WORKING, equivalent_words
from codes.calc.registry import calculate
from joints.heats import heats_on_file, part_heats
from joints.imports.files import read_file
from joints.imports.rows import Setting, read_rows
from joints.joint_preheat import joint_preheat
from joints.models import Joint
from joints.weld_data.check import check_job, check_joint
from tests.joints.makers import make_job, make_joint
from tests.wps.iso import iso_draft, iso_record
from wps.materials.models import MaterialCertificate

pytestmark = pytest.mark.django_db
LEAN = {"C": "0.14", "Mn": "0.9", "Mo": "0", "Cr": "0", "Cu": "0.20", "Ni": "0.10", "V": "0"}
"""CET 0.2425 %, CE 0.31 %."""


def heat(number: str = "48213", grade: str = "S355J2+N", **facts: Any) -> MaterialCertificate:
    values: dict[str, Any] = {"document_reference": "1", "analysis": LEAN, "analysis_kind": "product"}
    return MaterialCertificate.objects.create(grade=grade, heat_number=number, **values | facts)


def rules(joint: Joint) -> list[str]:
    return [one.rule for one in check_joint(joint) if one.field.startswith("heat_")]


def test_a_heat_that_fits_is_left_alone() -> None:
    heat(thickness_min_mm=D(12), thickness_max_mm=D(20))
    assert rules(make_joint(heat_1="48 213", heat_2="48213")) == []
    assert rules(make_joint(number="2")) == []


@pytest.mark.parametrize(("facts", "named", "wanted"), [
    ({"grade": "S275JR"}, "48213", ["heat_of_another_grade"]),
    ({"grade": "S355JR+AR"}, "48213", ["heat_of_another_grade"]),  # the quality of the impact test differs
    ({}, "48214", ["heat_not_on_file"]),
    ({"thickness_max_mm": D("11.999")}, "48213", ["heat_of_another_thickness"]),
    ({"thickness_min_mm": D("12.001")}, "48213", ["heat_of_another_thickness"]),
    ({"thickness_min_mm": D(12), "thickness_max_mm": D(12)}, "48213", []),
])  # fmt: skip
def test_what_is_found_of_a_heat(facts: dict[str, Any], named: str, wanted: list[str]) -> None:
    heat(**facts)
    assert rules(make_joint(heat_1=named)) == wanted


@pytest.mark.parametrize(("carbon", "found"), [("0.17", []), ("0.1701", ["heat_above_its_grade"])])
def test_more_carbon_equivalent_than_the_grade_allows(carbon: str, found: list[str]) -> None:
    """CE = C + 1.56/6 + 0.30/15 = 0.45 % at C 0.17: the most of S355 up to 30 mm (EN 10025-2, from memory)."""
    heat(analysis=LEAN | {"C": carbon, "Mn": "1.56", "Cu": "0.20", "Ni": "0.10"})
    assert rules(make_joint(heat_1="48213")) == found


def test_a_certificate_of_the_grade_is_chosen_among_several() -> None:
    heat(grade="S235JR", document_reference="a")
    wanted = heat(document_reference="b", thickness_max_mm=D(30))
    joint = make_joint(heat_1="48213")
    (part,) = part_heats(joint, heats_on_file([joint]))
    assert part.fits == wanted and rules(joint) == []


@pytest.mark.parametrize("carbons", [("0.14", "0.18"), ("0.18", "0.14"), ("0.14", None), (None, "0.14")])
def test_of_a_heat_certified_twice_the_analysis_that_hardens_most_counts(carbons: tuple[str | None, ...]) -> None:
    """One that does not state carbon counts as the bound of its grade, so it goes before the others (own rule)."""
    made = []
    for number, carbon in enumerate(carbons):
        analysis = {**LEAN, "C": carbon} if carbon else {name: part for name, part in LEAN.items() if name != "C"}
        made.append(heat(document_reference=str(number), analysis=analysis))
    joint = make_joint(heat_1="48213")
    (part,) = part_heats(joint, heats_on_file([joint]))
    assert part.fits == next(one for one, carbon in zip(made, carbons, strict=True) if carbon != "0.14")


def test_the_heats_of_a_whole_job_are_read_in_one_query(django_assert_num_queries: Any) -> None:
    heat()
    joints = [make_joint(number=str(n), heat_1="48213", heat_2="9") for n in range(5)]
    with django_assert_num_queries(1):
        heats_on_file(joints)
    with django_assert_num_queries(0):
        heats_on_file([Joint(number="x")])
    assert sum(one.finding.rule == "heat_not_on_file" for one in check_job(joints[0].assembly.job)) == 5


def test_the_analysis_counts_in_the_preheat_of_the_joint(people: dict[str, User]) -> None:
    """12 and 20 mm, CET 0.2425 % of the heat against 0.3715 % of the grade; H5, Q 0.586 kJ/mm as for the procedure."""
    revision = iso_draft(people["coordinator"], [iso_record()], hydrogen_class=["H5"])
    answers: Any = [type("Answer", (), {"revision_id": revision.pk})]
    asked = {}
    for cet, heats in (("0.3715", {}), ("0.2425", {"heat_1": "48213", "heat_2": "48213"})):
        if heats:
            heat()
        (under,) = joint_preheat(make_joint(number=cet, **heats), answers).procedures
        (advice,) = under.advices
        inputs = {"cet": cet, "thickness": "20", "hydrogen": "5", "heat_input": "0.586", "yield_mpa": "355"}
        wanted = calculate("preheat_method_b", inputs)
        said = f"{advice.asked} °C" if advice.asked is not None else "no preheat by this method"
        assert said == wanted.shown
        assert f"CET {equivalent_words(D(cet), IN_WORKING)}" in advice.basis[0]
        asked[cet] = wanted.figure
    assert asked["0.2425"] < asked["0.3715"]


def test_a_heat_without_an_element_counts_as_its_grade_and_says_so(people: dict[str, User]) -> None:
    heat(analysis={"C": "0.14", "Mn": "0.9"})
    revision = iso_draft(people["coordinator"], [iso_record()], hydrogen_class=["H5"])
    found = joint_preheat(make_joint(heat_1="48213"), [type("Answer", (), {"revision_id": revision.pk})])  # type: ignore[list-item]
    (advice,) = found.procedures[0].advices
    assert any("states no Mo, Cr, Cu, Ni: its grade counts" in line for line in advice.minds)


def test_a_named_heat_that_is_not_on_file_leaves_its_grade_and_no_other_heat(people: dict[str, User]) -> None:
    """Two heats of the steel are on file with less CET: neither is the one that the part is made of."""
    heat()
    heat("48214")
    revision = iso_draft(people["coordinator"], [iso_record()], hydrogen_class=["H5"])
    answers: Any = [type("Answer", (), {"revision_id": revision.pk})]
    for number, named, cet in (("1", "", "0.2425"), ("2", "77", "0.3715")):
        (under,) = joint_preheat(make_joint(number=number, heat_1=named, heat_2=named), answers).procedures
        assert f"CET {equivalent_words(D(cet), IN_WORKING)}" in under.advices[0].basis[0]


def test_the_page_names_the_heat_and_what_is_missing(client_of: Any) -> None:
    one = heat()
    joint = make_joint(make_job(), heat_1="48213", heat_2="77", t2_mm=None)
    text = unescape(client_of("auditor").get(joint.get_absolute_url()).content.decode())
    assert one.get_absolute_url() in text and "CET 0.24 %" in text
    assert "heat 77, not on file; the grade counts instead" in text
    assert "the thickness of part 2 is not stated" in text


def test_a_list_may_name_heats() -> None:
    table = read_file(b"Assembly;Joint;Weld type;t1;Heat 1;Heat no 2\nB1;1;fillet;12;48213;A 77")
    (row,) = read_rows(table, Setting({})).rows
    assert row["values"]["heat_1"] == "48213" and row["values"]["heat_2"] == "A 77"  # type: ignore[index]
