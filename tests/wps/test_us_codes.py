"""Records and procedures to AWS D1.1 and ASME IX: forms by the code, figures in inches, completeness, coverage."""

import re
from datetime import date
from decimal import Decimal
from typing import Any

import pytest
from django.http import QueryDict
from django.urls import reverse

from codes.clauses import Clause, Mark
from codes.editions import edition
from codes.parse import parse_values
from codes.verdict import Finding, Outcome
from tests.wps.factory import KNOWN_CODE, approved
from tests.wps.us import ASME, AWS, AWS_PIECE, US_RUN, us_draft, us_record
from wps import workflow
from wps.completeness import missing
from wps.forms.groups import FROM_RUNS, shown_groups
from wps.forms.record import RecordForm
from wps.forms.revision import RevisionForm
from wps.forms.us_figures import figure
from wps.forms.values import window_field
from wps.judgement import ProcessJudgement, judge
from wps.models import ProcedureRevision, ProcedureRun, Road, TestRecord
from wps.templatetags.wps_tags import us_margin
from wps.us_window import in_terms_of
from wps.window import demands, demands_from

DAY = date(2026, 3, 2)


@pytest.mark.parametrize("code", [AWS, "AWS D1.1:2015", ASME, "ASME IX:2023"])
def test_complete_and_covered(coordinator: Any, code: str) -> None:
    draft = us_draft(coordinator, code, [us_record(code)])
    assert missing(draft) == ()
    found = judge(draft, DAY)
    assert found.outcome is Outcome.COVERED, [gap.text for gap in found.gaps]


EDGES = [
    (AWS, {"parent_t": {"min": "3.175", "max": "19.05"}}, Outcome.COVERED, ""),
    (AWS, {"parent_t": {"min": "3.174", "max": "19.05"}}, Outcome.OUTSIDE, "misses by 0.001 mm"),
    (AWS, {"gas_mixture": "CO2"}, Outcome.OUTSIDE, "gas mixture"),
    (AWS, {"contractor": "Another firm"}, Outcome.NOT_STATED, "leaves it open: accepted by the engineer not stated"),
    (AWS, {"contractor": "Another firm", "engineer_acceptance": ["yes"]}, Outcome.COVERED, ""),
    (AWS, {"contractor": "Another firm", "engineer_acceptance": ["no"]}, Outcome.OUTSIDE, "contractor"),
    (ASME, {"parent_t": {"min": "5", "max": "24"}}, Outcome.COVERED, ""),
    (ASME, {"parent_t": {"min": "5", "max": "24.1"}}, Outcome.OUTSIDE, "misses by 0.1 mm"),
    (ASME, {"max_run_t": "13.1"}, Outcome.OUTSIDE, "thick"),
    (ASME, {"f_number": ["F4"]}, Outcome.OUTSIDE, "f-number"),
]


@pytest.mark.parametrize(("code", "window", "outcome", "told"), EDGES)
def test_edges(coordinator: Any, code: str, window: dict[str, Any], outcome: Outcome, told: str) -> None:
    found = judge(us_draft(coordinator, code, [us_record(code)], **window), DAY)
    assert found.outcome is outcome, [gap.text for gap in found.gaps]
    assert told in " ".join(gap.text for gap in found.gaps).lower() or not told


@pytest.mark.parametrize("name", ["unit_system", "contractor", "aws_position", "groove_type", "gas_mixture", "preheat"])
def test_what_aws_asks_is_missed(coordinator: Any, name: str) -> None:
    draft = us_draft(coordinator, AWS, [us_record(AWS)])
    del draft.window[name]
    assert name in [one.name for one in missing(draft)]


@pytest.mark.parametrize("name", ["f_number", "a_number", "max_run_t", "interpass", "wire_system", "impact_required"])
def test_what_asme_asks_is_missed(coordinator: Any, name: str) -> None:
    draft = us_draft(coordinator, ASME, [us_record(ASME)])
    del draft.window[name]
    # An F-number follows from the class of the filler where a table holds it.
    assert (name in [one.name for one in missing(draft)]) is (name != "f_number")


