"""The demonstration: whole, fresh on any day it is loaded, and answered for every kind of reason."""

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from html import unescape
from importlib.resources import files
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.core.management import CommandError, call_command
from django.db import transaction

from codes.calc.carbon import CE
from codes.verdict import Outcome
from joints.day import Answered, Day
from joints.demo.load import DataOnFile, load
from joints.demo.second_plant import load_second_plant
from joints.demo.tables import rows
from joints.imports.batch import confirm, take_in
from joints.imports.files import read_file
from joints.imports.rows import Setting, read_rows
from joints.models import Assembly, Job, Joint, WeldRunFinding, Workstation
from joints.views.answer import answer_view
from joints.weld_data.check import check_job
from qualifications.due import LAPSED, DueItem, falls_due
from qualifications.models import Certificate, CertificateEvent, Person, WeldLogEntry
from register.demo import listing, make_sign_ins
from register.models import AuditEntry
from register.plants.reach import within
from register.plants.standing import standing
from register.trail.verify import verify
from wps.judgement import judge
from wps.languages import CATALOGUES
from wps.languages.translate import is_figure
from wps.materials.equivalents import missing_elements
from wps.models import MaterialCertificate, Procedure, ProcedureRevision, Status, TestRecord
from wps.sheets import Choice, sheet_html

COUNTED = (
    TestRecord,
    Procedure,
    ProcedureRevision,
    Person,
    Certificate,
    WeldLogEntry,
    Job,
    Assembly,
    Joint,
    AuditEntry,
)
LIST = (files("joints.demo") / "import_300.csv").read_bytes()


@dataclass(frozen=True)
class Loaded:
    """A loaded demonstration and its answers on the day of loading."""

    on: date
    day: Day
    answers: list[Answered]

    @property
    def reasons(self) -> Counter[str]:
        """How many joints have which reason."""
        return Counter(reason for one in self.answers for reason in one.result.reasons)


# The day after the leap day shows that nothing hangs on the day of writing.
@pytest.fixture(scope="module", params=[date(2026, 11, 25), date(2028, 3, 1)], ids=str)
def demo(request: Any, django_db_setup: None, django_db_blocker: Any) -> Iterator[Loaded]:
    """Loaded once for the tests of this file, and taken back."""
    with django_db_blocker.unblock(), transaction.atomic():
        assert load(request.param)
        day = Day(request.param)
        yield Loaded(request.param, day, day.answers(Joint.objects.all()))
        transaction.set_rollback(True)


def test_there_is_enough_of_everything(demo: Loaded) -> None:
    assert TestRecord.objects.count() >= 25
    assert Procedure.objects.count() >= 35
    assert Person.objects.filter(active=True).count() >= 22
    assert Joint.objects.count() >= 400
    assert WeldLogEntry.objects.count() >= 400
    kinds = Counter(Workstation.objects.values_list("kind", flat=True))
    assert kinds == {"robotic_cell": 1, "mechanised_rig": 1, "manual_bay": 2}


def test_a_weld_of_the_log_was_made_while_its_job_was_welded(demo: Loaded) -> None:
    jobs = {job.number: job for job in Job.objects.all()}
    entries = list(WeldLogEntry.objects.exclude(joint=""))
    wrong = []
    for entry in entries:
        job = jobs[entry.joint.partition(" ")[0]]
        if not job.starts_on <= entry.on <= job.ends_on:
            wrong.append((entry.joint, entry.on, job.starts_on, job.ends_on))
    assert not wrong, wrong[:5]
    lies = {
        f"{j.assembly.job.number} {j.assembly.mark}/{j.number}": j.position
        for j in Joint.objects.select_related("assembly__job")
    }
    assert not [entry.joint for entry in entries if lies[entry.joint] != entry.position]
    assert len(entries) >= 200


def test_heats_and_weld_values_have_something_to_show(demo: Loaded) -> None:
    """A heat that fits, one of another grade, one that is not on file, one whose analysis lacks what CE needs."""
    assert MaterialCertificate.objects.count() >= 8
    found = Counter(f.finding.rule for job in Job.objects.all() for f in check_job(job))
    assert found["heat_of_another_grade"] >= 2 and found["heat_not_on_file"] >= 1
    assert found["heat_of_another_thickness"] == found["heat_above_its_grade"] == 0
    assert Joint.objects.exclude(heat_1="").count() >= 100
    assert any(missing_elements(CE, one.elements) for one in MaterialCertificate.objects.all())
    outcomes = Counter(WeldRunFinding.objects.values_list("outcome", flat=True))
    assert outcomes["covered"] >= 6 and outcomes["outside"] >= 3 and outcomes["not stated"] >= 1
    assert WeldRunFinding.objects.values("sha256").distinct().count() == 2


