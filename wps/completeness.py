"""What a specification must state before it can be approved, and what of it is missing.

After ISO 15609-1:2019, clause 4: the clause heads are confirmed by the public contents list, which field is needed
when is from memory. A draft may lack anything; an approved revision nothing.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from codes.clauses import Clause, Mark
from codes.parse import BadField
from codes.values import Value, atoms
from codes.variables import label_of
from wps.models import ProcedureRevision, ProcedureRun
from wps.window import demands

Condition = tuple[str, tuple[str, ...]]
"""A variable and the terms at which the need arises."""

BUTTS = ("butt_cjp", "butt_pjp", "branch")
MECHANISED = ("fully_mechanised", "automatic")
GAS_SHIELDED = ("131", "132", "133", "135", "136", "137", "138", "141", "142", "143", "145", "15")
WIRE_FED_GAS = ("131", "132", "133", "135", "136", "137", "138")
SUBMERGED = ("121", "122", "124", "125", "126")
BARE_ARC = ("142",)


@dataclass(frozen=True, slots=True)
class Need:
    """A variable that must be stated where all conditions hold; `unless` names processes that never need it."""

    variable: str
    ref: str
    when: tuple[Condition, ...] = ()
    unless: tuple[str, ...] = ()


NEEDS = (
    Need("process", "4.4.1"),
    Need("mechanisation", "4.4.1"),
    Need("steels", "4.3.1"),
    Need("product", "4.3.2"),
    Need("parent_t", "4.3.2"),
    Need("diameter", "4.3.2", (("product", ("pipe",)),)),
    Need("joint_type", "4.4.2"),
    Need("weld_type", "4.4.2"),
    Need("branch_angle", "4.4.2", (("joint_type", ("branch",)),)),
    Need("throat_a", "4.4.2", (("weld_type", ("fillet",)),)),
    Need("deposit_t", "4.4.2", (("weld_type", BUTTS),)),
    Need("run_type", "4.4.2"),
    Need("position", "4.4.3"),
    Need("gouging", "4.4.6", (("weld_detail", ("bs",)),)),
    Need("weld_detail", "4.4.7", (("weld_type", BUTTS),)),
    Need("filler_designation", "4.4.8", unless=BARE_ARC),
    Need("filler_diameter", "4.4.8", unless=BARE_ARC),
    Need("flux_designation", "4.5", (("process", SUBMERGED),)),
    Need("current_type", "4.4.9"),
    Need("current", "4.4.9"),
    Need("voltage", "4.4.9", (("mechanisation", MECHANISED),)),
    Need("travel_speed", "4.4.10", (("mechanisation", MECHANISED),)),
    Need("wire_feed", "4.4.10", (("mechanisation", MECHANISED), ("process", WIRE_FED_GAS + SUBMERGED))),
    Need("transfer_mode", "4.5", (("process", ("131", "135", "138")),)),
    Need("preheat", "4.4.11"),
    Need("interpass", "4.4.12", (("run_type", ("multi_run",)),)),
    Need("pwht", "4.4.15"),
    Need("pwht_temperature", "4.4.15", (("pwht", ("yes",)),)),
    Need("pwht_minutes", "4.4.15", (("pwht", ("yes",)),)),
    Need("gas", "4.4.16", (("process", GAS_SHIELDED),)),
    Need("heat_input", "4.4.17", (("impact_required", ("yes",)),)),
    Need("heat_input", "4.4.17", (("hardness_required", ("yes",)),)),
    Need("impact_temperature", "4.1", (("impact_required", ("yes",)),)),
)
STANDARD = "ISO 15609-1:2019"


@dataclass(frozen=True, slots=True)
class Missing:
    """Something that is not stated yet: what, for which process, and the clause that asks for it."""

    label: str
    clause: Clause
    process: str = ""
    variable: str = ""

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
        return (Missing(f"A value that can be read: {bad}", _clause("4.1")),)
    found = [one for process, values in each.items() for one in _missing_values(process, values, len(each) > 1)]
    found += _missing_preparation(revision)
    found += _missing_runs(tuple(revision.runs.all()), tuple(process for process in each if process))
    if not (revision.serves_tack or revision.serves_final):
        found.append(Missing("Whether it serves tack or final welding", Clause("This register", "serves", Mark.OWN)))
    return tuple(dict.fromkeys(found))


def _missing_values(process: str, values: Mapping[str, Value], many: bool) -> list[Missing]:
    return [
        Missing(label_of(need.variable), _clause(need.ref), process if many else "", need.variable)
        for need in NEEDS
        if need.variable not in values and process not in need.unless and _arises(need, values)
    ]


def _arises(need: Need, values: Mapping[str, Value]) -> bool:
    return all(any(atom in terms for atom in atoms(values.get(name, ()))) for name, terms in need.when)


def _missing_preparation(revision: ProcedureRevision) -> list[Missing]:
    asked = (("kind", "Joint preparation", "4.4.2"), ("method", "How edges are cut and cleaned", "4.4.4"))
    return [Missing(label, _clause(ref)) for key, label, ref in asked if not revision.preparation.get(key)]


def _missing_runs(runs: tuple[ProcedureRun, ...], processes: tuple[str, ...]) -> list[Missing]:
    if not runs:
        return [Missing("Runs with their parameters", _clause("4.4.2"))]
    found = [Missing(f"Process of run {run.order}", _clause("4.4.1")) for run in runs if not run.process]
    welded = {run.process for run in runs}
    found += [Missing("A run", _clause("4.4.2"), process) for process in processes if process not in welded]
    return found + [
        Missing(f"Gas flow of run {run.order}", _clause("4.4.16"))
        for run in runs
        if run.process in GAS_SHIELDED and (run.gas_flow_min_l_min is None or run.gas_flow_max_l_min is None)
    ]


def _clause(ref: str) -> Clause:
    return Clause(STANDARD, ref, Mark.MEMORY, "clause heads from the public contents list")
