"""Everything a sheet prints, made ready from one revision: words and figures only, nothing left to decide."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from django.utils.translation import gettext

from codes.readings import DEFAULTS, Settings
from codes.terms import both_names, term
from codes.units import System
from codes.values import Value, atoms
from register.held.firm import ticked
from wps.heat import measure_by
from wps.judgement import judge
from wps.models import ProcedureRevision, Status, TestRecord
from wps.sheet_cautions import cautions
from wps.sheet_figures import said_in, together
from wps.sheet_positions import positions_drawn, positions_said
from wps.sheet_prepared import prepared_lines
from wps.sheet_runs import RunTable, heat_name, run_table
from wps.sheet_tacks import RULE, governs, tack_length
from wps.sketch import SketchError, beads_of, parse_preparation, preparation_sketch, sequence_sketch
from wps.symbol import aws_symbol, iso_symbol, symbol_of
from wps.window import demands

Demands = Mapping[str, Mapping[str, Value]]


@dataclass(frozen=True, slots=True)
class Line:
    """One thing stated: label and value in words."""

    label: str
    said: str


@dataclass(frozen=True, slots=True)
class Process:
    """A process by both names, what it is, and how far it is mechanised."""

    name: str
    words: str
    mechanisation: str


@dataclass(frozen=True, slots=True)
class Sketches:
    """The two drawings and the welding symbol after ISO 2553 and AWS A2.4 as SVG, or why there are none."""

    preparation: str = ""
    sequence: str = ""
    problem: str = ""
    symbols: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Banner:
    """What stands over a sheet that is not in force. `mark` is printed across it."""

    words: str
    mark: str = ""


@dataclass(frozen=True, slots=True)
class Step:
    """Who prepared, checked or approved, and when."""

    act: str
    name: str
    on: date | None = None


@dataclass(frozen=True, slots=True)
class SheetData:
    """One revision ready for paper."""

    number: str
    letter: str
    title: str
    code: str
    serves: str
    where: str
    banner: Banner | None
    processes: tuple[Process, ...]
    positions: tuple[tuple[str, str], ...]
    preheat: str
    interpass: str
    runs: RunTable
    sketches: Sketches
    facts: tuple[Line, ...]
    consumables: tuple[Line, ...]
    tacks: tuple[Line, ...]
    cautions: tuple[tuple[str, str], ...]
    records: tuple[str, ...]
    steps: tuple[Step, ...]
    basis: str
    notes: str
    converted: str = ""

    @property
    def basis_brief(self) -> str:
        """For the cell: that the full specification says more."""
        return BASIS_BRIEF if self.basis else ""


CONVERTED = (
    "Converted from SI by exact factors, ranges rounded inwards; the SI figures on file rule. What an author wrote in "
    "words keeps the units it was written in."
)
BASIS_BRIEF = "Some ranges rest on rules not yet compared with the standard's text: the full specification names them."


def sheet_data(
    revision: ProcedureRevision, system: System, on: date, settings: Settings = DEFAULTS, for_cell: bool = False
) -> SheetData:
    """The data of a revision; `on` is the day on which its ranges are judged. Raises BadField for a bad window.

    `for_cell`: what all runs share is said once, so that their figures can be large.
    """
    each = demands(revision)
    first = next(iter(each.values()))
    runs = tuple(revision.runs.all())
    measure = measure_by(revision.code, first.get("heat_measure"))
    table = run_table(runs, system, measure, _said(first) * for_cell)
    # Run by run it stands in the table: said twice it is one figure more to look past.
    tabled = {"heat_input"} if for_cell and table.has_heat else set()
    return SheetData(
        number=revision.procedure.number,
        letter=revision.letter,
        title=revision.procedure.title,
        code=revision.code,
        serves=serves(revision),
        where=revision.workstation_note,
        banner=banner(revision),
        processes=tuple(_process(process, values) for process, values in each.items() if process),
        positions=_positions(each),
        preheat=said_of_all(each, "preheat", system),
        interpass=", ".join(filter(None, (said_of_all(each, name, system) for name in INTERPASS))),
        runs=table,
        sketches=sketches(revision, each, system),
        facts=_lines(each, FACTS, system),
        consumables=_lines(each, [one for one in consumables(measure) if one[1] not in tabled], system),
        tacks=_tacks(revision, first, system),
        cautions=cautions(_terms(each, "mechanisation"), "yes" in _terms(each, "robot"), revision.cautions),
        records=records_of(revision),
        steps=_steps(revision),
        basis=basis(revision, on, settings),
        notes=revision.notes.strip(),
        converted=CONVERTED if system is System.US else "",
    )


def _said(values: Mapping[str, Value]) -> tuple[str, ...]:
    """Fields of a run that the sheet states beside the table; the filler only where the window names it."""
    return ("process", *(("filler_designation",) if "filler_designation" in values else ()))


INTERPASS = ("interpass_min", "interpass")
"""The codes of AWS ask for the lowest, the standards of ISO for the highest; a procedure may state both."""
FACTS = (
    ("Weld", "weld_type"), ("Joint", "joint_type"), ("Product", "product"), ("Materials", "steels"),
    ("Thickness", "parent_t"), ("Deposited", "deposit_t"), ("Throat a", "throat_a"), ("Leg z", "leg_z"),
    ("Diameter", "diameter"), ("Branch angle", "branch_angle"), ("Runs", "run_type"), ("Thickest run", "max_run_t"),
    ("Sides", "weld_detail"),
    ("Gouging", "gouging"), ("Impact required", "impact_required"), ("Impact at", "impact_temperature"),
    ("Hardness required", "hardness_required"),
)  # fmt: skip
CONSUMABLES = (
    ("Filler", "filler_designation"), ("Make", "filler_make"), ("Flux", "flux_designation"), ("Gas", "gas"),
    ("Gas mixture", "gas_mixture"), ("Backing gas", "backing_gas"), ("Transfer", "transfer_mode"),
    ("Current", "current_type"),
    ("Heat input", "heat_input"), ("Torch", "torch_direction"), ("Post-heating", "post_heat_temperature"),
    ("Heat treatment", "pwht_temperature"),
)  # fmt: skip
"""Label on the sheet and variable; what is not stated is left out."""


def consumables(measure: str) -> tuple[tuple[str, str], ...]:
    """`CONSUMABLES`, the heat called what it is."""
    return tuple((heat_name(measure) if name == "heat_input" else label, name) for label, name in CONSUMABLES)


def _lines(each: Demands, wanted: Sequence[tuple[str, str]], system: System) -> tuple[Line, ...]:
    said = [Line(label, said_of_all(each, name, system)) for label, name in wanted]
    return tuple(line for line in said if line.said and line.said != "no")


def said_of_all(each: Demands, name: str, system: System) -> str:
    """What all processes state of a variable, with their names where they differ."""
    if name == "process":
        return ", ".join(both_names("process", process) for process in each if process)
    return together((both_names("process", process), said_of(values, name, system)) for process, values in each.items())


def said_of(values: Mapping[str, Value], name: str, system: System) -> str:
    """What one process states of a variable."""
    if name not in values:
        return ""
    return positions_said(values) if name == "position" else said_in(name, values[name], system)


def _terms(each: Demands, name: str) -> list[str]:
    found = [str(atom) for values in each.values() for atom in atoms(values.get(name, ()))]
    return list(dict.fromkeys(found))


def _process(process: str, values: Mapping[str, Value]) -> Process:
    degrees = said_in("mechanisation", values.get("mechanisation", ()), System.SI)
    return Process(both_names("process", process), term("process", process).words, degrees)


def _positions(each: Demands) -> tuple[tuple[str, str], ...]:
    """Picture and name of every position."""
    return tuple(dict.fromkeys(drawn for values in each.values() for drawn in positions_drawn(values)))


def sketches(revision: ProcedureRevision, each: Demands, system: System) -> Sketches:
    """Preparation and sequence of runs, or why they cannot be drawn."""
    rows = [(run.order, run.layer, run.process) for run in revision.runs.all()]
    found = sketches_of(revision.preparation, next(iter(each.values())), rows, system)
    # What a form would offer to choose is of no use on paper.
    return Sketches(problem=NO_PREPARATION) if found.problem and not revision.preparation.get("kind") else found


def sketches_of(
    preparation: Mapping[str, object], values: Mapping[str, Value], rows: Sequence[tuple[int, str, str]], system: System
) -> Sketches:
    """As `sketches`, of parts that need not be saved; `rows`: order, name and process of each run."""
    # Of several processes each deposits its share, and together they fill the groove.
    apart = {"process", "deposit_t"} if len({process for _, _, process in rows if process}) > 1 else {"process"}
    try:
        one = parse_preparation(preparation, {name: value for name, value in values.items() if name not in apart})
    except SketchError as bad:
        unstated = bad.field == "kind" and not preparation.get("kind")
        return Sketches(problem=NO_PREPARATION if unstated else f"No sketch: {bad}.")
    beads = beads_of(rows)
    symbol = symbol_of(one, tuple(dict.fromkeys(process for _, _, process in rows if process)))
    return Sketches(
        preparation_sketch(one, system),
        sequence_sketch(one, beads, system) if beads else "",
        symbols=(iso_symbol(symbol), aws_symbol(symbol, system)),
    )


NO_PREPARATION = "No sketch: the preparation is not stated."
PREPARED = (("Edges", "method"), ("Tolerances", "tolerances"), ("Technique", "technique"), ("Torch", "torch_angle"),
            ("Stick-out, mm", "stick_out_mm"), ("Backing", "backing"), ("Consumables", "filler_handling"))  # fmt: skip


def prepared(revision: ProcedureRevision, system: System = System.SI) -> tuple[Line, ...]:
    """What the preparation says in words."""
    return tuple(Line(label, said) for label, said in prepared_lines(revision.preparation, PREPARED, system))


def _tacks(revision: ProcedureRevision, values: Mapping[str, Value], system: System) -> tuple[Line, ...]:
    made = str(revision.preparation.get("tacking") or "").strip()
    allowed = "may be made to this sheet" if revision.serves_tack else "are made to a procedure that serves tacking"
    found = [Line("Tack welds", allowed), Line("Tacks made", made)]
    if governs(revision.code):
        found.append(Line("Shortest tack", f"{tack_length(values, system)} ({RULE})"))
    return tuple(line for line in found if line.said)


def serves(revision: ProcedureRevision) -> str:
    """The phases in words."""
    phases = [word for word, yes in (("tack", revision.serves_tack), ("final", revision.serves_final)) if yes]
    return f"{' and '.join(phases)} welding".capitalize() if phases else "Not stated whether tack or final welding"


def banner(revision: ProcedureRevision) -> Banner | None:
    """None for a revision in force."""
    ended = f" on {revision.ended_on.isoformat()}" if revision.ended_on else ""
    if revision.status == Status.APPROVED:
        return None
    if revision.status == Status.SUPERSEDED:
        return Banner(f"SUPERSEDED{_by_which(revision)}{ended}. Not for production.", "SUPERSEDED")
    if revision.status == Status.WITHDRAWN:
        return Banner(f"WITHDRAWN{ended}. Not for production.", "WITHDRAWN")
    rests = revision.is_prequalified or revision.records.all()
    kind = "" if rests else " Preliminary (pWPS): no record supports it yet."
    if revision.status == Status.CHECKED:
        return Banner(f"CHECKED {revision.checked_on}, NOT APPROVED – not for production.{kind}", "NOT APPROVED")
    return Banner(f"DRAFT – not for production.{kind}", "DRAFT")


def _by_which(revision: ProcedureRevision) -> str:
    """The revision whose approval ended this one. A later one does not change what a paper says."""
    approved = revision.procedure.revisions.filter(approved_on=revision.ended_on, pk__gt=revision.pk)
    newer = approved.order_by("pk").first() if revision.ended_on else None
    return f" by rev {newer.letter}" if newer else ""


def records_of(revision: ProcedureRevision) -> tuple[str, ...]:
    """What it rests on, for the foot of the sheet."""
    if revision.is_prequalified:
        return (f"prequalified by {revision.code}, without a test",)
    return tuple(_record(record) for record in revision.records.all())


def _record(record: TestRecord) -> str:
    level = f", level {record.level}" if record.level else ""
    return f"{record.number} ({record.code}{level})"


def _steps(revision: ProcedureRevision) -> tuple[Step, ...]:
    return (
        Step(gettext("Prepared"), revision.author_name),
        Step(gettext("Checked"), revision.checked_name, revision.checked_on),
        Step(gettext("Approved"), revision.approved_name, revision.approved_on),
    )


def basis(revision: ProcedureRevision, on: date, settings: Settings = DEFAULTS) -> str:
    """Which rules behind the ranges neither a public source nor the firm's own copy of the standard confirmed.

    "" where all are confirmed or no record is there. What somebody of the firm ticked counts as confirmed.
    """
    judgement = judge(revision, on, settings)
    open_ones = set(judgement.unconfirmed) - ticked()
    refs: dict[str, list[str]] = {}
    for clause in judgement.clauses:
        known = refs.setdefault(clause.standard, []) if str(clause) in open_ones else []
        if clause.ref and clause.ref not in known:
            known.append(clause.ref)
    if not refs:
        return ""
    said = ". ".join(f"{standard}: {'; '.join(sorted(found))}" for standard, found in refs.items())
    return f"Ranges rest on rules entered from memory and not yet compared with the standard's text: {said}."