def test_all_is_on_file_as_the_trail_says(demo: Loaded) -> None:
    assert verify().whole


def test_revisions_are_in_every_state(demo: Loaded) -> None:
    states = Counter(ProcedureRevision.objects.values_list("status", flat=True))
    assert set(states) == set(Status.values)
    assert states[Status.APPROVED] >= 25


def test_every_approved_procedure_lies_inside_its_records(demo: Loaded) -> None:
    outside = {
        str(one): judge(one, demo.on).sentence
        for one in ProcedureRevision.objects.filter(status=Status.APPROVED).select_related("procedure")
        if judge(one, demo.on).outcome is not Outcome.COVERED
    }
    assert not outside


def test_one_waits_for_somebody_else_to_approve_it_and_one_cannot_be(demo: Loaded) -> None:
    waiting = ProcedureRevision.objects.filter(status=Status.CHECKED, author__username="henrik")
    assert {str(one): judge(one, demo.on).outcome for one in waiting} == {
        "WPS 052 rev A": Outcome.COVERED,
        "WPS 053 rev A": Outcome.OUTSIDE,
    }


def test_most_joints_are_covered(demo: Loaded) -> None:
    covered = sum(one.result.outcome is Outcome.COVERED for one in demo.answers)
    assert 0.70 <= covered / len(demo.answers) <= 0.85


@pytest.mark.parametrize(
    ("reason", "at_least"),
    [
        ("procedure:thickness", 5),
        ("procedure:yield", 3),
        ("procedure:material_group", 3),
        ("procedure:position", 5),
        ("procedure:process", 3),
        ("procedure:mechanisation", 4),
        ("procedure:impact_cap", 4),
        ("procedure:backing", 2),
        ("procedure:impact_required", 4),
        ("procedure:wpqr_age", 2),
        ("place:tack_length", 4),
        ("person:validity_confirmation", 2),
        ("person:filler_group", 2),
        ("person:run_technique", 4),
        ("person:position", 2),
        ("person:process", 2),
    ],
)
def test_some_are_uncovered_for_each_kind_of_reason(demo: Loaded, reason: str, at_least: int) -> None:
    assert demo.reasons[reason] >= at_least


def outcomes(demo: Loaded, mark: str, number: str) -> tuple[str, str]:
    """The answers to the tacks and to the final weld of one joint."""
    found = next(one for one in demo.answers if (one.mark, one.number) == (mark, number))
    return found.result.tack.outcome.value, found.result.final.outcome.value


@pytest.mark.parametrize(
    ("mark", "number", "tack", "final"),
    [
        ("B101", "1", "covered", "covered"),
        ("G101", "1", "covered", "covered"),
        ("Q1", "1", "covered", "covered"),
        ("R101", "1", "covered", "covered"),
        ("B103", "41", "outside", "covered"),  # tacked with a process that has no procedure for tacks
        ("D1", "40", "outside", "covered"),  # tacks too short
        ("H101", "7", "outside", "covered"),  # no procedure for tacks of branches
        ("C105", "36", "not stated", "not stated"),  # position not on the drawing
        ("B101", "38", "not stated", "not stated"),  # an old steel that nobody knows
        ("B105", "54", "covered", "not stated"),  # throat not on the drawing
        ("B109", "30", "covered", "outside"),  # the only operator of that process lapsed
        ("G101", "44", "covered", "outside"),  # operators of single runs only
        ("S1", "1", "covered", "covered"),  # to AWS D1.1, prequalified
        ("S1", "4", "covered", "covered"),
        ("S1", "5", "outside", "outside"),  # a part too thick for the procedure
        ("S1", "6", "covered", "outside"),  # a leg that is not written
        ("S2", "7", "outside", "outside"),  # overhead
        ("L1", "50", "covered", "outside"),  # nobody tested with that filler group
    ],
)
def test_the_story_of_some_joints(demo: Loaded, mark: str, number: str, tack: str, final: str) -> None:
    assert outcomes(demo, mark, number) == (tack, final)


def due(demo: Loaded) -> list[DueItem]:
    return list(falls_due(demo.day.certificates, demo.on))


