"""What to test next: a small job by hand, the chosen pieces against the explaining checker, what is never claimed."""

import random
from collections.abc import Callable
from datetime import date
from decimal import Decimal as D
from itertools import combinations

import pytest
from django.test import Client
from django.urls import reverse

from codes.readings import DEFAULTS
from codes.values import Steel, SteelPair
from joints.day import Day
from joints.demands import FINAL, TACK, JointDemand, PhaseDemand, Requirements
from joints.models import Job
from joints.planning.bought import Table, covers
from joints.planning.needs import PERSON, PROCEDURE, Collector, Open, Reason
from joints.planning.pieces import Fact, Piece, edges
from joints.planning.plan import Plan, plan, plan_for, solve
from joints.planning.procedure_pieces import highest, procedure_pieces
from joints.planning.smallest import smallest_cover
from tests.joints.makers import CODE, ON, S355, make_job, make_joint

S275 = SteelPair(Steel("1.1", D(275), "S275JR"), Steel("1.1", D(275), "S275JR"))
UNKNOWN = SteelPair(Steel("", None, "X"), Steel("", None, "X"))


class Bare(Day):
    """A day on which nothing is on file."""

    def __init__(self) -> None:
        self.on, self.settings, self.kept = ON, DEFAULTS, None
        self.procedures, self.certificates = (), ()


def weld(**changes: object) -> dict[str, object]:
    base: dict[str, object] = {
        "process": "135", "mechanisation": "partly_mechanised", "weld_type": "fillet", "joint_type": "tee",
        "product": "plate", "steels": S355, "parent_t": D(10), "throat_a": D(4), "position": "PB",
        "impact_required": "no", "hardness_required": "no", "pwht": "no",
    }  # fmt: skip
    return {name: value for name, value in (base | changes).items() if value is not None}


def joint(**changes: object) -> JointDemand:
    final = weld(**changes)
    tack = {**final, "run_type": "single_run"}
    return JointDemand("J", PhaseDemand(TACK, (tack,)), PhaseDemand(FINAL, (final,)), Requirements(CODE))  # type: ignore[arg-type]


def planned(*joints: JointDemand) -> Plan:
    collector = Collector(Bare())
    for index, one in enumerate(joints):
        collector.add(index, one)
    return solve(collector.found, len(joints), range(len(joints)), ON, DEFAULTS)


def sizes(found: Plan) -> tuple[int, int]:
    return len(found.parts[0].bought), len(found.parts[1].bought)


class TestByHand:
    def test_one_fillet_takes_one_of_each(self) -> None:
        """Tack and final are one and the same single-run fillet."""
        found = planned(joint())
        assert sizes(found) == (1, 1)
        assert found.solved == (0,)
        assert all(part.cover.proven for part in found.parts)

    def test_fillets_of_4_and_24_mm_share_one_piece_and_4_and_100_do_not(self) -> None:
        """Table 8: 12 mm covers 3 to 24 mm; 100 mm asks for 30 mm or more, which covers from 5 mm only."""
        assert sizes(planned(joint(parent_t=D(4)), joint(parent_t=D(24)))) == (1, 1)
        assert sizes(planned(joint(parent_t=D(4)), joint(parent_t=D(100)))) == (2, 1)

    def test_throats_of_3_and_6_share_one_piece_and_3_and_7_take_a_second_run_type(self) -> None:
        """0.75 a to 1.5 a: a = 4 covers 3 to 6. A fillet of 7 is welded in several runs."""
        assert sizes(planned(joint(throat_a=D(3)), joint(throat_a=D(6)))) == (1, 1)
        assert sizes(planned(joint(throat_a=D(3)), joint(throat_a=D(7))))[0] > 1

    def test_the_higher_yield_covers_the_lower(self) -> None:
        found = planned(joint(steels=S355), joint(steels=S275))
        assert sizes(found) == (1, 1)
        assert found.parts[0].bought[0].piece.values["steels"] == S355

    def test_any_position_but_down_for_the_procedure_each_its_own_table_for_people(self) -> None:
        """PD covers PB by Table 10; PF is no part of PD, so that two welders' pieces are needed."""
        assert sizes(planned(joint(position="PB"), joint(position="PD"))) == (1, 1)
        assert sizes(planned(joint(position="PD"), joint(position="PF"))) == (1, 2)
        assert sizes(planned(joint(position="PB"), joint(position="PG"))) == (2, 2)

    def test_edges(self) -> None:
        assert edges({D(24)}, ("1", "1.2")) == (D(20), D(24))
        assert edges({D(4)}, ("1.5",)) == (D("2.6"), D("2.7"), D(4))
        assert D(21) in edges({D(25)}, ("1.2",))

    def test_only_steels_that_no_other_covers_are_tested(self) -> None:
        assert highest([{"steels": S275}, {"steels": S355}], DEFAULTS) == [{"steels": S355}]


