"""Weld metal of one weld by hand, and the sums of an assembly and a job."""

from collections.abc import Callable
from decimal import Decimal as D
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from codes.units import System
from joints.models import Assembly, Job, Joint
from joints.papers.stated import joint_words
from joints.sizes import welded_length
from joints.symbols import symbol_of_joint
from joints.weld_metal.amounts import Amounts, Recipe, Sizes, amounts, efficiency_of
from joints.weld_metal.recipes import figure, recipe_of
from joints.weld_metal.totals import JointMetal, sizes_of, totals
from tests.joints.makers import make_job, make_joint
from tests.wps.iso import iso_draft, iso_record

MAG = Recipe("WPS 014 rev C", "135", "G 42 4", "single_v", D(60), D(2), D(1), wire=D("1.2"), feed=D(10), flow=D(15),
             gas="M21")  # fmt: skip


def near(value: D | None, wanted: str, within: str = "0.001") -> bool:
    return value is not None and abs(value - D(wanted)) <= D(within)


class TestFillet:
    def test_by_hand(self) -> None:
        """a 5: 25 mm²; 1 m: 25 x 7.85 / 1000 = 0.19625 kg; rate 5.327 x 0.96 = 5.114 kg/h: 2.303 min; 34.5 l."""
        found = amounts(Sizes("fillet", length=D(1000), throat=D(5)), MAG)
        assert found.area == 25
        assert found.deposited == D("0.19625")
        assert near(found.filler, "0.2044")
        assert near(found.arc_minutes, "2.3026")
        assert near(found.gas, "34.54", "0.01")
        assert found.missing == ()

    def test_a_leg(self) -> None:
        assert amounts(Sizes("fillet", length=D(1), leg=D(8)), MAG).area == 32

    def test_both_sides_are_two_welds(self) -> None:
        """Twice the mass, filler, time and gas of one; the area is that of each."""
        one, both = (amounts(Sizes("fillet", length=D(1000), throat=D(5), welds=n), MAG) for n in (1, 2))
        assert (both.area, both.deposited, both.how) == (25, D("0.3925"), "a², 2 welds")
        assert near(both.filler, "0.4088") and near(both.arc_minutes, "4.6052") and near(both.gas, "69.08", "0.01")
        assert one.how == "a²"

    def test_a_row_on_both_sides_means_the_same_everywhere(self) -> None:
        """Symbol, weld metal, length and words: two fillets for a fillet, one weld for a butt joint."""
        job = Job(number="1", procedure_code="ISO 15614-1:2017")
        joint = Joint(
            weld_type="fillet", weld_detail="bs", throat_mm=D(5), length_mm=D(310), assembly=Assembly(job=job)
        )
        symbol = symbol_of_joint(joint)
        assert symbol is not None and symbol.other == symbol.arrow
        assert sizes_of(joint).welds == 2 and sizes_of(joint).length == 310
        assert JointMetal(joint, MAG, Amounts()).length == 620
        assert joint_words(joint, System.SI).startswith("Fillet weld a 5 mm on both sides")
        butt = Joint(weld_type="butt_cjp", weld_detail="bs", preparation="double_v", length_mm=D(310))
        assert sizes_of(butt).welds == 1 and "on both sides" not in joint_words(butt, System.SI)
        assert sizes_of(Joint(weld_type="fillet", weld_detail="")).welds == 1

    def test_no_size_no_metal(self) -> None:
        found = amounts(Sizes("fillet", length=D(1000)), MAG)
        assert found == Amounts(missing=("weld metal: throat or leg is not stated",))

    def test_without_a_procedure_the_metal_is_known_and_nothing_else(self) -> None:
        found = amounts(Sizes("fillet", length=D(1000), throat=D(5)), Recipe(""))
        assert found.deposited == D("0.19625")
        assert (found.filler, found.arc_minutes, found.gas) == (None, None, None)
        assert found.missing == ("filler, arc time and gas: no procedure covers the joint",)

    def test_no_length_no_mass(self) -> None:
        found = amounts(Sizes("fillet", throat=D(5)), MAG)
        assert found.area == 25
        assert found.missing == ("mass: the length of the weld is not stated",)