def test_something_falls_due_in_every_horizon(demo: Loaded) -> None:
    assert {item.within for item in due(demo)} == {0, 30, 60, 90, 180}


def test_some_lapsed_last_month(demo: Loaded) -> None:
    lapsed = [item for item in due(demo) if item.act == LAPSED and "no confirmation" in item.because]
    assert lapsed and all(25 <= -item.days <= 45 for item in lapsed)


def test_one_is_revoked_one_waits_for_two_welds_one_is_not_judged(demo: Loaded) -> None:
    states = [one.validity.state(demo.on) for one in demo.day.certificates]
    assert [state.reason for state in states].count("revoked") == 1
    assert any("two test welds" in item.act and item.days <= 60 for item in due(demo))
    legacy = [one for one in demo.day.certificates if not one.sets]
    assert [one.code for one in legacy] == ["EN 287-1:2011"]


def test_no_confirmation_rests_on_a_weld_made_before_the_test(demo: Loaded) -> None:
    signed = CertificateEvent.objects.filter(kind="confirmation", evidence__startswith="20")
    for one in signed.select_related("certificate"):
        tested_on = one.certificate.results_on or one.certificate.welded_on
        assert date.fromisoformat(one.evidence[:10]) >= tested_on, one.certificate.number


def test_no_confirmation_on_file_comes_too_late(demo: Loaded) -> None:
    """A certificate that is not confirmed any more ran out after its last signature, never before one."""
    for one in demo.day.certificates:
        last = Certificate.objects.get(pk=one.certificate_id).events.filter(kind="confirmation").order_by("-on").first()
        assert last is None or one.validity.state(last.on).valid, one.label


def test_loading_again_changes_nothing(demo: Loaded) -> None:
    before = [model._default_manager.count() for model in COUNTED]
    assert load(demo.on) is False
    assert [model._default_manager.count() for model in COUNTED] == before


def test_the_list_of_300_joints_is_taken_in(demo: Loaded) -> None:
    job, by = Job.objects.get(number="27-002"), User.objects.get(username="marta")
    with transaction.atomic():
        assert confirm(take_in(job, "import_300.csv", LIST, {}, by).pk, by) == 300
        answers = demo.day.answers(Joint.objects.filter(assembly__job=job))
        found = Counter(one.result.outcome for one in answers)
        assert found[Outcome.COVERED] >= 250
        assert found[Outcome.OUTSIDE] >= 5 and found[Outcome.NOT_STATED] >= 3
        transaction.set_rollback(True)


def test_the_list_has_no_problem_of_its_own() -> None:
    stations = {"Cell R1": 1, "Rig S1": 2, "Bay 1": 3, "Bay 2": 4}
    reading = read_rows(read_file(LIST), Setting(stations))
    assert (len(reading.rows), reading.problems) == (300, ())


@pytest.mark.django_db
def test_no_test_piece_is_older_than_the_edition_it_was_welded_to() -> None:
    """ISO 15614-1:2017 came out in June 2017; days are counted back from the day of loading."""
    oldest = (date(2017, 7, 1) - date(2026, 1, 1)).days
    assert [row["number"] for row in rows("records") if int(row["welded"]) < oldest] == []


def test_data_of_its_own_is_never_mixed_with(coordinator: User) -> None:
    with pytest.raises(DataOnFile, match="accounts"):
        load(date(2026, 11, 25))


@pytest.mark.django_db
def test_the_command_refuses_and_leaves_what_is_there() -> None:
    Job.objects.create(number="1", title="A job of a real shop")
    with pytest.raises(CommandError, match="jobs of its own"):
        call_command("load_demo")
    assert (Job.objects.count(), Joint.objects.count()) == (1, 0)


def test_a_covered_joint_leads_to_its_sheet_in_the_language_of_the_workstation(demo: Loaded) -> None:
    covered = next(one.pk for one in demo.answers if one.result.outcome is Outcome.COVERED)
    joint = Joint.objects.get(pk=covered)
    job = joint.assembly.job
    asked = demo.day.explain(joint, job), demo.day.ranked(joint, job)
    final, tack = answer_view(*asked, {"final": "de", "tack": "en"}).phases
    assert final.sheet_url.endswith("/sheet/?kind=cell-de")
    assert tack.sheet_url.endswith("/sheet/")
    assert {phase.sheet_url for phase in answer_view(*asked).phases} == {""}


