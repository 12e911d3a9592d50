"""A second works of the invented fabricator: its own people, procedures and one job, one person lent to it.

A step of its own after the first works, whose figures it leaves as they are. Tables: lindmoor_*.csv, lent_*.csv.
"""

from datetime import date
from decimal import Decimal

from django.contrib.auth.models import User
from django.db import transaction
from simple_history.utils import bulk_create_with_history

from joints.demo.firm import BAY_1, Calendar
from joints.demo.hands import written_by
from joints.demo.people import load_people
from joints.demo.procedures import load_procedures
from joints.demo.records import load_records
from joints.demo.tables import rows
from joints.models import Assembly, Job, Joint, Workstation
from joints.order import natural_key
from qualifications.lending.where import lend
from register.audit import record_act
from register.demo import make_group_sign_ins, make_plant_sign_ins
from register.models import AuditEntry, Plant
from register.plants.opening import open_plant
from register.plants.reach import of_plant, within
from register.trail.sealing import gathered
from wps.models import Procedure
from wps.releases.acts import release

ACT = "loaded the second plant of the demonstration"
FIRST, SECOND, SITE = "Tarnholm works", "Lindmoor works", "Lindmoor, quay hall"
SIGNER = ("Sofie Aldermark", "welding coordinator")
SEES_ALL = ("gunnar", "ines")
"""Who keeps the view over both works: the coordinator of the group, and the auditor."""
RELEASED, GROUND = (
    "WPS 021",
    "Same equipment and consumables; one welding coordination and quality system for both works.",
)


def load_second_plant(today: date, users: dict[str, User]) -> bool:
    """Open it and load it, days counted from today; `users`: the sign-ins of the first. False where done before."""
    if AuditEntry.objects.filter(act=ACT).exists():
        return False
    days, first = Calendar(today), Plant.objects.get()
    with transaction.atomic(), gathered():
        users = users | make_group_sign_ins()
        plant = open_plant(SECOND, "Lindmoor", first=FIRST, group=SEES_ALL)
        users |= make_plant_sign_ins(plant)
        with within(of_plant(first.pk)):
            _lend(days, plant, users)
        with within(of_plant(plant.pk)):
            _load(days, users)
        record_act(None, ACT, note=f"days counted from {today}")
    return True


def _lend(days: Calendar, plant: Plant, users: dict[str, User]) -> None:
    """A welder of the first works goes to the second for a while, and one of its procedures holds there."""
    with written_by(users["petra"]):
        people = load_people(days, users, "lent_")
    with written_by(users["gunnar"]):
        for person in people.values():
            lend(person, plant, days.day(-14), days.day(75), "stair tower of the ferry landing", users["gunnar"])
        release(Procedure.objects.get(number=RELEASED), plant, days.day(-14), GROUND, users["gunnar"])


def _load(days: Calendar, users: dict[str, User]) -> None:
    with written_by(users["sofie"]):
        records = load_records(days, "lindmoor_records")
    load_procedures(days, records, users, "lindmoor_procedures", ("sofie", "gunnar"))
    with written_by(users["sofie"]):
        load_people(days, users, "lindmoor_", SITE, SIGNER)
        bay = Workstation.objects.create(
            name=BAY_1, kind="manual_bay", processes=["135"], mechanisation="partly_mechanised", max_length_mm=9000,
            max_mass_kg=5000, notes="Two wire feeders beside the quay gate.",
        )  # fmt: skip
        _job(days, bay, users["sofie"])


def _job(days: Calendar, bay: Workstation, by: User) -> None:
    job = Job.objects.create(
        number="L26-07", title="Stair tower of the ferry landing", client="Lindmoor Ferries",
        application_standard="EN 1090-2:2018", execution_class="EXC2", procedure_code="ISO 15614-1:2017", level=2,
        coordinator_level="S", transverse_load="no", starts_on=days.day(-10), ends_on=days.day(60),
    )  # fmt: skip
    tower = Assembly.objects.create(job=job, mark="F1", title="Stringer with landing", kind="frame")
    made = [
        Joint(
            assembly=tower, number=row["number"], order_key=natural_key(row["number"]), weld_type="fillet",
            joint_type="tee", product="plate", grade_1="S355J2+N", grade_2="S355J2+N", t1_mm=Decimal(row["t1"]),
            t2_mm=Decimal(row["t2"]), throat_mm=Decimal(row["throat"]), length_mm=Decimal(row["length"]),
            position=row["position"], final_process="135", final_workstation=bay, tack_process="135",
            tack_workstation=bay, tack_length_mm=Decimal(50), tack_throat_mm=Decimal(3), weld_date=days.day(7),
            remarks=row["remarks"],
        )
        for row in rows("lindmoor_joints")
    ]  # fmt: skip
    bulk_create_with_history(made, Joint, default_user=by, custom_historical_attrs={"history_user_name": by.username})
