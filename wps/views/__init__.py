"""Pages of test records, procedures and their revisions."""

from wps.views.acts import RevisionApprove, RevisionCheck, RevisionNew, RevisionWithdraw
from wps.views.live import RevisionLive, RevisionSketch
from wps.views.procedures import ProcedureList, ProcedureNew, ProcedurePage
from wps.views.records import RecordEdit, RecordList, RecordNew, RecordPage
from wps.views.revisions import RevisionEdit, RevisionPage
from wps.views.scans import RecordScan, RecordScanWithdraw

__all__ = [
    "ProcedureList",
    "ProcedureNew",
    "ProcedurePage",
    "RecordEdit",
    "RecordList",
    "RecordNew",
    "RecordPage",
    "RecordScan",
    "RecordScanWithdraw",
    "RevisionApprove",
    "RevisionCheck",
    "RevisionEdit",
    "RevisionLive",
    "RevisionNew",
    "RevisionPage",
    "RevisionSketch",
    "RevisionWithdraw",
]
