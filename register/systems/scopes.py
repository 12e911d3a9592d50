"""What a system may be allowed. None of it approves, signs, confirms or changes an account: that takes a person."""

from collections.abc import Mapping
from enum import StrEnum

from django.utils.translation import gettext_lazy as _


class Scope(StrEnum):
    """What one token may do; each call of the API needs exactly one."""

    READ_RECORDS = "read:records"
    READ_PROCEDURES = "read:procedures"
    READ_PEOPLE = "read:people"
    READ_JOBS = "read:jobs"
    READ_COVERAGE = "read:coverage"
    READ_DUE = "read:due"
    READ_SHEETS = "read:sheets"
    WRITE_LOG = "write:log"
    WRITE_WELD_VALUES = "write:weld_values"
    PROPOSE_JOINTS = "propose:joints"


WORDS: Mapping[Scope, str] = {
    Scope.READ_RECORDS: _("read test records (WPQR, PQR) and the limits they earn"),
    Scope.READ_PROCEDURES: _("read procedures, their revisions and how they are judged"),
    Scope.READ_PEOPLE: _("read people and certificates, by name"),
    Scope.READ_JOBS: _("read jobs, assemblies, joints and workstations"),
    Scope.READ_COVERAGE: _("ask which procedure covers a joint and who may weld it, by name"),
    Scope.READ_DUE: _("read what falls due, by name"),
    Scope.READ_SHEETS: _("ask whether an issued sheet is still in force, and read it"),
    Scope.WRITE_LOG: _("write entries of the weld log"),
    Scope.WRITE_WELD_VALUES: _("send logs of current, voltage and speed to be judged"),
    Scope.PROPOSE_JOINTS: _("send lists of joints, for a person to take in"),
}
"""In words, for the page on which a token is made."""