class TestGroove:
    def test_single_v_of_the_check_case(self) -> None:
        assert near(amounts(Sizes("butt_cjp", D(1000), thickness=D(15)), MAG).area, "143.16", "0.02")

    def test_partial_penetration_is_as_deep_as_the_weld(self) -> None:
        """6 deep, gap 2, no root face, 60°: 12 + 36 tan 30° = 32.78 mm²."""
        found = amounts(Sizes("butt_pjp", D(1000), thickness=D(15), penetration=D(6)), MAG)
        assert near(found.area, "32.785", "0.005")

    def test_a_u_is_stated_with_its_included_angle(self) -> None:
        """The check case WA-10 has a bevel angle of 9°."""
        u = Recipe("W", "135", kind="single_u", angle=D(18), gap=D(1), root_face=D(3), radius=D(6))
        assert near(amounts(Sizes("butt_cjp", D(1), thickness=D(15)), u).area, "150.19", "0.02")

    @pytest.mark.parametrize(
        ("sizes", "recipe", "why"),
        [
            (Sizes("butt_cjp", D(1), thickness=D(15)), Recipe("W"), "preparation is not stated, nor by W"),
            (Sizes("butt_cjp", D(1)), MAG, "thickness is not stated"),
            (Sizes("butt_pjp", D(1), thickness=D(15)), MAG, "penetration is not stated"),
            (Sizes("butt_cjp", D(1), thickness=D(15)), Recipe("W", kind="single_v"), "gap is not stated"),
            (Sizes("butt_cjp", D(1), thickness=D(15)), Recipe("W", kind="square", gap=D(0)), "gives no section"),
            (Sizes("butt_cjp", D(1), thickness=D(1)), MAG, "root face"),
            (Sizes("", D(1)), MAG, "not a fillet or a butt weld"),
            (Sizes("stud", D(1)), MAG, "not a fillet or a butt weld"),
        ],
    )
    def test_what_is_not_known_is_named(self, sizes: Sizes, recipe: Recipe, why: str) -> None:
        found = amounts(sizes, recipe)
        assert found.area is None
        assert why in found.missing[0]


class TestHowItIsWelded:
    @pytest.mark.parametrize(
        ("process", "gas", "share"),
        [("135", "M21", "96"), ("135", "C1", "93"), ("138", "M21", "93"), ("136", "M21", "86"), ("114", "", "78"),
         ("121", "", "99"), ("111", "", "62"), ("141", "I1", None), ("", "", None)],
    )  # fmt: skip
    def test_efficiency(self, process: str, gas: str, share: str | None) -> None:
        assert efficiency_of(Recipe("W", process, gas=gas)) == (D(share) if share else None)

    def test_a_cored_wire_melts_less_metal(self) -> None:
        sizes = Sizes("fillet", length=D(1000), throat=D(5))
        solid = amounts(sizes, Recipe("W", "121", wire=D("1.2"), feed=D(10)))
        cored = amounts(sizes, Recipe("W", "136", wire=D("1.2"), feed=D(10)))
        assert solid.arc_minutes is not None
        assert near(cored.arc_minutes, str(solid.arc_minutes * D("0.99") / D("0.86") / D("0.86")))

    def test_no_efficiency_no_filler(self) -> None:
        found = amounts(Sizes("fillet", length=D(1000), throat=D(5)), Recipe("W", "141"))
        assert found.deposited is not None
        assert found.filler is None
        assert found.missing == (
            "filler, arc time and gas: no deposition efficiency is on file for process 141 · GTAW",
        )

    @pytest.mark.parametrize(
        ("wire", "feed", "gas", "said"),
        [
            (None, None, "C1", "arc time and gas: the runs state neither wire diameter nor wire feed"),
            (D("1.2"), None, "C1", "arc time and gas: the runs state no wire feed"),
            (None, D(10), "", "arc time: the runs state no wire diameter"),
        ],
    )
    def test_what_keeps_the_arc_time_unknown(self, wire: D | None, feed: D | None, gas: str, said: str) -> None:
        recipe = Recipe("W", "136", gas=gas, wire=wire, feed=feed)
        assert amounts(Sizes("fillet", length=D(1000), throat=D(5)), recipe).missing == (said,)

    @pytest.mark.parametrize(("gas", "what"), [("", "arc time"), ("C1", "arc time and gas")])
    def test_a_covered_electrode_has_no_wire_to_feed(self, gas: str, what: str) -> None:
        found = amounts(Sizes("fillet", length=D(1000), throat=D(5)), Recipe("W", "111", gas=gas))
        assert found.filler is not None
        assert found.missing == (f"{what}: process 111 · SMAW has no wire feed to reckon from",)

    @pytest.mark.parametrize(
        ("text", "value"), [("2", "2"), ("2,5", "2.5"), ("2 to 3", None), ("", None), (None, None), ({"min": 1}, None)]
    )
    def test_figure(self, text: object, value: str | None) -> None:
        assert figure(text) == (D(value) if value else None)