@pytest.mark.parametrize(
    "change",
    [{"position": None}, {"parent_t": None}, {"steels": None}, {"process": None}, {"mechanisation": None},
     {"weld_type": None}, {"throat_a": None}, {"product": None}, {"steels": UNKNOWN}],
)  # fmt: skip
def test_what_is_not_stated_is_never_claimed(change: dict[str, object]) -> None:
    found = planned(joint(**change), joint())
    assert found.solved == (1,)
    assert all(0 not in one.joints for part in found.parts for one in part.bought)
    assert any(0 in blocked.joints for blocked in found.blocked)


def test_the_reason_is_named() -> None:
    assert [one.why for one in planned(joint(position=None)).blocked] == ["position not stated"]


def test_a_reason_after_its_phase_begins_small() -> None:
    """ISO 15614-1:2017, 8.3.3: a pipe whose diameter is not stated is named within the sentence."""
    whys = [one.why for one in planned(joint(product="pipe")).blocked]
    assert whys[0].startswith("tack and final phase, procedure: outside diameter ")
    assert whys[1].startswith("tack and final phase, person: product pipe ")


@pytest.mark.parametrize(
    ("position", "required", "made"),
    [
        ("PB", "no", {("butt", "PA")}),
        ("PD", "no", {("butt", "PE")}),
        ("PF", "yes", {("butt", "PF")}),
        ("PA", "yes", {("butt", "PA")}),
        ("PB", "yes", {("butt", "PA"), ("tee", "PB")}),  # where impact was tested binds: a butt weld of a T-joint
        ("PD", "yes", {("butt", "PE"), ("tee", "PD")}),
    ],
)
def test_no_butt_joint_is_suggested_in_a_position_of_fillets(
    position: str, required: str, made: set[tuple[str, str]]
) -> None:
    """ISO 15614-1:2017, 8.4.2: any position serves all but down; ISO 6947 has no butt joint in PB or PD."""
    found = table([joint(impact_required=required, position=position, impact_temperature=D(-20))]).pieces
    butts = [one.values for one in found if one.values["weld_type"] == "butt_cjp"]
    assert {(one["joint_type"], one["position"]) for one in butts} == made


def test_a_fillet_in_pb_with_toughness_is_covered_by_a_butt_weld_of_a_t_joint() -> None:
    """ISO 15614-1:2017, 8.4.2, the strict reading: impact properties are shown for the position of the tests only."""
    found = planned(joint(impact_required="yes", impact_temperature=D(-20), parent_t=D(15), throat_a=D(7)))
    assert {one.piece.values["joint_type"] for one in found.parts[0].bought} == {"tee"}


@pytest.mark.parametrize(
    ("name", "value", "fact", "words"),
    [
        ("robot", "yes", Fact("Robot", ""), "Robot"),
        ("robot", "no", Fact("", "no robot welds"), "no robot welds"),
        ("multi_arc", "no", Fact("", "a single arc is used"), "a single arc is used"),
        ("position", "PB", Fact("Position", "PB · 2F"), "Position: PB · 2F"),
        ("unit", "arm on a 24 m track", Fact("Welding unit", "arm on a 24 m track", True),
         "Welding unit: arm on a 24 m track"),
    ],
)  # fmt: skip
def test_a_piece_says_yes_and_no_in_words(name: str, value: str, fact: Fact, words: str) -> None:
    one = Piece("ISO 14732:2013", "operator", {name: value}, (), ())
    assert one.facts == [fact]
    assert one.words == words


def test_no_iso_piece_for_a_job_to_another_code() -> None:
    other = joint()
    demand = JointDemand("J", other.tack, other.final, Requirements("AWS D1.1:2020"))
    found = planned(demand)
    assert found.solved == ()
    assert "AWS D1.1" in found.blocked[0].why


def random_joint(rng: random.Random) -> JointDemand:
    fillet = rng.random() < 0.5
    shape: dict[str, object] = {"throat_a": D(rng.randint(3, 9))}
    if not fillet:
        shape = {"weld_type": "butt_cjp", "joint_type": "butt", "throat_a": None, "gouging": "none",
                 "weld_detail": rng.choice(["ss_nb", "ss_mb"])}  # fmt: skip
    thick = D(rng.choice([4, 8, 10, 12, 15, 20, 25, 40]))
    facts = {
        "parent_t": thick,
        "position": rng.choice(["PA", "PB", "PC", "PF", None]),
        "process": rng.choice(["135", "111"]),
    }
    facts |= {"mechanisation": "manual"} if facts["process"] == "111" else {}
    facts |= {} if fillet else {"deposit_t": thick, "joint_deposit_t": thick}
    facts |= {"steels": rng.choice([S355, S275]), "impact_required": rng.choice(["yes", "no"])}
    return joint(**shape, **facts)