QUARTER, TWO = "6.35", {"min": "4.7625", "max": "6.35"}
AGREE = [
    ("root_opening", QUARTER, "gap_mm", "6.35", True),
    ("root_opening", QUARTER, "gap_mm", "6.3", False),
    ("root_opening", TWO, "gap_mm", "4.7625", True),
    ("root_opening", TWO, "gap_mm", "4.762", False),
    ("root_opening", TWO, "gap_mm", "6.35", True),
    ("root_opening", TWO, "gap_mm", "6.351", False),
    ("root_opening", TWO, "gap_mm", "", True),
    ("root_opening", TWO, "gap_mm", {"min": "4.7625", "max": "6.35"}, True),
    ("root_opening", TWO, "gap_mm", {"min": "4.7625", "max": "6.4"}, False),
    ("root_opening", QUARTER, "gap_mm", "a penny", False),
    ("groove_angle", "45", "angle_deg", "45", True),
    ("groove_angle", "45", "angle_deg", "50", False),
    ("root_face", "0", "root_face_mm", "0", True),
    ("root_face", "0", "root_face_mm", "1", False),
    ("groove_depth", {"min": "10", "max": "12"}, "depth_mm", "12", True),
    ("groove_depth", {"min": "10", "max": "12"}, "depth_mm", "12.1", False),
    ("groove_type", ["single_v", "double_v"], "kind", "double_v", True),
    ("groove_type", ["single_bevel"], "kind", "single_v", False),
    ("groove_type", ["flare_bevel"], "kind", "single_bevel", True),
]


@pytest.mark.parametrize(("name", "stated", "key", "drawn", "agree"), AGREE)
def test_window_and_preparation_say_one_thing(
    coordinator: Any, name: str, stated: Any, key: str, drawn: Any, agree: bool
) -> None:
    """Own rule: the window is judged, the preparation is fitted up; inches are 25.4 mm exactly."""
    draft = us_draft(coordinator, AWS, [us_record(AWS)], **{name: stated})
    draft.preparation = draft.preparation | {key: drawn}
    assert [one.name for one in missing(draft) if one.label.startswith("One ")] == ([] if agree else [name])


WIRES = [
    ("single", "1", True),
    ("single", "2", False),
    ("twin", "1", False),
    ("twin", "2", True),
    ("tandem", "1", False),
    ("tandem", "2", True),
    ("tandem", "3", True),
    ("tandem", {"min": "1", "max": "2"}, False),
    ("tandem", None, True),
    (None, "1", True),
    (["single", "twin"], "2", True),
    (["single", "twin"], {"min": "1", "max": "2"}, True),
    (["twin", "tandem"], "1", False),
]


@pytest.mark.parametrize(("system", "electrodes", "agree"), WIRES)
def test_wire_system_and_number_of_electrodes_say_one_thing(
    coordinator: Any, system: Any, electrodes: Any, agree: bool
) -> None:
    """Own rule: a single wire is one electrode, twin wire and tandem are several (AWS D1.1 counts them)."""
    draft = us_draft(coordinator, AWS, [us_record(AWS)])
    stated = {"wire_system": system, "electrodes": electrodes}
    kept = {name: value for name, value in draft.window.items() if name not in stated}
    draft.window = kept | {name: value for name, value in stated.items() if value is not None}
    assert [one.name for one in missing(draft) if one.label.startswith("One ")] == ([] if agree else ["electrodes"])


def test_tandem_with_one_wire_is_said_in_words(coordinator: Any) -> None:
    draft = us_draft(coordinator, AWS, [us_record(AWS)], wire_system=["tandem"], electrodes="1")
    said = "One number of wires: the wire system is tandem, the number of electrodes 1"
    assert said in [one.label for one in missing(draft)]


def test_what_only_the_preparation_states_is_no_disagreement(coordinator: Any) -> None:
    draft = us_draft(coordinator, AWS, [us_record(AWS)])
    del draft.window["root_opening"]
    draft.preparation = draft.preparation | {"gap_mm": "8"}
    assert not [one for one in missing(draft) if one.label.startswith("One ")]


def test_a_gap_that_was_never_judged_is_not_checked(coordinator: Any, second_coordinator: Any) -> None:
    draft = us_draft(coordinator, AWS, [us_record(AWS)])
    draft.preparation = draft.preparation | {"gap_mm": "8"}
    draft.save()
    said = "One root opening: the values state 6.35 mm (0.25 in), the joint preparation 8 mm (0.315 in)"
    with pytest.raises(workflow.Refused, match=re.escape(f"{said} (This register, one figure for one thing)")):
        workflow.check_revision(draft, second_coordinator, DAY)


