"""What the access test puts into the addresses of jobs, assemblies, joints, imports and workstations."""

from zipfile import ZipFile

from django.urls import reverse

from joints.models import ImportBatch, WeldRunFinding
from register.background.models import Work
from register.evidence import store
from register.papers import made
from tests.joints.makers import make_job, make_joint, make_station
from tests.joints.weld_logs import make_procedure


def _made() -> dict[str, object]:
    work = Work.objects.create(label="Make", title="sheets", function="x", asked_by_name="x")
    with ZipFile(made.room_for(work.pk, "sheets.zip"), "w") as file:
        file.writestr("sheet.txt", "a sheet")
    asked: dict[str, object] = {"pk": work.pk, "name": "sheets.zip"}
    Work.objects.filter(pk=work.pk).update(result_url=reverse("joints:made_file", kwargs=asked))
    return asked


def _job() -> dict[str, object]:
    return {"pk": make_job().pk}


def _under_job() -> dict[str, object]:
    return {"job": make_job().pk}


def _assembly() -> dict[str, object]:
    return {"pk": make_joint().assembly_id}


def _under_assembly() -> dict[str, object]:
    return {"assembly": make_joint().assembly_id}


def _joint() -> dict[str, object]:
    return {"pk": make_joint().pk}


def _under_joint() -> dict[str, object]:
    return {"joint": make_joint().pk}


def _batch() -> dict[str, object]:
    return {"pk": ImportBatch.objects.create(job=make_job(), file_name="list.csv", sha256=store.keep(b"A;B\n1;2")).pk}


def _model() -> dict[str, object]:
    facts = {"kind": "model", "status": "confirmed", "confirmed_by": "", "file_name": "model.ifc"}
    extract = store.keep(b'{"welds": []}')
    sha = store.keep(b"ISO-10303-21;ENDSEC;")
    return {"pk": ImportBatch.objects.create(job=make_job(), sha256=sha, extract=extract, **facts).pk}


def _station() -> dict[str, object]:
    return {"pk": make_station().pk}


def _weld_values() -> dict[str, object]:
    facts = {
        "outcome": "covered",
        "samples": 1,
        "arc_seconds": 1,
        "order": 0,
        "file_name": "log.csv",
        "sha256": "0" * 64,
    }
    details = {"window": {}, "excursions": [], "unlogged": [], "unread": {}, "gaps": 0, "arc_seconds": "1"}
    revision = make_procedure()
    one = WeldRunFinding.objects.create(job=make_job(), revision=revision, details=details, **facts)
    return {"pk": one.job_id, "revision": revision.pk, "sha": one.sha256}


def _cell_sheet() -> dict[str, object]:
    return {**_assembly(), "station": make_station(name="Bay 9").pk, "revision": make_procedure().pk}


SAMPLES = {
    "joints:weld_values": _job,
    "joints:weld_values_file": _weld_values,
    "joints:job": _job,
    "joints:job_edit": _job,
    "joints:job_coverage": _job,
    "joints:audit_pack": _job,
    "joints:made_file": _made,
    "joints:job_counts": _job,
    "joints:job_matrix": _job,
    "joints:job_list_csv": _job,
    "joints:job_list_xlsx": _job,
    "joints:planning": _job,
    "joints:job_ahead": _job,
    "joints:weld_data": _job,
    "joints:geometry_upload": _job,
    "joints:turning_plan": _assembly,
    "joints:coverage_report": _assembly,
    "joints:weld_map": _assembly,
    "joints:cell_sheet": _cell_sheet,
    "joints:assembly_geometry": _under_assembly,
    "joints:joint_geometry": _under_joint,
    "joints:import_upload": _job,
    "joints:assembly_new": _under_job,
    "joints:import_preview": _batch,
    "joints:import_confirm": _batch,
    "joints:import_columns": _batch,
    "joints:import_differences": _batch,
    "joints:import_answers": _model,
    "joints:assembly": _assembly,
    "joints:assembly_metal": _assembly,
    "joints:job_metal": _job,
    "joints:assembly_edit": _assembly,
    "joints:joint_new": _under_assembly,
    "joints:joint": _joint,
    "joints:joint_edit": _joint,
    "joints:joint_remove": _joint,
    "joints:workstation": _station,
    "joints:workstation_edit": _station,
}
