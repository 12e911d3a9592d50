"""What the access test puts into the addresses of jobs, assemblies, joints, imports and workstations."""

from joints.models import ImportBatch
from tests.joints.makers import make_job, make_joint, make_station


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


def _batch() -> dict[str, object]:
    return {"pk": ImportBatch.objects.create(job=make_job(), file_name="list.csv", sha256="0" * 64).pk}


def _station() -> dict[str, object]:
    return {"pk": make_station().pk}


SAMPLES = {
    "joints:job": _job,
    "joints:job_edit": _job,
    "joints:job_coverage": _job,
    "joints:job_counts": _job,
    "joints:weld_data": _job,
    "joints:import_upload": _job,
    "joints:assembly_new": _under_job,
    "joints:import_preview": _batch,
    "joints:import_confirm": _batch,
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