@pytest.mark.parametrize(("drawn", "announced"), [("6.35", False), ("8", True)])
def test_two_gaps_in_force_are_announced(
    coordinator: Any, second_coordinator: Any, client_of: Any, monkeypatch: Any, drawn: str, announced: bool
) -> None:
    """A revision approved before this was asked stays in force; its page says what the next one must settle."""
    draft = us_draft(coordinator, AWS, [us_record(AWS)])
    draft.preparation = draft.preparation | {"gap_mm": drawn}
    draft.save()
    with monkeypatch.context() as before:
        before.setattr("wps.completeness.disagreements", lambda *both: ())
        held = approved(draft, second_coordinator, DAY)
    page = client_of("auditor").get(held.get_absolute_url()).content.decode()
    assert ("What could not be approved like this today" in page) is announced
    assert ("the joint preparation 8 mm (0.315 in)" in page) is announced


def test_a_record_of_one_code_supports_no_procedure_of_another(coordinator: Any) -> None:
    found = judge(us_draft(coordinator, AWS, [us_record(ASME)]), DAY)
    assert found.outcome is Outcome.NOT_STATED
    assert "made to ASME IX:2021, not to AWS D1.1:2020" in found.sentence


# Forms


@pytest.mark.parametrize(
    ("code", "road", "has", "lacks"),
    [
        (
            KNOWN_CODE,
            Road.TESTED,
            {"position", "throat_a", "heat_measure"},
            {"unit_system", "aws_position", "f_number"},
        ),
        (AWS, Road.TESTED, {"unit_system", "aws_position", "leg_z", "contractor"}, {"throat_a", "gas", "joint_detail"}),
        (AWS, Road.PREQUALIFIED, {"joint_detail", "root_pass_t", "weld_pass"}, {"contractor", "throat_a", "gas"}),
        (ASME, Road.TESTED, {"f_number", "a_number", "max_run_t", "position"}, {"aws_position", "throat_a"}),
    ],
)
def test_the_form_asks_by_code_and_road(code: str, road: str, has: set[str], lacks: set[str]) -> None:
    shown = {name for _, names in shown_groups(code, road) for name in names}
    assert has <= shown
    assert not lacks & shown


@pytest.mark.parametrize("code", [KNOWN_CODE, AWS, ASME])
def test_every_variable_of_the_limits_has_its_place(code: str) -> None:
    """On the form, or in the runs; the level heads the record."""
    shown = {name for _, names in shown_groups(code) for name in names}
    assert set(edition(code).demand) - {"level"} <= shown | FROM_RUNS


@pytest.mark.parametrize("code", [AWS, ASME])
def test_a_record_form_has_the_fields_of_its_code(db: None, code: str) -> None:
    form = RecordForm(instance=TestRecord(code=code))
    asked = {f"piece0_{field.name}" for field in edition(code).fields if field.name != "level"}
    assert asked <= set(form.fields)
    assert "route" not in form.fields
    assert "route" in RecordForm(instance=TestRecord(code=KNOWN_CODE)).fields


@pytest.mark.parametrize("code", [AWS, ASME])
def test_a_record_is_entered(client_of: Any, coordinator: Any, code: str) -> None:
    known = us_record(code)
    form = RecordForm(instance=known)
    sent = {"number": "PQR 8", "welded_on": "2024-05-06", "piece_count": "1", "run_count": "0"}
    for name, value in known.pieces[0].items():
        if name == "steels":
            for at, side in enumerate("ab"):
                facts = {f"piece0_steels_0{side}_{fact}": text or "" for fact, text in value[at].items()}
                sent |= facts
        elif f"piece0_{name}" in form.fields:
            sent[f"piece0_{name}"] = value
    response = client_of("coordinator").post(f"{reverse('wps:record_new')}?code={code}", sent)
    assert response.status_code == 302, response.content.decode()[:3000]
    made = TestRecord.objects.get(number="PQR 8")
    assert [str(one.limits) for one in made.limit_sets()] == [str(one.limits) for one in known.limit_sets()]
    assert "Execution classes" not in client_of("auditor").get(made.get_absolute_url()).content.decode()


