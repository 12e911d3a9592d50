"""Preheat of a revision against what steel, thickness, hydrogen and heat input ask for."""

from decimal import Decimal as D
from typing import Any

import pytest
from django.contrib.auth.models import User

from codes.calc.registry import calculate
from codes.units import System
from codes.values import Steel
from codes.verdict import Outcome
from tests.wps.iso import iso_draft, iso_record
from wps.materials.counting import counting_cet, same_steel
from wps.materials.models import MaterialCertificate
from wps.models import ProcedureRevision
from wps.preheat_check import Advice, Missing, _hydrogen, preheat_advice

pytestmark = pytest.mark.django_db

S355 = Steel("1.2", D(355), "")
RICH = {"C": "0.18", "Mn": "1.4", "Mo": "0", "Cr": "0", "Cu": "0.20", "Ni": "0.10"}
"""CET 0.3325 %."""


def heat(number: str = "48213", grade: str = "S355J2+N", **analysis: str) -> MaterialCertificate:
    return MaterialCertificate.objects.create(
        grade=grade, heat_number=number, document_reference="1", analysis=RICH | analysis, analysis_kind="product"
    )


def advice(author: User, **window: Any) -> Advice:
    draft = iso_draft(author, [iso_record()], hydrogen_class=["H5"], **window)
    (found,) = preheat_advice(draft)
    return found


class TestMethodB:
    def test_the_grade_counts_where_no_heat_is_on_file(self, coordinator: User) -> None:
        """24 mm, CET 0.3715 %, H5; least heat 0.8 x 220 A x 25 V x 0.06 / 450 = 0.586 kJ/mm, floored."""
        found = advice(coordinator)
        inputs = {"cet": "0.3715", "thickness": "24", "hydrogen": "5", "heat_input": "0.586", "yield_mpa": "355"}
        wanted = calculate("preheat_method_b", inputs)
        assert found.outcome is Outcome.OUTSIDE
        assert f"{found.asked} °C" == wanted.shown == "130 °C"
        assert found.sentence == ("EN 1011-2 method B asks for 130 °C; the procedure states 20 °C, 110 °C less.")
        assert "no heat on file" in found.basis[0]
        assert "C.3, eq. C.8" in found.clause

    def test_in_us_units_a_difference_is_no_temperature(self, coordinator: User) -> None:
        """130 °C is 266 °F, 20 °C 68 °F, and 110 °C less is 198 °F less; 24 mm is 0.945 in. Reckoned in SI."""
        (found,) = preheat_advice(iso_draft(coordinator, [iso_record()], hydrogen_class=["H5"]), (), System.US)
        assert found.sentence == "EN 1011-2 method B asks for 266 °F; the procedure states 68 °F, 198 °F less."
        assert found.asked == 130
        assert "thickness 0.944 in" in found.basis
        assert not any(" °C" in line or " mm" in line for line in (*found.basis, *found.minds))

    def test_a_heat_on_file_counts_in_place_of_its_grade(self, coordinator: User) -> None:
        heat(C="0.14", Mn="0.9")
        found = advice(coordinator)
        assert "CET 0.243 % of S355J2+N, heat 48213" in found.basis[0]
        assert found.asked == 35

    def test_the_worst_heat_counts(self) -> None:
        heat(C="0.14")
        heat("48214")
        counting = counting_cet(S355, D(24))
        assert counting.cet == D("0.3325")
        assert counting.said == "CET 0.333 % of S355J2+N, heat 48214, the worst of 2 heats on file"

    def test_a_heat_with_an_unknown_element_is_named_and_does_not_count(self) -> None:
        heat(Cu="0.2", Ni="0.1")
        bare = heat("1")
        bare.analysis = {"C": "0.10", "Mn": "1.0"}
        bare.save()
        counting = counting_cet(S355, D(24))
        assert counting.cet == D("0.3325")
        assert counting.minds == ("not counted, CET not known: S355J2+N, heat 1",)

    @pytest.mark.parametrize(("stated", "outcome"), [("130", Outcome.COVERED), ("129.9", Outcome.OUTSIDE)])
    def test_both_sides_of_the_edge(self, coordinator: User, stated: str, outcome: Outcome) -> None:
        found = advice(coordinator, preheat=stated)
        assert found.outcome is outcome
        assert found.word == ("Preheat enough" if outcome is Outcome.COVERED else "Preheat too low")

    def test_thin_plate_is_reckoned_where_the_method_begins(self, coordinator: User) -> None:
        found = advice(coordinator, parent_t={"min": "3", "max": "8"})
        assert any("reckoned at 10 mm" in mind for mind in found.minds)

    def test_beyond_its_thickness_the_method_does_not_answer(self, coordinator: User) -> None:
        found = advice(coordinator, parent_t={"min": "3", "max": "90.1"})
        assert found.outcome is Outcome.NOT_STATED
        assert "90.1 mm is outside 10 to 90 mm" in found.sentence
        assert found.word == "Preheat not reckoned"

    def test_a_steel_without_a_bound_asks_for_a_certificate(self, coordinator: User) -> None:
        steel = {"group": "3.1", "yield_mpa": "690", "grade": ""}
        found = advice(coordinator, steels=[steel, steel])
        assert found.outcome is Outcome.NOT_STATED
        assert "put the certificate of its heat on file" in found.sentence