class TestTotals:
    def test_sums_say_what_they_leave_out(self) -> None:
        each = [amounts(Sizes("fillet", length=D(1000), throat=D(5)), MAG)] * 2 + [amounts(Sizes("fillet"), MAG)]
        found = totals([JointMetal(None, MAG, one) for one in each])  # type: ignore[arg-type]
        assert found.deposited.value == D("0.3925")
        assert (found.deposited.known, found.deposited.of, found.deposited.whole) == (2, 3, False)
        assert found.fillers[0][0] == "G 42 4"
        assert found.reasons == (("weld metal: throat or leg is not stated", 1),)

    def test_filler_to_buy_is_never_less_than_what_is_deposited(self) -> None:
        """96 % of 0.19625 kg buys 0.2044 kg; where no efficiency is known the 0.19625 kg themselves are the least."""
        size = Sizes("fillet", length=D(1000), throat=D(5))
        unknown = Recipe(label="")
        found = totals([JointMetal(None, one, amounts(size, one)) for one in (MAG, unknown)])  # type: ignore[arg-type]
        assert found.deposited.value == D("0.3925")
        assert found.filler.value == amounts(size, MAG).filler + D("0.19625")  # type: ignore[operator]
        assert (found.filler.known, found.filler.of) == (1, 2)