def test_steels_are_not_completed_by_iso_groups(db: None) -> None:
    """A P-number stands in the place of the group; an ISO group would be taken for one."""
    given = [[{"grade": "S355J2", "group": "", "yield_mpa": ""}]]
    plain, completed = (window_field("steels", code).to_python(given) for code in (ASME, "ISO 15614-1:2017"))
    assert "1.2" not in str(plain)
    assert "1.2" in str(completed)


# Figures as a US drawing writes them


@pytest.mark.parametrize(
    ("typed", "unit", "kept"),
    [
        ("3/8 in", "mm", "9.525"), ("1-1/2 in", "mm", "38.1"), ("0.045 in", "mm", "1.143"), ("12", "mm", "12"),
        ("212 F", "°C", "100"), ("40 cfh", "l/min", "18.877897728"), ("12 ipm", "mm/min", "304.8"),
    ],
)  # fmt: skip
def test_a_figure_in_inches(typed: str, unit: str, kept: str) -> None:
    assert figure(typed, unit) == Decimal(kept)


def test_a_range_and_a_temperature() -> None:
    assert window_field("parent_t").to_python({"min": "1/4 in", "max": "3/4 in"}) == {"min": "6.35", "max": "19.05"}
    assert window_field("preheat").to_python("150 F") == "65.556"
    assert window_field("preheat").to_python("65") == "65"


def test_runs_are_typed_in_inches(coordinator: Any) -> None:
    draft = us_draft(coordinator, AWS, [us_record(AWS)])
    sent = QueryDict(mutable=True)
    sent.update({"run_count": "1", "serves_final": "on", "road": "tested", "run0-process": "135"})
    for name, text in (
        ("diameter_mm", "5/32 in"), ("speed_min_mm_min", "10 ipm"), ("speed_max_mm_min", "14 ipm"),
        ("wire_feed_min_m_min", "255 ipm"), ("gas_flow_min_l_min", "40 cfh"),
    ):  # fmt: skip
        sent[f"run0-{name}"] = text
    form = RevisionForm(sent, instance=draft)
    assert form.is_valid(), form.errors
    form.save()
    run = ProcedureRevision.objects.get(pk=draft.pk).runs.get()
    assert (run.diameter_mm, run.speed_min_mm_min, run.speed_max_mm_min) == (
        Decimal("3.96875"), Decimal("254"), Decimal("355.6"),
    )  # fmt: skip
    assert (run.wire_feed_min_m_min, run.gas_flow_min_l_min) == (Decimal("6.477"), Decimal("18.878"))


@pytest.mark.parametrize(("text", "told"), [("5/32", "write its unit"), ("3 ft", "not a unit of this field")])
def test_a_slip_is_told(coordinator: Any, text: str, told: str) -> None:
    draft = us_draft(coordinator, AWS, [])
    sent = {"run_count": "1", "run0-diameter_mm": text, "run0-process": "135"}
    assert told in str(RevisionForm(sent, instance=draft).errors)


# Terms of both worlds


def test_iso_terms_are_said_again_where_the_code_asks(coordinator: Any) -> None:
    stated = {"weld_type": "butt_cjp", "position": "PF", "filler_designation": "E7018"}
    assert in_terms_of(AWS, stated)["aws_position"] == "3G"
    assert in_terms_of(AWS, stated)["progression"] == "uphill"
    assert in_terms_of(ASME, stated)["f_number"] == "F4"
    assert in_terms_of(KNOWN_CODE, stated) == stated
    draft = us_draft(coordinator, AWS, [])
    del draft.window["aws_position"]
    draft.window |= {"position": ["PA"]}
    assert demands(draft)["135"]["aws_position"] == "1G"


def test_a_stated_term_stands() -> None:
    stated = {"weld_type": "butt_cjp", "position": "PF", "aws_position": "1G"}
    assert in_terms_of(AWS, stated)["aws_position"] == "1G"


@pytest.mark.parametrize("code", [AWS, ASME])
def test_pages(coordinator: Any, client_of: Any, code: str) -> None:
    draft = us_draft(coordinator, code, [us_record(code)])
    client = client_of("coordinator")
    page = client.get(draft.get_absolute_url()).content.decode()
    assert "Covered" in page
    assert ("0.25 to 0.75 in" in page) is (code == AWS)
    form = client.get(reverse("wps:revision_edit", args=[draft.pk])).content.decode()
    assert ('name="aws_position"' in form) is (code == AWS)
    assert ('name="f_number"' in form) is (code == ASME)


