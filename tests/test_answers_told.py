"""With a catalogue that marks every message, no English word of an answer stands outside the marks.

Joints that are covered, outside and not stated, to ISO, AWS and ASME; what they rest on, and what is planned for them.
"""

import re
from collections.abc import Callable, Iterator
from datetime import date
from decimal import Decimal as D

import pytest
from django.contrib.auth.models import User
from django.test import Client
from django.urls import reverse

from codes.verdict import Outcome
from joints.day import Day
from joints.models import Assembly, Job, Joint, Workstation
from qualifications.models import Certificate, CertificateEvent, Person
from register.judged_words.frames import WORD, is_plain
from register.templatetags import register_base
from tests.joints.makers import ON, make_job, make_joint, make_station
from tests.joints.test_us_jobs import PLATE, TACKED, certified
from tests.qualifications.make import certificate, person
from tests.test_translated_pages import entered, marked, outside
from tests.wps.iso import iso_draft, iso_record
from tests.wps.us import ASME, AWS, prequalified_draft, us_draft, us_record
from wps import workflow
from wps.models import Procedure, ProcedureRevision, ProcedureRun, TestRecord

__all__ = ["marked"]
APPROVED = date(2026, 3, 2)
IN_BOOKS = r"\b(?:ISO|EN|AWS|ASME IX)\b[^;)]*"
"""Places in standards, the same in every language."""
SAME = r"\b[a-z0-9]+(?:_[a-z0-9]+)+\b|\bremarks.*|Table [\d.]+, line \d|\b(?:PDF|rev)\b"
"""Keys of readings; what is proposed as a remark for the joint."""
TRAIL = re.compile(r'<section aria-labelledby="history-heading">.*?</section>', re.DOTALL)
"""Evidence, in the register's own language."""


@pytest.fixture
def told_too(marked: None, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """The marks around what judges say, too."""
    told = __import__("register.judged_words.told", fromlist=["told"])
    for module in (told, register_base):
        monkeypatch.setattr(module, "speaks_english", lambda language: False)
    told.forget()
    register_base._kept_row.cache_clear()
    yield
    told.forget()
    register_base._kept_row.cache_clear()


def approved(draft: ProcedureRevision, by: User) -> None:
    draft.serves_tack = True
    draft.save()
    workflow.check_revision(draft, by, APPROVED)
    workflow.approve(draft, by, APPROVED)


@pytest.fixture
def shop(coordinator: User, second_coordinator: User) -> list[Joint]:
    """To each code a procedure in force; welders; joints inside, outside, and with something left open."""
    hand = {"mechanisation": "partly_mechanised", "robot": "no"}
    approved(iso_draft(coordinator, [iso_record(**hand)], **{k: [v] for k, v in hand.items()}), second_coordinator)
    approved(prequalified_draft(coordinator, contractor="Fabricator North"), second_coordinator)
    approved(us_draft(coordinator, ASME, [us_record(ASME)], "WPS 9"), second_coordinator)
    certificate(person("Ina Voss"), welded_on=date(2026, 6, 10))
    certified("Ada Krol", "W1", "welder", PLATE)
    certified("Bo Lang", "T1", "tack_welder", TACKED)
    bay = make_station(processes=["135", "136"])
    iso, aws, asme = make_job(), make_job(number="2", procedure_code=AWS), make_job(number="3", procedure_code=ASME)
    us = {
        "grade_1": "A36", "grade_2": "A36", "t1_mm": D("9.525"), "t2_mm": D("12.7"), "throat_mm": None,
        "leg_mm": D("6.35"), "final_process": "136", "tack_process": "136", "final_workstation": bay,
    }  # fmt: skip
    butt = {"weld_type": "butt_cjp", "joint_type": "butt", "leg_mm": None, "weld_detail": "ss_mb", "position": "PA"}
    welds = us | butt | {"final_process": "135", "tack_process": "135"}
    rows = [
        (iso, {}), (iso, {"t2_mm": D(90), "position": "PE"}), (iso, {"position": "", "grade_2": ""}),
        (aws, us), (aws, us | {"position": "PD", "leg_mm": D(14)}), (aws, us | {"position": "", "t1_mm": None}),
        (asme, welds), (asme, welds | {"position": "PF"}), (asme, welds | {"t1_mm": None}),
    ]  # fmt: skip
    return [make_joint(job, f"M{n}", number=str(n), **fields) for n, (job, fields) in enumerate(rows)]


def pages(joints: list[Joint]) -> Iterator[str]:
    """Of each joint, of one assembly and one job of each code, of all that the answers rest on."""
    for joint in joints:
        yield joint.get_absolute_url()
    for joint in joints[1::3]:
        job = joint.assembly.job
        yield from (joint.assembly.get_absolute_url(), job.get_absolute_url())
        yield from (reverse(f"joints:{name}", args=[job.pk]) for name in ("job_coverage", "planning", "weld_data"))
    for model in (ProcedureRevision, TestRecord, Certificate, Person):
        yield from (row.get_absolute_url() for row in model.objects.all())
    yield f"{reverse('joints:ask')}?weld_type=fillet&position=PB&final_process=135&t1_mm=12&final_workstation=1"


def typed() -> list[str]:
    """What people entered or what bears a name, the longest first."""
    kinds = (Job, Assembly, Joint, Workstation, Person, Certificate, CertificateEvent, Procedure, ProcedureRevision,
             ProcedureRun, TestRecord, User)  # fmt: skip
    rows = [row for kind in kinds for row in kind.objects.all()]
    named = [*entered(*rows), *(joint.named for joint in rows if isinstance(joint, Joint))]
    named += [row.get_full_name() for row in rows if isinstance(row, User)]
    in_json = re.findall(r"'([^']+)'", " ".join(text for text in named if text.startswith(("{", "["))))
    return sorted({text for text in (*named, *in_json) if WORD.search(text)}, key=len, reverse=True)


def test_no_word_of_an_answer_is_left_in_english(
    told_too: None, shop: list[Joint], people: dict[str, User], client_of: Callable[[str], Client]
) -> None:
    said = [Day(ON).explain(joint, joint.assembly.job) for joint in shop]
    assert [one.final.nearest_procedure.outcome for one in said] == 3 * [
        Outcome.COVERED, Outcome.OUTSIDE, Outcome.NOT_STATED,
    ], [one.sentence for one in said]  # fmt: skip
    client, left = client_of("coordinator"), {}
    for address in pages(shop):
        reply = client.get(address, {"on": ON.isoformat()} if "?" not in address else {})
        assert reply.status_code == 200, address
        left |= dict.fromkeys(outside(TRAIL.sub("", reply.content.decode())), address)
    same = re.compile("|".join((IN_BOOKS, SAME, *map(re.escape, typed()))))
    words = {text: address for text, address in left.items() if not is_plain(same.sub("", text))}
    assert not words, "\n".join(f"{address}: {text}" for text, address in words.items())