@pytest.mark.parametrize("seed", range(12))
def test_chosen_pieces_cover_what_they_claim(seed: int) -> None:
    """By the explaining checker: each need of a piece by that piece, each need of a solved joint by some piece."""
    rng = random.Random(seed)
    joints = [random_joint(rng) for _ in range(4)]
    found = planned(*joints)
    for part in found.parts:
        for one in part.bought:
            assert all(covers(one.piece, need, ON, DEFAULTS) for need in one.needs)
    again = Collector(Bare())
    for index, one in enumerate(joints):
        again.add(index, one)
    for index in found.solved:
        for need in again.found.of_joint[index]:
            pieces = [b.piece for part in found.parts if part.kind == need.kind for b in part.bought]
            assert any(covers(piece, need, ON, DEFAULTS) for piece in pieces)


@pytest.mark.parametrize("seed", range(4))
def test_masks_equal_the_explaining_checker_and_the_set_is_the_smallest(seed: int) -> None:
    rng = random.Random(100 + seed)
    collector = Collector(Bare())
    for index in range(3):
        collector.add(index, random_joint(rng))
    needs = [need for need in collector.found.needs if need.kind == PROCEDURE]
    pieces = rng.sample(made, min(40, len(made))) if (made := list(procedure_pieces(needs, DEFAULTS))) else []
    table = Table(pieces, needs, ON, DEFAULTS)
    for piece, column in zip(pieces, table.columns, strict=True):
        assert column == sum(1 << row for row, need in enumerate(needs) if covers(piece, need, ON, DEFAULTS))
    rows = (1 << len(needs)) - 1
    able = [c for c in table.columns if c]
    whole = 0
    for column in able:
        whole |= column
    smallest = next(k for k in range(len(needs) + 1) if any(_union(c) == whole & rows for c in combinations(able, k)))
    assert len(smallest_cover(table.columns, whole).chosen) == smallest


def _union(columns: tuple[int, ...]) -> int:
    found = 0
    for column in columns:
        found |= column
    return found


