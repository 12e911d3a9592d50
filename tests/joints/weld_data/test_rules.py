"""Every rule of the weld data at its edges: what it finds and proposes, and where it is silent."""

import csv
from datetime import date
from decimal import Decimal as D
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from joints.models import Job, Joint, Workstation
from joints.weld_data.check import check
from joints.weld_data.finding import plain
from joints.weld_data.rules import RULES
from joints.weld_data.weld import Weld

pytestmark = pytest.mark.usefixtures("no_own_grades")

EN = {"application_standard": "EN 1090-2:2018", "execution_class": "EXC2"}
AWS = {"procedure_code": "AWS D1.1:2020"}
BAY = Workstation(name="Bay 1", kind="manual_bay", processes=["135", "111"], max_length_mm=D(12000))
SOUND: dict[str, Any] = {
    "weld_type": "fillet", "joint_type": "tee", "product": "plate", "grade_1": "S355J2", "grade_2": "S355J2",
    "t1_mm": D(12), "t2_mm": D(12), "throat_mm": D(5), "length_mm": D(300), "position": "PB", "final_process": "135",
    "final_workstation": BAY, "tack_process": "135", "tack_workstation": BAY, "tack_length_mm": D(50),
    "tack_throat_mm": D(3),
}  # fmt: skip
BUTT: dict[str, Any] = {
    "weld_type": "butt_cjp", "joint_type": "butt", "throat_mm": None, "position": "PA", "weld_detail": "bs",
    "preparation": "single_v",
}  # fmt: skip
PIPE: dict[str, Any] = {"product": "pipe", "diameter_mm": D("60.3"), "position": "PH", "length_mm": D(190)}
ASK = "ask"
Proposed = dict[str, Any]


def weld(job: Proposed | None = None, steels: tuple[str, ...] = (), part: D | None = None,
         reaches: tuple[str, ...] = (), **changes: Any) -> Weld:  # fmt: skip
    """A sound fillet but for what changes."""
    return Weld(Joint(**(SOUND | changes)), Job(number="1", **(job or {})), steels, part, reaches)


def finds(rule: str, one: Weld) -> list[Any]:
    """What a rule proposes: a dict of fields and values in plain form, or ASK."""
    found = [finding for finding in check(one) if finding.rule == rule]
    return [{c.field: c.after for c in finding.changes} if finding.changes else ASK for finding in found]


def test_a_sound_weld_is_left_alone() -> None:
    for job in ({}, EN, AWS):
        assert check(weld(job)) == ()


def test_a_fillet_without_size_is_told_the_thinner_part_and_never_a_throat() -> None:
    (found,) = (one for one in check(weld(throat_mm=None)) if one.rule == "fillet_without_size")
    assert found.reason.endswith("usual is at most 0.7 of the thinner part (12 mm)")


def pairs(text: str) -> dict[str, str]:
    """Names and values of a cell. Example: pairs("a=1, b=") gives {"a": "1", "b": ""}."""
    return dict(part.split("=", 1) for part in text.split(", ")) if text else {}


def value(model: type[Any], name: str, text: str) -> Any:
    """A text as its field holds it."""
    kind = model._meta.get_field(name).get_internal_type()
    if kind == "DateField":
        return date.fromisoformat(text)
    return (D(text) if text else None) if kind == "DecimalField" else text


def read(row: dict[str, str]) -> tuple[str, Proposed, Proposed, list[Any]]:
    """Rule, job, what changes on the sound weld, and what is proposed: one entry for each finding."""
    job = JOBS.get(row["job"]) or {name: value(Job, name, text) for name, text in pairs(row["job"]).items()}
    changes = {name: held for base in row["base"].split() for name, held in BASES[base].items()}
    changes |= {name: value(Joint, name, text) for name, text in pairs(row["changes"]).items()}
    proposed = [one if one == ASK else pairs(one) for one in row["proposed"].split(" | ") if one]
    return row["rule"], job, changes, proposed


JOBS = {"en": EN, "aws": AWS}
BASES = {"butt": BUTT, "pipe": PIPE}
with (Path(__file__).parent / "cases.csv").open(encoding="utf-8", newline="") as file:
    CASES = [read(row) for row in csv.DictReader(file, delimiter=";")]


@pytest.mark.parametrize(("rule", "job", "changes", "proposed"), CASES)
def test_a_rule_at_its_edges(rule: str, job: Proposed, changes: Proposed, proposed: list[Any]) -> None:
    assert finds(rule, weld(job, **changes)) == proposed


