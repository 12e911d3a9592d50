"""What a specification must state before it can be approved, and what of it is missing.

The list is that of the procedure's own code and road (`codes.wps_lists`); what window and preparation both state must
agree (`wps.agreement`). A draft may lack anything; an approved revision nothing
that was asked when it was approved.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from django.utils.translation import gettext

from codes.clauses import Clause, Mark
from codes.parse import BadField
from codes.values import Value
from codes.variables import VARIABLES
from codes.wps_fields import missing_of
from codes.wps_lists import fields_of
from wps.agreement import disagreements
from wps.models import ProcedureRevision, ProcedureRun
from wps.window import demands


def variables_asked(code: str, prequalified: bool = False) -> frozenset[str]:
    """The variables of the code's list, those of their conditions included."""
    fields = fields_of(code, prequalified)
    named = {field.name for field in fields if field.name in VARIABLES}
    return frozenset(named | {when.variable for field in fields for group in field.when for when in group}) - NO_VALUES


NO_VALUES = frozenset({"status"})
"""Conditions on the document itself."""
# Known from the register itself: the firm is the one that keeps it, and approval brings its own name and date.
ALWAYS_KNOWN = ("manufacturer", "number", "status", "location", "prepared_by", "approved_by")
FROM_PREPARATION = {
    "joint_sketch": "kind", "preparation_method": "method", "technique": "technique", "torch_angle": "torch_angle",
    "filler_handling": "filler_handling", "waveform": "waveform", "stick_out": "stick_out_mm",
    "pwht_rates": "pwht_rates", "gas_nozzle": "gas_nozzle", "tungsten": "tungsten", "peening": "peening",
}  # fmt: skip
"""Texts of the document -> where the revision's preparation keeps them."""


@dataclass(frozen=True, slots=True)
class Missing:
    """Something that is not stated yet: what, for which process, and the clause that asks for it."""

    label: str
    clause: Clause
    process: str = ""
    name: str = ""

    @property
    def sentence(self) -> str:
        """In words. Example: "Interpass temperature (ISO 15609-1:2019, 4.4.12)"."""
        process = f" of process {self.process}" if self.process else ""
        return f"{self.label}{process} ({self.clause})"


def missing(revision: ProcedureRevision) -> tuple[Missing, ...]:
    """All that the revision must still state. Empty for a complete one."""
    try:
        each = demands(revision)
    except BadField as bad:
        return (Missing(gettext("A value that can be read: %(bad)s") % {"bad": bad}, _own("values")),)
    runs = tuple(revision.runs.all())
    asked = fields_of(revision.code, revision.is_prequalified)
    found: list[Missing] = []
    for process, values in each.items():
        stated = values | _texts(revision, [run for run in runs if run.process == process])
        of = process if len(each) > 1 else ""
        found += [Missing(field.label, field.clause, of, field.name) for field in missing_of(stated, asked)]
        apart = disagreements(values, revision.preparation)
        found += [Missing(told, _own("one figure for one thing"), of, name) for name, told in apart]
    found += [
        Missing(gettext("Process of run %(order)s") % {"order": run.order}, _own("runs"))
        for run in runs
        if not run.process
    ]
    if revision.is_prequalified and revision.records.all():
        found.append(Missing(gettext("No supporting record: a prequalified procedure rests on none"), _own("records")))
    if not (revision.serves_tack or revision.serves_final):
        found.append(Missing(gettext("Whether it serves tack or final welding"), _own("serves")))
    return tuple(dict.fromkeys(found))


def _texts(revision: ProcedureRevision, runs: list[ProcedureRun]) -> Mapping[str, Value]:
    """The fields that are no variables, for one process and its runs, where they are stated."""
    stated: dict[str, Value] = dict.fromkeys(ALWAYS_KNOWN, "stated")
    # What is to be approved is a WPS, and a WPS rests on records.
    stated["status"] = "WPS"
    stated |= {name: "stated" for name, key in FROM_PREPARATION.items() if revision.preparation.get(key)}
    if revision.records.all():
        stated["records"] = "stated"
    if runs:
        stated["run_sequence"] = "stated"
    if runs and all(run.gas_flow_min_l_min is not None and run.gas_flow_max_l_min is not None for run in runs):
        stated["gas_flow"] = "stated"
    return stated


def _own(ref: str) -> Clause:
    return Clause("This register", ref, Mark.OWN)