@pytest.mark.parametrize("seed", range(6))
def test_no_size_that_was_left_out_covers_more(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """What each piece of all sizes covers, some piece of the sizes that tell covers too."""
    rng = random.Random(100 + seed)
    joints = [random_joint(rng) for _ in range(5)]
    kept = table(joints)
    monkeypatch.setattr("joints.planning.procedure_pieces.telling", lambda sizes, *rest: list(sizes))
    full = table(joints)
    assert len(kept.pieces) < len(full.pieces)
    assert all(any(column & ~other == 0 for other in kept.columns) for column in full.columns)


def table(joints: list[JointDemand]) -> Table:
    collector = Collector(Bare())
    for index, one in enumerate(joints):
        collector.add(index, one)
    needs = [need for need in collector.found.needs if need.kind == PROCEDURE]
    return Table(list(procedure_pieces(needs, DEFAULTS)), needs, ON, DEFAULTS)


@pytest.mark.parametrize(
    ("reasons", "whys"),
    [
        ([("tack", (1, 2)), ("final", (1, 2))], ["tack and final phase, person: nobody"]),
        ([("tack", (1,)), ("final", (1, 2))], ["tack phase, person: nobody", "final phase, person: nobody"]),
        ([("final", (1,))], ["final phase, person: nobody"]),
        ([("", (1,))], ["nobody"]),
    ],
)
def test_one_reason_of_both_phases_is_said_once(reasons: list[tuple[str, tuple[int, ...]]], whys: list[str]) -> None:
    """By what was judged, not by how a sentence reads: the reason itself may speak of a phase."""
    for said in ("nobody", "the tack phase of it"):
        found = Open()
        for phase, joints in reasons:
            for joint in joints:
                found.block(joint, Reason(said, phase, "person" if phase else ""))
        assert [one.why for one in found.both_phases()] == [why.replace("nobody", said) for why in whys]
        assert {joint for one in found.both_phases() for joint in one.joints} == {j for _, js in reasons for j in js}


@pytest.mark.django_db
class TestPage:
    def test_a_job(self, client_of: Callable[[str], Client]) -> None:
        make_joint(number="1")
        make_joint(number="2", position="")
        job = Job.objects.get()
        auditor = client_of("auditor")
        url = reverse("joints:planning", args=[job.pk])
        said = auditor.get(url).content.decode()
        assert "1 procedure test" in said
        assert "Position not stated." in said
        assert "Proven: no smaller set" in said
        assert url in auditor.get(job.get_absolute_url()).content.decode()

    def test_taken_away(self, client_of: Callable[[str], Client]) -> None:
        job = make_joint().assembly.job
        url = reverse("joints:planning", args=[job.pk])
        text = b"".join(client_of("auditor").get(url, {"export": "csv"}).streaming_content).decode()  # type: ignore[attr-defined]
        assert "ISO 15614-1:2017" in text
        assert "ISO 9606-1:2012" in text
        assert "B1/1" in text
        assert client_of("auditor").get(url, {"export": "pdf"}).status_code == 400

    def test_several_jobs_at_once_need_no_more_than_one_of_them(self, client_of: Callable[[str], Client]) -> None:
        """Both jobs lack the same: one piece serves both, and joints are named with their jobs."""
        first = make_joint().assembly.job
        second = make_joint(make_job(number="24-099"), number="7").assembly.job
        url, page = reverse("joints:planning", args=[first.pk]), client_of("auditor")
        assert "Together with other jobs" in page.get(url).content.decode()
        said = " ".join(page.get(url, {"with": second.pk}).content.decode().split())
        assert "1 procedure test and 1 test of a person would cover 2 of 2 uncovered joints" in said
        assert ">24-099 B1/7</a>." in said and "24-031 B1/1" in said
        assert "export=xlsx" in said and f"with={second.pk}&amp;" in said
        assert page.get(url, {"with": second.pk, "export": "xlsx"}).status_code == 200
        assert page.get(url, {"with": "x"}).status_code == 200

    def test_a_plan_says_how_far_it_is_and_can_be_given_up_at_each_step(self) -> None:
        job = make_joint().assembly.job
        heard: list[str] = []
        plan_for([job.pk], Day(date(2026, 11, 25)), lambda done, total, what: heard.append(what))
        steps = list(dict.fromkeys(heard))
        assert [step.split()[0] for step in steps] == ["Asking", "Finding", "Suggesting", "Trying", "Looking"]
        for step in steps:

            def stop(done: int, total: int, what: str, at: str = step) -> None:
                if what == at:
                    raise InterruptedError

            with pytest.raises(InterruptedError):
                plan_for([job.pk], Day(date(2026, 11, 25)), stop)

    def test_an_empty_job(self, client_of: Callable[[str], Client]) -> None:
        said = client_of("auditor").get(reverse("joints:planning", args=[make_job().pk])).content.decode()
        assert "No joints are on file yet" in said

    def test_kinds(self) -> None:
        job = make_joint().assembly.job
        found = plan([job], Day(date(2026, 11, 25)))
        assert [part.kind for part in found.parts] == [PROCEDURE, PERSON]
        assert len(found.open) == 1

    def test_a_grade_that_is_not_known_is_named_once_for_tacks_and_final_weld(self) -> None:
        job = make_job(application_standard="EN 1090-2:2018", execution_class="EXC3", coordinator_level="C")
        make_joint(job, grade_1="ST52-3", grade_2="ST52-3")
        found = plan([job], Day(date(2026, 11, 25)))
        assert [one.why for one in found.blocked] == ['"ST52-3" is not a steel grade held here']

    def test_what_tacks_and_final_weld_have_alike_is_said_once(self) -> None:
        job = make_job(application_standard="EN 1090-2:2018", execution_class="EXC3", coordinator_level="B")
        make_joint(job, grade_1="S690QL", grade_2="S690QL", t1_mm=60, t2_mm=60)
        whys = [one.why for one in plan([job], Day(date(2026, 11, 25))).blocked]
        assert whys and all(why.startswith("tack and final phase, ") for why in whys)
        after = [why.partition("workstation or job: ")[2] for why in whys if "workstation or job: " in why]
        assert after and all(said[0].islower() or said[:2].isupper() for said in after), after

    def test_what_a_joint_does_not_state_for_a_gate_is_named_plainly(self) -> None:
        job = make_job(application_standard="EN 1090-2:2018", execution_class="EXC2", coordinator_level="C")
        make_joint(job, tack_length_mm=None)
        whys = [one.why for one in plan([job], Day(date(2026, 11, 25))).blocked]
        said = "tack phase, workstation or job: the tack length is not stated (EN 1090-2:2018, 7.5.7)"
        assert said in whys and not any("record" in why for why in whys)