class TestNotStated:
    def test_solid_wire_without_a_hydrogen_class_counts_as_its_usual_scale(self, coordinator: User) -> None:
        """EN 1011-2, C.2: wires under gas in scale C, above 5 up to 10 ml/100 g; the upper end counts, and is said."""
        (found,) = preheat_advice(iso_draft(coordinator, [iso_record()]))
        assert "hydrogen 10 ml/100 g" in found.basis
        assert any("no hydrogen class is stated: 10 ml/100 g counts" in line for line in found.minds)
        other = iso_draft(coordinator, [iso_record("WPQR 013")], "WPS 015", hydrogen_class=["H10"])
        (stated,) = preheat_advice(other)
        assert found.asked == stated.asked and not any("no hydrogen class" in line for line in stated.minds)

    @pytest.mark.parametrize(
        ("process", "counts"), [("131", "10"), ("135", "10"), ("141", "5"), ("136", ""), ("111", "")]
    )
    def test_other_consumables_must_state_it(self, process: str, counts: str) -> None:
        if counts:
            assert _hydrogen(process, {})[0] == D(counts)
            return
        with pytest.raises(Missing, match="hydrogen class of the consumable is not stated"):
            _hydrogen(process, {})

    def test_hydrogen_in_the_designation(self, coordinator: User) -> None:
        words = {"filler_designation": "ISO 17632-A T 46 4 P M21 2 H5"}
        (found,) = preheat_advice(iso_draft(coordinator, [iso_record()], **words))
        assert "hydrogen 5 ml/100 g" in found.basis

    def test_no_runs_no_heat(self, coordinator: User) -> None:
        draft = iso_draft(coordinator, [iso_record()], hydrogen_class=["H5"])
        draft.runs.all().delete()
        (found,) = preheat_advice(ProcedureRevision.objects.get(pk=draft.pk))
        assert "the heat input is not known" in found.sentence


class TestAws:
    @pytest.mark.parametrize(("thickest", "asked"), [("20", None), ("20.1", "10"), ("38.1", "65")])
    def test_the_table_governs(self, coordinator: User, thickest: str, asked: str | None) -> None:
        steel = {"grade": "A572 50", "group": "", "yield_mpa": "345"}
        draft = iso_draft(coordinator, [], steels=[steel, steel], parent_t={"min": "6", "max": thickest})
        draft.code = "AWS D1.1:2020"
        draft.save()
        (found,) = preheat_advice(draft)
        assert found.method == "AWS D1.1, Table 5.8"
        assert found.asked == (D(asked) if asked else None), found
        assert "category B" in found.basis[0]


@pytest.mark.parametrize(
    ("grade", "steel", "same"),
    [
        ("S355J2+N", S355, True),
        ("S355J2+N", Steel("1.2", D(355), "S355J2"), True),
        ("S355J2+N", Steel("1.2", D(355), "S355K2"), False),
        ("S275JR", S355, False),
        ("Own grade 7", Steel("", None, "own grade 7"), True),
        ("Own grade 7", S355, False),
    ],
)
def test_same_steel(grade: str, steel: Steel, same: bool) -> None:
    assert same_steel(grade, steel) is same


def test_the_section_on_the_page(coordinator: User, client_of: Any) -> None:
    draft = iso_draft(coordinator, [iso_record()], hydrogen_class=["H5"])
    said = client_of("auditor").get(draft.get_absolute_url()).content.decode()
    assert "Preheat: advice, no part of the judgement" in said
    assert "EN 1011-2 method B asks for 130 °C" in said
