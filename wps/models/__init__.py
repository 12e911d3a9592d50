"""Test records of procedures; procedures, their revisions and runs."""

from wps.models.issued import IssuedSheet
from wps.models.procedure import FROZEN, OPEN, Procedure, ProcedureRevision, ProcedureRun, Road, Status
from wps.models.record import Route, TestRecord

__all__ = [
    "FROZEN",
    "OPEN",
    "IssuedSheet",
    "Procedure",
    "ProcedureRevision",
    "ProcedureRun",
    "Road",
    "Route",
    "Status",
    "TestRecord",
]
