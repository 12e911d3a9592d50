"""One job for a buyer overseas, to AWS D1.1:2020: a prequalified procedure, a welder, a tack welder, a few joints.

Figures are US customary, kept in SI: 1/4 in is 6.35 mm. Table: export_joints.csv.
"""

from decimal import Decimal
from typing import Any

from django.contrib.auth.models import User
from simple_history.utils import bulk_create_with_history

from joints.demo.firm import BAY_1, FIRM, SITE, TEST_HOUSE, Calendar
from joints.demo.hands import written_by
from joints.demo.heats import heat_named
from joints.demo.materials import Plain
from joints.demo.preparations import CAUTIONS, PREPARATIONS, TECHNIQUE
from joints.demo.tables import Row, rows
from joints.models import Assembly, Job, Joint, Workstation
from joints.order import natural_key
from qualifications.models import Certificate, CertificateEvent, Person
from qualifications.witness import note
from wps import workflow
from wps.models import ProcedureRun, Road

CODE = "AWS D1.1:2020"
A36 = {"group": "", "yield_mpa": None, "grade": "A36"}
WINDOW: Plain = {
    "unit_system": ["us"], "contractor": FIRM, "process": ["136"], "mechanisation": ["partly_mechanised"],
    "weld_type": ["fillet"], "joint_type": ["tee"], "product": ["plate"], "steels": [A36, A36],
    "parent_t": {"min": "6.35", "max": "19.05"}, "leg_z": "6.35", "aws_position": ["1F", "2F"],
    "run_type": ["single_run"], "filler_designation": "E71T-1C", "gas_mixture": "CO2", "in_makers_range": ["yes"],
    "power_output": ["cv"], "current_type": ["DC+"], "preheat": "10", "pwht": ["no"], "impact_required": ["no"],
    "cyclic_load": ["no"], "weld_pass": ["root"], "root_pass_t": "6.35",
}  # fmt: skip
RUN: dict[str, Any] = {
    "order": 1, "layer": "single run", "process": "136", "filler_designation": "E71T-1C",
    "diameter_mm": Decimal("1.5875"), "current_type": "DC+", "current_min_a": Decimal(240),
    "current_max_a": Decimal(260), "voltage_min_v": Decimal(27), "voltage_max_v": Decimal(29),
    "speed_min_mm_min": Decimal(254), "speed_max_mm_min": Decimal("355.6"), "gas_flow_min_l_min": Decimal(18),
    "gas_flow_max_l_min": Decimal(20),
}  # fmt: skip
TEST: Plain = {
    "unit_system": "us", "process": "136", "contractor": FIRM, "aws_position": "2G", "weld_type": "butt_cjp",
    "product": "plate", "parent_t": "9.525", "weld_detail": "ss_mb", "mechanisation": "partly_mechanised",
}  # fmt: skip
TACK_TEST: Plain = {name: TEST[name] for name in ("unit_system", "process", "contractor", "mechanisation")}
# name, stamp, kind, number, test piece, days of the test and of the last weld on file
PEOPLE: tuple[tuple[str, str, str, str, Plain, int, int | None], ...] = (
    ("Rosa Delgado", "T41", "welder", "D11-0041", TEST, -130, -20),
    ("Emil Strand", "T42", "welder", "D11-0042", TEST | {"aws_position": "1G"}, -215, None),
    ("Nora Vik", "T43", "tack_welder", "D11-0043", TACK_TEST | {"aws_position": "2F"}, -400, None),
)


def load_export_job(days: Calendar, users: dict[str, User]) -> None:
    """Procedure, people, job and joints."""
    with written_by(users["henrik"]):
        _procedure(days, users)
    with written_by(users["petra"]):
        for one in PEOPLE:
            _person(days, users, *one)
    with written_by(users["marta"]):
        _job(days, users["marta"])


def _procedure(days: Calendar, users: dict[str, User]) -> None:
    draft = workflow.start_procedure("WPS 060", "Export: fillets of 1/4 in, one run", CODE, users["henrik"])
    draft.road, draft.window, draft.serves_tack, draft.serves_final = Road.PREQUALIFIED, WINDOW, True, True
    draft.preparation = TECHNIQUE["136"] | PREPARATIONS["fillet"] | {"tacking": "clamped, tacks 300 mm apart"}
    draft.preparation |= {"peening": "none"}
    draft.workstation_note, draft.cautions = BAY_1, CAUTIONS[BAY_1]
    draft.save()
    ProcedureRun.objects.create(revision=draft, **RUN)
    workflow.check_revision(draft, users["marta"], days.day(-70))
    workflow.approve(draft, users["marta"], days.day(-68))


def _person(
    days: Calendar,
    users: dict[str, User],
    name: str,
    stamp: str,
    kind: str,
    number: str,
    piece: Plain,
    tested: int,
    used: int | None,
) -> None:
    person = Person.objects.create(
        name=name, identification=stamp, employer=FIRM, site=SITE, supervisor=users["tomas"], notes="Export work."
    )
    certificate = Certificate(
        person=person, code=f"{CODE} {kind.replace('_', ' ')}", kind=kind, number=number, pieces=[piece],
        wps="WPS 060", examiner=TEST_HOUSE, examining_body=TEST_HOUSE, employer_then=FIRM, welded_on=days.day(tested),
        results_on=days.day(tested + 3), issued_on=days.day(tested + 4),
    )  # fmt: skip
    certificate.full_clean()
    certificate.save()
    if used is not None:
        event = CertificateEvent.objects.create(
            certificate=certificate, kind="use", on=days.day(used), by_name="Tomás Arrieta",
            by_role="welding supervisor", evidence="seam welded to WPS 060, inspected and accepted",
            details={"process": "136", "mechanisation": "partly_mechanised", "used_on": days.day(used).isoformat()},
        )  # fmt: skip
        note(event, None)


def _job(days: Calendar, by: User) -> None:
    job = Job.objects.create(
        number="26-140", title="Pump skids for export", client="Harlan Basin Pumps", procedure_code=CODE,
        starts_on=days.day(-12), ends_on=days.day(45),
    )  # fmt: skip
    bay = Workstation.objects.get(name=BAY_1)
    made: list[Joint] = []
    for mark in ("S1", "S2"):
        assembly = Assembly.objects.create(job=job, mark=mark, title="Skid frame, stiffeners and lugs", kind="frame")
        made += [_joint(row, assembly, bay, days) for row in rows("export_joints")]
    bulk_create_with_history(
        made, Joint, batch_size=200, default_user=by, custom_historical_attrs={"history_user_name": by.username}
    )


def _joint(row: Row, assembly: Assembly, bay: Workstation, days: Calendar) -> Joint:
    return Joint(
        assembly=assembly, number=row["number"], order_key=natural_key(row["number"]), weld_type="fillet",
        joint_type="tee", product="plate", grade_1=row["steel"], grade_2=row["steel"], t1_mm=Decimal(row["t1"]),
        t2_mm=Decimal(row["t2"]), leg_mm=Decimal(row["leg"]), length_mm=Decimal(row["length"]),
        heat_1=heat_named(assembly.mark, row["number"], row["t1"]),
        heat_2=heat_named(assembly.mark, row["number"], row["t2"]),
        position=row["position"], final_process="136", final_workstation=bay, tack_process="136",
        tack_workstation=bay, tack_length_mm=Decimal(50), weld_date=days.day(7), remarks=row["remarks"],
    )  # fmt: skip