@pytest.mark.django_db
class TestPages:
    def test_a_recipe_of_a_procedure(self, coordinator: Any) -> None:
        found = recipe_of(iso_draft(coordinator, [iso_record()]), "135")
        assert (found.wire, found.feed, found.flow, found.gas) == (D("1.2"), D("8.75"), D(16), "M21")
        assert found.label == "WPS 014 rev A"

    @pytest.mark.parametrize(
        ("window", "gas"),
        [
            ({"gas_mixture": "CO2"}, "C1"),
            ({"gas_mixture": "75Ar/25CO2"}, "M21"),
            ({"gas": "M20", "gas_mixture": "CO2"}, "M20"),
            ({"gas_mixture": "60Ar/30He/10CO2"}, "60Ar/30He/10CO2"),
            ({"gas_mixture": "none"}, ""),
            ({"gas_mixture": "see the maker's sheet"}, ""),
            ({}, ""),
        ],
    )
    def test_a_gas_that_is_stated_as_a_mixture(self, window: dict[str, str], gas: str, coordinator: Any) -> None:
        """A procedure to AWS D1.1 states the mixture, not the symbol of ISO 14175."""
        draft = iso_draft(coordinator, [iso_record()])
        draft.window = window
        assert recipe_of(draft, "135").gas == gas

    def test_the_sums_of_a_job(self, client_of: Callable[[str], Client]) -> None:
        joint = make_joint(length_mm=D(1000), throat_mm=D(5))
        auditor, job = client_of("auditor"), joint.assembly.job
        said = auditor.get(reverse("joints:job_metal", args=[job.pk])).content.decode()
        assert "0.20 kg" in said
        assert joint.number in said
        part = auditor.get(reverse("joints:assembly_metal", args=[joint.assembly_id]), headers={"HX-Request": "true"})
        assert "<html" not in part.content.decode()
        assert "0.20 kg" in part.content.decode()
        assert reverse("joints:job_metal", args=[job.pk]) in auditor.get(job.get_absolute_url()).content.decode()

    def test_taken_away(self, client_of: Callable[[str], Client]) -> None:
        joint = make_joint(length_mm=D(1000), throat_mm=D(5))
        url = reverse("joints:job_metal", args=[joint.assembly.job_id])
        lines = b"".join(client_of("auditor").get(url, {"export": "csv"}).streaming_content).decode().splitlines()  # type: ignore[attr-defined]
        assert "0.196" in lines[1]
        assert client_of("auditor").get(url, {"export": "pdf"}).status_code == 400

    def test_in_us_units(self, client_of: Callable[[str], Client]) -> None:
        """0.19625 kg is 0.43 lb, 25 mm² 0.039 in², 1000 mm 39.4 in; kept and taken away with their own heads."""
        joint = make_joint(length_mm=D(1000), throat_mm=D(5))
        auditor, url = client_of("auditor"), reverse("joints:job_metal", args=[joint.assembly.job_id])
        said = auditor.get(url, {"units": "us"}).content.decode()
        assert "0.43 lb" in said and "0.039" in said and "39.4" in said and " kg<" not in said and "[kg]" not in said
        head, line = b"".join(auditor.get(url, {"export": "csv"}).streaming_content).decode().splitlines()[:2]  # type: ignore[attr-defined]
        assert "Area [in²]" in head and "Deposited [lb]" in head and "Gas [ft³]" in head
        assert "0.0388" in line and "39.370" in line and "0.433" in line

    def test_remarks_of_a_joint_stay_as_they_were_written(self, client_of: Callable[[str], Client]) -> None:
        joint = make_joint(length_mm=D(254), throat_mm=D(5), remarks="stop 12 mm before the edge")
        said = client_of("auditor").get(joint.get_absolute_url(), {"units": "us"}).content.decode()
        assert "stop 12 mm before the edge" in said and "10 in" in said

    def test_an_empty_job(self, client_of: Callable[[str], Client]) -> None:
        said = client_of("auditor").get(reverse("joints:job_metal", args=[make_job().pk])).content.decode()
        assert "No joint is on file here" in said


@pytest.mark.parametrize(
    ("length", "said", "welded"),
    [
        (350, ("yes", 50, 100), 150),
        (349.5, ("yes", 50, 100), 149.83),
        (400, ("yes", 50, 100), 166.67),
        (50, ("yes", 50, 100), 50),
        (40, ("yes", 50, 100), 40),
        (350, ("", None, None), 350),
        (350, ("no", 50, 100), 350),
        (350, ("yes", None, 100), None),
        (350, ("yes", 50, None), None),
        (None, ("yes", 50, 100), None),
    ],
)
def test_of_an_intermittent_weld_the_elements_count(length: Any, said: Any, welded: Any) -> None:
    """n elements of l, as ISO 2553 states them: n x l is welded."""
    flag, *sizes = said
    element, gap = (None if size is None else D(size) for size in sizes)
    found = welded_length(None if length is None else D(str(length)), flag, element, gap)
    assert found is None if welded is None else near(found, str(welded), "0.005")


def test_missing_elements_are_named_as_such() -> None:
    sizes = sizes_of(Joint(weld_type="fillet", throat_mm=D(5), intermittent="yes", length_mm=D(350)))
    assert amounts(sizes, MAG).missing == ("mass: the elements of the intermittent weld are not stated",)
    sizes = sizes_of(Joint(weld_type="fillet", throat_mm=D(5), intermittent="yes"))
    assert amounts(sizes, MAG).missing == ("mass: the length of the weld is not stated",)