def test_the_only_steel_of_the_assembly_is_proposed() -> None:
    both = [{"grade_1": "S235JR"}, {"grade_2": "S235JR"}]
    assert finds("grade_missing", weld(steels=("S235JR",), grade_1="", grade_2="")) == both
    assert finds("grade_missing", weld(steels=("S235JR", "S355J2"), grade_1="", grade_2="")) == [ASK, ASK]


@pytest.mark.parametrize(("length", "proposed"), [(200, []), (201, [{"length_mm": "200"}])])
def test_no_weld_is_longer_than_its_part(length: int, proposed: list[Any]) -> None:
    assert finds("longer_than_part", weld(part=D(200), length_mm=D(length))) == proposed


@pytest.mark.parametrize(
    ("rule", "position", "reaches", "proposed"),
    [
        ("position_not_reached", "PA", ("PB", "PF"), [{"position": "PB"}]),
        ("position_not_reached", "PF", ("PB", "PF"), []),
        ("position_not_reached", "PA", (), []),
        ("position_missing", "", ("PB", "PF"), [{"position": "PB"}]),
    ],
)
def test_positions_against_the_geometry(
    rule: str, position: str, reaches: tuple[str, ...], proposed: list[Any]
) -> None:
    assert finds(rule, weld(position=position, reaches=reaches)) == proposed


@pytest.mark.parametrize(("throat", "count"), [("7", 0), ("7.1", 1)])
def test_a_machine_carries_a_larger_run(throat: str, count: int) -> None:
    cell = Workstation(name="Cell", kind="robotic_cell", processes=["135"], mechanisation="automatic")
    assert len(finds("larger_than_one_run", weld(throat_mm=D(throat), final_workstation=cell))) == count


def test_every_rule_is_tested_where_it_finds_and_where_it_is_silent() -> None:
    heats = {"heat_of_another_grade", "heat_of_another_thickness", "heat_above_its_grade", "heat_not_on_file"}
    elsewhere = {
        "longer_than_part",
        "position_not_reached",
        "both_sides_in_one_row",
    } | heats  # those of heats: tests/joints/test_heats.py
    finding = {rule for rule, _, _, proposed in CASES if proposed} | elsewhere
    silent = {rule for rule, _, _, proposed in CASES if not proposed} | elsewhere
    assert finding == set(RULES)
    # What is missing is silent on the sound weld.
    assert set(RULES) - silent <= {
        "grade_missing",
        "position_missing",
        "product_missing",
        "not_stated",
        "tack_process_missing",
    }


def test_every_proposal_settles_its_finding() -> None:
    """Taken over, no proposal leaves its own rule with the same finding."""
    for rule, job, changes, proposed in CASES:
        for taken in proposed:
            if taken == ASK:
                continue
            after = weld(job, **(changes | {name: value(Joint, name, text) for name, text in taken.items()}))
            assert taken not in finds(rule, after), (rule, changes)


def test_every_finding_says_why_and_where() -> None:
    for _, job, changes, _ in CASES:
        for finding in check(weld(job, **changes)):
            assert finding.reason and str(finding.clause) and finding.clause.source
            assert not finding.reason.endswith(".")


def test_the_key_changes_with_what_stands_there() -> None:
    first, second = (check(weld(EN, throat_mm=D(a)))[0] for a in ("2.9", "2.8"))
    assert first.key != second.key and first.present == "2.9"
    assert first.key == check(weld(EN, throat_mm=D("2.9")))[0].key


def test_plain_values() -> None:
    assert [plain(one) for one in (D("5.000"), None, "PB", date(2026, 11, 25))] == ["5", "", "PB", "2026-11-25"]


def test_what_states_the_fields_will_do() -> None:
    """The rules need no row of the database."""
    blank = {f.name: None if f.null else "" for f in Joint._meta.concrete_fields}
    joint = SimpleNamespace(**(blank | SOUND))
    assert check(Weld(joint, Job(number="1", **EN))) == ()


@pytest.mark.parametrize(
    ("changes", "reaches", "proposed"),
    [
        ({"weld_detail": "bs"}, ("PB",), [ASK]),
        ({"weld_detail": "bs"}, (), []),
        ({}, ("PB",), []),
        (BUTT, ("PA",), []),
    ],
)
def test_geometry_of_one_of_two_fillets_is_asked_about(
    changes: Proposed, reaches: tuple[str, ...], proposed: list[Any]
) -> None:
    assert finds("both_sides_in_one_row", weld(reaches=reaches, **changes)) == proposed
