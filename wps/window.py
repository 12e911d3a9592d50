"""The window of a revision as values and as limits: what the procedure says of every variable."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from codes.asme_ix_metals import base_metal
from codes.clauses import Clause, Mark
from codes.limits import Allowed, Limit, LimitSet, OneOf, Within, span
from codes.parse import Plain, parse_values
from codes.values import Atom, Interval, Steel, SteelPair, Value, atoms
from codes.variables import unit_of
from wps.heat import ARC_ENERGY, measure_by
from wps.models import ProcedureRevision, ProcedureRun
from wps.runs import processes_of, run_values
from wps.steel_pairs import pairs_words
from wps.us_window import in_terms_of, iso_limits

NEVER_IN_WINDOW = frozenset({"on", "phase", "standard", "role", "unit", "unit_system"})
"""Asked of a joint or a person, never said by a procedure."""

REQUIREMENTS = ("impact_required", "hardness_required")
"""A procedure that is made for the requirement serves joints without it too."""


def window_values(revision: ProcedureRevision) -> dict[str, Value]:
    """What the revision says for all its processes. Raises BadField."""
    return parse_values(revision.window)


def demands(revision: ProcedureRevision) -> dict[str, dict[str, Value]]:
    """Process -> everything the revision says of it: window, what differs for this process, and its runs.

    Raises BadField.
    """
    return demands_from(revision.window, revision.process_windows, tuple(revision.runs.all()), revision.code)


def demands_from(
    window: Mapping[str, Plain],
    process_windows: Mapping[str, Mapping[str, Plain]],
    runs: Sequence[ProcedureRun],
    code: str = "",
) -> dict[str, dict[str, Value]]:
    """As `demands`, of parts that need not be saved.

    Under a US code what is said in ISO terms is said in its own terms too. A range typed into the window stands; the
    runs fill in what it leaves open. Without any process the one entry has the key "". Raises BadField.
    """
    common = parse_values(window)
    found: dict[str, dict[str, Value]] = {}
    for process in _processes(common, runs) or ("",):
        own = common | parse_values(process_windows.get(process, {}))
        measure = measure_by(code, own.get("heat_measure"))
        derived = run_values(runs, process, measure)
        if measure == ARC_ENERGY and "heat_input" in derived and "heat_input" not in own:
            # Reckoned so by the code: whoever compares or goes on reckoning must know that no k is in it.
            derived["heat_measure"] = measure
        found[process] = in_terms_of(code, derived | own | ({"process": process} if process else {}))
    return found


def _processes(common: Mapping[str, Value], runs: Sequence[ProcedureRun]) -> tuple[str, ...]:
    """The processes in order: of the window, then any further ones of the runs."""
    stated = [atom for atom in atoms(common.get("process", ())) if isinstance(atom, str)]
    return tuple(dict.fromkeys((*stated, *processes_of(runs))))


def window_limits(revision: ProcedureRevision, values: Mapping[str, Value]) -> LimitSet:
    """The window as limits that a joint is checked against. Clause: the revision itself."""
    clause = Clause(str(revision), "range stated", Mark.OWN)
    limits = tuple(
        Limit(name, allowed_of(name, value), clause, because="as the procedure states")
        for name, value in values.items()
        if name not in NEVER_IN_WINDOW
    )
    return LimitSet(str(revision), (*limits, *iso_limits(values, clause)), revision.code)


def allowed_of(name: str, value: Value) -> Allowed:
    """The set that a stated value or range allows. Example: impact_required "yes" allows "yes" and "no"."""
    parts = atoms(value)
    if name in REQUIREMENTS and "yes" in parts:
        return OneOf(("yes", "no"))
    if name == "impact_temperature" and isinstance(parts[0], Decimal):
        # Tough at -40 degC is tough at -20 degC.
        return span(min(part for part in parts if isinstance(part, Decimal)), None, "°C")
    if all(isinstance(part, SteelPair) for part in parts):
        return SteelsWithin(tuple(part for part in parts if isinstance(part, SteelPair)))
    if all(isinstance(part, str) for part in parts):
        return OneOf(tuple(str(part) for part in parts))
    return _numbers(parts, unit_of(name))


def _numbers(parts: tuple[Atom, ...], unit: str) -> Allowed:
    ranges = tuple(Interval(part, part, unit) if isinstance(part, Decimal) else part for part in parts)
    intervals = tuple(part for part in ranges if isinstance(part, Interval))
    return Within(intervals[0]) if len(intervals) == 1 else AnyOf(intervals)


@dataclass(frozen=True, slots=True)
class AnyOf:
    """A number or interval that lies in one of several intervals."""

    intervals: tuple[Interval, ...]

    def admits(self, atom: Atom) -> bool:
        return any(Within(one).admits(atom) for one in self.intervals)

    def margin(self, atom: Atom) -> Decimal | None:
        found = [Within(one).margin(atom) for one in self.intervals]
        known = [margin for margin in found if margin is not None]
        return max(known) if known else None

    def __str__(self) -> str:
        return " or ".join(str(one) for one in self.intervals)


@dataclass(frozen=True, slots=True)
class SteelsWithin:
    """Two parent materials that fit one of the stated pairs, in either order.

    A side fits where its group is the stated one (a main group holds its sub-groups) and its specified minimum yield
    is not above the stated figure. What the stated side leaves open does not restrict; what the asked side leaves
    open does not fit. Example: 1.2 at 355 MPa holds 1.2 at 345 MPa, not 1.3 at 355 MPa. A side stated by P-number
    (ASME IX) asks for the P-number of the other: P-1 holds A36, P-1 Gr 1 does not hold SA-516 Gr. 70 (Gr 2).
    """

    pairs: tuple[SteelPair, ...]

    def admits(self, atom: Atom) -> bool:
        return isinstance(atom, SteelPair) and any(
            (_fits(atom.first, pair.first) and _fits(atom.second, pair.second))
            or (_fits(atom.first, pair.second) and _fits(atom.second, pair.first))
            for pair in self.pairs
        )

    def margin(self, atom: Atom) -> Decimal | None:
        return None

    def __str__(self) -> str:
        return pairs_words(self.pairs)


def _fits(asked: Steel, stated: Steel) -> bool:
    wanted = base_metal(stated) if stated.group.casefold().startswith("p") else None
    if wanted is not None:
        known = base_metal(asked)
        return known is not None and known.p_number == wanted.p_number and wanted.group in ("", known.group)
    if stated.group and asked.group != stated.group and asked.main_group != stated.group:
        return False
    if stated.yield_mpa is not None and (asked.yield_mpa is None or asked.yield_mpa > stated.yield_mpa):
        return False
    named_only = not stated.group and stated.yield_mpa is None
    return not named_only or asked.grade.casefold() == stated.grade.casefold()