@pytest.mark.parametrize("language", sorted(CATALOGUES))
def test_a_sheet_in_another_language_leaves_only_figures_and_own_words(demo: Loaded, language: str) -> None:
    """Nothing of ours stands in English on a translated sheet, and every figure of the English one stands on it."""
    for revision in ProcedureRevision.objects.select_related("procedure").prefetch_related("runs", "records"):
        choice = Choice("cell"), Choice(f"cell-{language}")
        english, other = (
            texts(sheet_html(revision, one, date(2026, 11, 2), "ABCDE", "https://x.example/")) for one in choice
        )
        own = own_words(revision)
        left = {text for text in set(english) & set(other) if not is_figure(text) and text.rstrip(".") not in own}
        assert left <= SAME_IN[language], f"{revision}: {left - SAME_IN[language]}"
        assert figures(english) == figures(other), revision


NAMES = {"138 · GMAW metal-cored", "I1 (argon)"}
SAME_IN = {
    "de": NAMES | {"Position", "Gas", "Argon"},
    "fr": NAMES | {"Position", "Machine.", "Arc.", "argon", "Technique:"},
}
"""Names, and words that happen to be the same in both languages."""


def texts(html: str) -> list[str]:
    """Each piece of text of a sheet that a reader sees."""
    body = re.sub(r"<(style|title)\b.*?</\1>", "", html, flags=re.DOTALL)
    return [text for part in re.split(r"<[^>]*>", body) if (text := " ".join(unescape(part).split()))]


def figures(found: list[str]) -> list[str]:
    return sorted(figure for text in found for figure in re.findall(r"\d+", text))


def own_words(revision: ProcedureRevision) -> set[str]:
    """What its writers wrote, and the names on it."""
    window = [*revision.window.values(), *(v for values in revision.process_windows.values() for v in values.values())]
    names = [revision.author_name, revision.checked_name, revision.approved_name, revision.procedure.title]
    written = [
        revision.notes,
        revision.cautions,
        revision.workstation_note,
        *names,
        *revision.preparation.values(),
        *window,
    ]
    flat = [str(one) for part in written for one in (part if isinstance(part, list) else [part])]
    layers = [run.layer for run in revision.runs.all()]
    lines = [line for text in (*flat, *layers) for line in str(text).splitlines()]
    return {" ".join(line.split()).rstrip(".") for line in lines}


@pytest.fixture
def second_works(demo: Loaded) -> Iterator[dict[str, User]]:
    """The second plant loaded after the first, and taken back."""
    with transaction.atomic():
        assert load_second_plant(demo.on, make_sign_ins())
        yield {user.username: user for user in User.objects.all()}
        transaction.set_rollback(True)


def test_each_sees_the_works_of_theirs(second_works: dict[str, User], demo: Loaded) -> None:
    """A coordinator of one works sees that one and who is lent to it; that of the group and the auditor see both."""
    jobs, people = {}, {}
    for name in ("marta", "sofie", "gunnar", "ines"):
        with within(standing(second_works[name]).reach):
            jobs[name] = set(Job.objects.values_list("number", flat=True))
            people[name] = set(Person.objects.values_list("identification", flat=True))
    assert jobs["sofie"] == {"L26-07"} and jobs["marta"] == jobs["gunnar"] - {"L26-07"} and len(jobs["marta"]) > 4
    assert jobs["gunnar"] == jobs["ines"] and people["gunnar"] == people["ines"]
    assert people["sofie"] == {"L01", "L02", "L03", "T51"} and not people["marta"] & {"L01", "L02", "L03"}
    assert verify().whole
    assert not load_second_plant(demo.on, make_sign_ins())
    assert set(standing(User.objects.get(username="marta")).plants.values()) == {"Tarnholm works"}
    assert "sofie    coordinator  Lindmoor works" in listing() and "gunnar   coordinator  all plants" in listing()


def test_the_job_of_the_second_works_has_every_kind_of_answer(second_works: dict[str, User], demo: Loaded) -> None:
    """Covered by own people, by the one who is lent to a procedure that is released, and not at all."""
    with within(standing(second_works["sofie"]).reach):
        day = Day(demo.on)
        answers = {Joint.objects.get(pk=one.pk).number: one.result for one in day.answers(Joint.objects.all())}
        assert [answers[number].outcome for number in "12345"] == [Outcome.COVERED] * 5
        assert answers["6"].outcome is Outcome.OUTSIDE
    with within(standing(second_works["marta"]).reach):
        now = Day(demo.on).answers(Joint.objects.all())
    assert [one.result.outcome for one in now] == [one.result.outcome for one in demo.answers]
