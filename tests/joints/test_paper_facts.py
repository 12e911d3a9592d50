"""What a coverage report and a weld map say whatever the words: another sense is another fact, other words are none."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import date
from decimal import Decimal as D
from typing import Any

import pytest

from codes.limits import span
from codes.units import System
from joints.day import Day
from joints.models import Assembly, Joint
from joints.papers import coverage, map_facts, weld_map
from register.papers.codes import canonical, check_code
from tests.joints.makers import certificate, procedure, validity
from tests.joints.turning.geometry import beam
from tests.wps.iso import iso_draft, iso_record
from wps.models import ProcedureRevision, TestRecord

pytestmark = pytest.mark.django_db
ON = date(2026, 3, 2)
Change = Callable[["Shop"], None]


class Shop:
    """A beam whose fillets one procedure covers and one person may weld, and the register on the day."""

    def __init__(self, author: Any) -> None:
        self.assembly = beam()
        for joint in Joint.objects.filter(assembly=self.assembly):
            joint.tack_process, joint.tack_workstation = joint.final_process, joint.final_workstation
            joint.geometry.along_mm = D(3000)
            joint.save()
            joint.geometry.save()
        self.assembly.geometry.length_mm = D(6000)
        self.assembly.geometry.save()
        self.revision = iso_draft(author, [iso_record()])
        self.procedures = [replace(procedure(), revision_id=self.revision.pk)]
        self.certificates = [certificate()]

    def day(self, on: date) -> Day:
        found = Day(on)
        found.procedures, found.certificates = tuple(self.procedures), tuple(self.certificates)
        return found

    def coverage(self, on: date = ON) -> Any:
        return coverage.facts(str(self.assembly.pk), on)

    def map(self, on: date = ON) -> Any:
        return weld_map.facts(str(self.assembly.pk), on)


@pytest.fixture
def shop(coordinator: Any, monkeypatch: pytest.MonkeyPatch) -> Shop:
    made = Shop(coordinator)
    for module in (coverage, map_facts):
        monkeypatch.setattr(module, "day_of", made.day)
    return made


def joint(**values: Any) -> Change:
    def change(shop: Shop) -> None:
        one = Joint.objects.get(assembly=shop.assembly, number="1")
        for name, value in values.items():
            setattr(one, name, value)
        one.save()

    return change


def lies(**values: Any) -> Change:
    def change(shop: Shop) -> None:
        one = Joint.objects.get(assembly=shop.assembly, number="1")
        for name, value in values.items():
            setattr(one.geometry, name, value)
        one.geometry.save()

    return change


def part(of: str, **values: Any) -> Change:
    """Of the assembly, its job, or its geometry."""

    def change(shop: Shop) -> None:
        one = {"assembly": shop.assembly, "job": shop.assembly.job, "geometry": shop.assembly.geometry}[of]
        for name, value in values.items():
            setattr(one, name, value)
        one.save()

    return change


def person(**values: Any) -> Change:
    return lambda shop: shop.certificates.__setitem__(0, replace(shop.certificates[0], **values))


def gone(name: str) -> Change:
    return lambda shop: getattr(shop, name).clear()


def limit_moved(shop: Shop) -> None:
    """The lower end of what its record covers, by less than is shown."""
    (record,) = shop.procedures[0].records
    (one,) = record.sets
    limits = tuple(
        replace(each, allowed=span(D("3.00001"), D(30), "mm")) if each.variable == "parent_t" else each
        for each in one.limits
    )
    shop.procedures[0] = replace(shop.procedures[0], records=(replace(record, sets=(replace(one, limits=limits),)),))


def numbered(shop: Shop) -> None:
    shop.revision.procedure.number = "WPS 015"
    shop.revision.procedure.save()


def lettered(shop: Shop) -> None:
    ProcedureRevision.objects.filter(pk=shop.revision.pk).update(letter="B")


def record_renumbered(shop: Shop) -> None:
    TestRecord.objects.update(number="WPQR 99")


def one_more_procedure(shop: Shop) -> None:
    shop.procedures.append(replace(shop.procedures[0], revision_id=999, procedure_id=999, label="WPS 2 rev A"))


def one_more_person(shop: Shop) -> None:
    shop.certificates.append(certificate("Ivo Lund", pk=2))


REPORTED: Mapping[str, Change] = {
    "number of a joint": joint(number="1a"),
    "throat": joint(throat_mm=D("5.001")),
    "thickness": joint(t2_mm=D("20.5")),
    "steel": joint(grade_1="S235JR"),
    "position": joint(position="PA"),
    "process": joint(final_process="111"),
    "workstation": joint(tack_workstation=None),
    "job": part("job", number="24-032"),
    "title of the job": part("job", title="Hall Syd"),
    "client": part("job", client="Havn"),
    "code": part("job", procedure_code="AWS D1.1:2020"),
    "execution class": part("job", execution_class="EXC3"),
    "mark": part("assembly", mark="B2"),
    "title": part("assembly", title="Girder"),
    "person": person(person_name="Ada Kroll"),
    "certificate": person(number="135-9"),
    "edition of the certificate": person(code="ISO 9606-1:2017"),
    "valid until": person(validity=validity(end=date(2026, 12, 31))),
    "lapsed": person(validity=validity(end=date(2026, 2, 1))),
    "nobody": gone("certificates"),
    "one person more": one_more_person,
    "no procedure": gone("procedures"),
    "one procedure more": one_more_procedure,
    "limit": limit_moved,
    "procedure": numbered,
    "revision": lettered,
    "record": record_renumbered,
}
MAPPED: Mapping[str, Change] = {
    "number of a weld": joint(number="1a"),
    "throat": joint(throat_mm=D("5.001")),
    "thickness": joint(t1_mm=D("12.5")),
    "kind": joint(weld_type="butt_pjp"),
    "both sides": joint(weld_detail="bs"),
    "length": joint(length_mm=D("310.001")),
    "place along": lies(along_mm=D("3000.01")),
    "place upwards": lies(up_mm=D("-149.99")),
    "side": lies(across_mm=D(-5)),
    "direction": lies(axis_x=D("0.99"), axis_y=D("0.1")),
    "how it faces": lies(face_y=D(0)),
    "length of the beam": part("geometry", length_mm=D("6000.01")),
    "depth": part("geometry", depth_mm=D("340.01")),
    "web": part("geometry", web_mm=D(11)),
    "section": part("geometry", section="box"),
    "job": part("job", number="24-032"),
    "title of the job": part("job", title="Hall Syd"),
    "mark": part("assembly", mark="B2"),
    "title": part("assembly", title="Girder"),
    "no procedure": gone("procedures"),
    "one procedure more": one_more_procedure,
    "procedure": numbered,
    "revision": lettered,
}


def test_the_shop_is_covered(shop: Shop) -> None:
    """Or else what follows would be tried on a report that says nothing."""
    (group,) = shop.coverage()["joints"]
    assert (group["outcome"], group["numbers"]) == ("COVERED", ["1", "2", "3", "4"])
    assert group["final"]["procedures"] == [["WPS 014", "A", "", ["WPQR 012"]]]
    assert group["final"]["people"] == [["Ada Krol", "135-1", "ISO 9606-1:2012"]]
    assert group["final"]["valid"]["until"] == "2027-01-01"
    assert {one["variable"]: one["margin"] for one in group["final"]["findings"]}["parent_t"] == "9"
    welds = shop.map()["welds"]
    assert [one["procedure"] for one in welds] == [["WPS 014", "A"]] * 4
    assert welds[0]["place"] == ["3000", "-150", "5"]


@pytest.mark.parametrize("change", REPORTED)
def test_a_report_that_says_something_else(shop: Shop, change: str) -> None:
    before = shop.coverage()
    REPORTED[change](shop)
    assert canonical(shop.coverage()) != canonical(before)


@pytest.mark.parametrize("change", MAPPED)
def test_a_map_that_says_something_else(shop: Shop, change: str) -> None:
    before = shop.map()
    MAPPED[change](shop)
    assert canonical(shop.map()) != canonical(before)


def test_the_day_is_a_fact_of_the_report(shop: Shop) -> None:
    assert shop.coverage(date(2026, 3, 3)) != shop.coverage()


def test_other_words_change_the_code_and_no_fact(shop: Shop, monkeypatch: pytest.MonkeyPatch) -> None:
    """Also where it refuses, whose sentence tells of the nearest."""
    papers = {"report": (coverage.content, shop.coverage), "map": (weld_map.content, shop.map)}
    pk = str(shop.assembly.pk)
    for refuse in (False, True):
        if refuse:
            joint(position="PF")(shop)
            shop.certificates[0] = replace(shop.certificates[0], validity=validity(end=date(2026, 2, 1)))
        before = {name: (check_code(content(pk, ON)), facts()) for name, (content, facts) in papers.items()}
        with monkeypatch.context() as later:
            later.setattr("codes.check.label_of", lambda name: f"the {name}")
            later.setattr("codes.verdict.text", lambda value, unit="": "a figure")
            later.setattr("joints.papers.coverage.joint_words", lambda joint, system: "A joint")
            later.setattr("joints.papers.weld_map.position_of", lambda token, weld: f"as {token}")
            later.setattr("joints.papers.weld_map._procedure", lambda answer: "the procedure")
            for name, (content, facts) in papers.items():
                assert check_code(content(pk, ON)) != before[name][0], name
                assert canonical(facts()) == canonical(before[name][1]), name


@pytest.mark.parametrize("system", System)
def test_what_is_printed_has_the_facts_that_are_asked_for_later(shop: Shop, system: System) -> None:
    found = Assembly.objects.select_related("job", "geometry").get(pk=shop.assembly.pk)
    assert coverage.draft(found, ON, system).facts == shop.coverage()
    assert weld_map.draft(found, ON, system).facts == shop.map()


@pytest.mark.parametrize("make", [coverage.draft, weld_map.draft])
def test_no_joint_is_asked_twice_for_words_facts_and_other_units(
    shop: Shop, make: Callable[..., Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[str] = []
    known = Day.explain

    def counting(day: Day, joint: Joint, job: Any) -> Any:
        asked.append(joint.number)
        return known(day, joint, job)

    monkeypatch.setattr(Day, "explain", counting)
    found = Assembly.objects.select_related("job", "geometry").get(pk=shop.assembly.pk)
    make(found, ON, System.US).context()
    assert len(asked) == len(set(asked)) > 0


def test_gone_is_gone() -> None:
    assert coverage.facts("999", ON) is None
    assert weld_map.facts("999", ON) is None