@pytest.mark.parametrize(
    ("margin", "unit", "shown"),
    [
        ("3.175", "mm", "0.125 in"),
        ("-0.01", "mm", "0.001 in"),
        ("0.02", "mm", "0 in"),
        ("14", "°C", "25 °F"),
        # 100 °F, and what was cut off after 28 digits: no degree less, no degree more.
        ("55.55555555555555555555555555", "°C", "100 °F"),
        ("-55.55555555555555555555555556", "°C", "100 °F"),
        ("-2.8", "l/min", "6 ft³/h"),
        ("15", "A", ""),
        ("0", "mm", ""),
    ],
)
def test_a_margin_in_us_units_is_never_more_than_there_is(margin: str, unit: str, shown: str) -> None:
    clause = Clause(AWS, "6.8", Mark.OWN)
    found = Finding("parent_t", "t", Outcome.COVERED, "", "", clause, margin=Decimal(margin), unit=unit)
    for system, expected in (("us", shown), ("si", "")):
        process = ProcessJudgement("135", "", {"unit_system": system}, Outcome.COVERED, (), ())
        assert us_margin(process, found) == expected


@pytest.mark.parametrize("code", [AWS, "AWS D1.1:2015", ASME])
def test_heat_of_runs_has_no_efficiency_factor(code: str) -> None:
    """AWS D1.1, 6.8.5, and ASME IX, QW-409.1: 60 V I / v. 29 V, 260 A, 10 in/min: 45.24 kJ/in = 1.781 kJ/mm."""
    (found,) = demands_from({}, {}, [ProcedureRun(**US_RUN)], code).values()
    assert found["heat_measure"] == "arc_energy"
    assert str(found["heat_input"]) == "1.093 to 1.782 kJ/mm"
    (typed,) = demands_from({"heat_input": "1.5"}, {}, [ProcedureRun(**US_RUN)], code).values()
    assert "heat_measure" not in typed


def test_heat_of_runs_to_iso_has_the_efficiency_in_it() -> None:
    """ISO 15614-1, 8.4.7, with k = 0.8 for process 135 (ISO/TR 17671-1)."""
    (found,) = demands_from({}, {}, [ProcedureRun(**US_RUN)], KNOWN_CODE).values()
    assert str(found["heat_input"]) == "0.874 to 1.425 kJ/mm"
    (stated,) = demands_from({"heat_measure": ["arc_energy"]}, {}, [ProcedureRun(**US_RUN)], KNOWN_CODE).values()
    assert str(stated["heat_input"]) == "1.093 to 1.782 kJ/mm"


def test_more_heat_than_tested_is_not_hidden_by_an_efficiency() -> None:
    """AWS D1.1:2020, Table 6.7 line 9: tested 1.5 kJ/mm, the runs reach 1.78; with k they would read 1.42."""
    window = demands_from({"impact_required": ["yes"]}, {}, [ProcedureRun(**US_RUN)], AWS)["135"]
    sets = edition(AWS).limit_sets((parse_values(AWS_PIECE | {"impact_tested": "yes", "heat_input": "1.5"}),), {})
    heat = [limit for one in sets for limit in one.limits if limit.variable == "heat_input"]
    assert heat
    assert all(not limit.allowed.interval.holds(window["heat_input"].hi) for limit in heat)


def test_a_us_code_shows_a_us_grade_as_its_example() -> None:
    """ASTM A572/A572M: grade 50 [345]. SA-516/SA-516M: grade 70, 38 ksi [260 MPa], P-No. 1 Group 2."""
    shown = str(RecordForm(instance=TestRecord(code=AWS))["piece0_steels"])
    assert 'placeholder="A572 Gr 50"' in shown and 'placeholder="345"' in shown and "1.2" not in shown
    asme = str(RecordForm(instance=TestRecord(code=ASME))["piece0_steels"])
    assert 'placeholder="SA-516 Gr 70"' in asme and 'placeholder="P-1 Gr 2"' in asme and 'placeholder="260"' in asme
    iso = str(RecordForm(instance=TestRecord(code="ISO 15614-1:2017"))["piece0_steels"])
    assert 'placeholder="S355J2+N"' in iso and 'placeholder="1.2"' in iso
