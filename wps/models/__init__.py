"""Test records of procedures; procedures, their revisions and runs; certificates of materials."""

from wps.materials.models import MaterialCertificate
from wps.models.issued import IssuedSheet
from wps.models.procedure import FROZEN, OPEN, Procedure, ProcedureRevision, ProcedureRun, Road, Status
from wps.models.record import Route, TestRecord
from wps.releases.models import ProcedureRelease

__all__ = [
    "FROZEN",
    "OPEN",
    "IssuedSheet",
    "MaterialCertificate",
    "Procedure",
    "ProcedureRelease",
    "ProcedureRevision",
    "ProcedureRun",
    "Road",
    "Route",
    "Status",
    "TestRecord",
]
