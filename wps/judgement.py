"""A procedure judged against the union of its records: for each process, is every point of its window covered?"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from codes.check import check, nearness
from codes.clauses import Clause, Mark
from codes.cover import Piece, uncovered, widest
from codes.limits import Limit, LimitSet
from codes.parse import BadField
from codes.readings import DEFAULTS, Settings
from codes.terms import both_names
from codes.units import System
from codes.values import Value, atoms
from codes.variables import label_of
from codes.verdict import Finding, Outcome, Verdict
from wps.combined import Combination, combinations_of
from wps.models import ProcedureRevision
from wps.offers import RecordOffer, record_offers
from wps.own_figures import said
from wps.window import demands
from wps.words import cut_of, piece_text


@dataclass(frozen=True, slots=True)
class Allows:
    """What one limit of one record says of a variable, and how the procedure's value lies in it."""

    record: str
    limit: Limit
    finding: Finding


@dataclass(frozen=True, slots=True)
class VariableView:
    """One variable side by side: what the procedure says, what each record allows."""

    variable: str
    label: str
    says: str
    outcome: Outcome
    allows: tuple[Allows, ...]
    value: Value | None = None

    @property
    def terms(self) -> tuple[str, ...]:
        """The terms it says, for their pictures."""
        return tuple(atom for atom in atoms(self.value) if isinstance(atom, str)) if self.value is not None else ()


@dataclass(frozen=True, slots=True)
class Gap:
    """A part of the window that no record covers: in words, and the record that comes nearest.

    `cut`: the variables by which it is told from the whole window.
    """

    text: str
    outcome: Outcome
    nearest: Verdict | None
    cut: tuple[tuple[str, Value], ...] = ()


@dataclass(frozen=True, slots=True)
class ProcessJudgement:
    """One process: what it says, variable by variable, and what no record covers. `system`: of its figures."""

    process: str
    name: str
    demand: Mapping[str, Value]
    outcome: Outcome
    variables: tuple[VariableView, ...]
    gaps: tuple[Gap, ...]
    combined: tuple[Combination, ...] = ()
    system: System = System.SI

    @property
    def needed(self) -> tuple[Combination, ...]:
        """The combinations of records that cover what no record covers alone."""
        return tuple(one for one in self.combined if one.needed)

    @property
    def not_needed(self) -> tuple[Combination, ...]:
        """Those that the code allows too and that add nothing here."""
        return tuple(one for one in self.combined if not one.needed)


@dataclass(frozen=True, slots=True)
class Judgement:
    """The whole procedure: covered where every process is. `prequalified`: by the code's own limits, not by records."""

    outcome: Outcome
    processes: tuple[ProcessJudgement, ...]
    records: tuple[RecordOffer, ...]
    problem: str = ""
    prequalified: bool = False

    @property
    def sentence(self) -> str:
        """The answer first, in words."""
        if self.problem:
            return f"Not stated: {self.problem}"
        if self.prequalified:
            return self._own_sentence()
        names = ", ".join(record.label for record in self.on_file if record.sets)
        if self.outcome is Outcome.COVERED:
            return f"Covered: everything this procedure states lies inside {names}{self._by_combining()}."
        if not self.records:
            return "Not stated: no record supports it yet, so it is a preliminary specification (pWPS)."
        if not names:
            return f"Not stated: {'; '.join(f'{one.label} does not count, {one.problem}' for one in self.records)}."
        worst = sorted(self.gaps, key=lambda gap: gap.outcome.rank)
        more = f" And {len(worst) - 1} more." if len(worst) > 1 else ""
        word = "Outside" if self.outcome is Outcome.OUTSIDE else "Not stated"
        return f"{word}: {worst[0].text if worst else 'no process is stated.'}{more}"

    def _own_sentence(self) -> str:
        if unfit := [record for record in self.records if record.problem]:
            return f"Not stated: {unfit[0].problem}."
        if self.outcome is Outcome.COVERED:
            return "Covered: prequalified, everything this procedure states lies inside the code's own limits."
        word = "Outside" if self.outcome is Outcome.OUTSIDE else "Not stated"
        return f"{word}: not prequalified, for {len(self.reasons)} reason{'s' if len(self.reasons) > 1 else ''}."

    def _by_combining(self) -> str:
        needed = dict.fromkeys(one.sentence for process in self.processes for one in process.needed)
        return f", combined: {'; '.join(needed)}" if needed else ""

    @property
    def on_file(self) -> tuple[RecordOffer, ...]:
        """The supporting records themselves, without what they earn together."""
        return tuple(record for record in self.records if not record.parts)

    @property
    def reasons(self) -> tuple[tuple[Outcome, str], ...]:
        """Every finding that keeps the nearest limits from covering, with its outcome; each sentence once."""
        nearest = [gap.nearest for gap in self.gaps if gap.nearest is not None]
        found = {f.sentence: f.outcome for verdict in nearest for f in verdict.findings}
        missed = [(outcome, sentence) for sentence, outcome in found.items() if outcome is not Outcome.COVERED]
        return tuple(sorted(missed, key=lambda one: one[0].rank))

    @property
    def gaps(self) -> tuple[Gap, ...]:
        """What no record covers, over all processes."""
        return tuple(gap for process in self.processes for gap in process.gaps)

    @property
    def clauses(self) -> tuple[Clause, ...]:
        """The clauses that the limits rest on, each once."""
        found = (a.limit.clause for p in self.processes for v in p.variables for a in v.allows)
        return tuple(dict.fromkeys(found))

    @property
    def unconfirmed(self) -> tuple[str, ...]:
        """Those of them that no public source confirmed in full."""
        return tuple(dict.fromkeys(str(c) for c in self.clauses if c.mark not in (Mark.CONFIRMED, Mark.OWN)))

    @property
    def readings(self) -> tuple[str, ...]:
        """The switches that the limits rest on, each once."""
        found = (a.limit.readings for p in self.processes for v in p.variables for a in v.allows)
        return tuple(dict.fromkeys(reading for readings in found for reading in readings))


def judge(revision: ProcedureRevision, on: date, settings: Settings = DEFAULTS) -> Judgement:
    """The judgement of a revision with its records as they stand on a day."""
    try:
        each = demands(revision)
    except BadField as bad:
        return Judgement(Outcome.NOT_STATED, (), (), str(bad))
    return judge_demands(each, record_offers(revision, on, settings), revision.is_prequalified)


def judge_demands(
    each: Mapping[str, Mapping[str, Value]], records: Sequence[RecordOffer], prequalified: bool = False
) -> Judgement:
    """The judgement of what a procedure says (process -> values) against records, or the code's own limits."""
    alone = [limits for record in records if not record.parts for limits in record.sets]
    joint = [limits for record in records if record.parts for limits in record.sets]
    judged = tuple(judge_process(process, demand, alone, joint) for process, demand in each.items())
    return Judgement(_together([one.outcome for one in judged]), judged, tuple(records), prequalified=prequalified)


def judge_process(
    process: str, demand: Mapping[str, Value], sets: Sequence[LimitSet], joint: Sequence[LimitSet] = ()
) -> ProcessJudgement:
    """One process against the union of the limit sets that speak of it: first each record's own, and where these
    leave something open also what records earn together (`joint`).
    """
    own = [limits for limits in sets if _speaks_of(limits, process)] or list(sets)
    both = [limits for limits in joint if _speaks_of(limits, process)]
    left = uncovered(demand, own)
    combined = combinations_of(demand, sets, left, both)
    if left and both:
        own += both
        left = uncovered(demand, own)
    pieces = widest(demand, left, own)
    gaps = tuple(_gap(demand, piece) for piece in pieces)
    outcome = _together([gap.outcome for gap in gaps]) if gaps else Outcome.COVERED
    name = both_names("process", process) if process else "process not stated"
    return ProcessJudgement(process, name, demand, outcome, _variables(demand, own, pieces), gaps, combined)


def _speaks_of(limits: LimitSet, process: str) -> bool:
    stated = [limit for limit in limits.limits if limit.variable == "process"]
    return not stated or any(limit.allowed.admits(process) for limit in stated)


def _gap(window: Mapping[str, Value], piece: Piece) -> Gap:
    nearest = _nearest(piece) if piece.verdicts else None
    outcomes = {verdict.outcome for verdict in piece.verdicts}
    outcome = Outcome.OUTSIDE if outcomes == {Outcome.OUTSIDE} else Outcome.NOT_STATED
    cut = cut_of(window, piece, nearest)
    return Gap(piece_text(cut, nearest), outcome, nearest, cut)


def _nearest(piece: Piece) -> Verdict:
    """The verdict that comes nearest to the piece: of those that miss by as many variables, the one short by least."""
    return min(piece.verdicts, key=lambda verdict: (nearness(verdict), _short_by(verdict)))


def _short_by(verdict: Verdict) -> Decimal:
    return sum((-found.margin for found in verdict.worst if found.margin is not None), Decimal(0))


def _variables(
    demand: Mapping[str, Value], sets: Sequence[LimitSet], pieces: Sequence[Piece]
) -> tuple[VariableView, ...]:
    """Every variable that the procedure states or a record limits, worst first, then in the order of the limits."""
    verdicts = [check(demand, limits) for limits in sets]
    limited = [limit.variable for limits in sets for limit in limits.limits]
    names = dict.fromkeys([*limited, *demand])
    views = [_view(name, demand, sets, verdicts, pieces) for name in names]
    return tuple(sorted(views, key=lambda view: view.outcome.rank))


def _view(
    name: str,
    demand: Mapping[str, Value],
    sets: Sequence[LimitSet],
    verdicts: Sequence[Verdict],
    pieces: Sequence[Piece],
) -> VariableView:
    allows = []
    for limits, verdict in zip(sets, verdicts, strict=True):
        found = [f for f in verdict.findings if f.variable == name]
        allows += [Allows(limits.label, _limit_of(limits, f), f) for f in found]
    value = demand.get(name)
    says = said(name, value, System.SI) if value is not None else ""
    return VariableView(name, label_of(name), says, _outcome_of(name, pieces), tuple(allows), value)


def _limit_of(limits: LimitSet, finding: Finding) -> Limit:
    """The limit that a finding was made from."""
    return next(
        limit
        for limit in limits.limits
        if (limit.variable, limit.clause, limit.because, limit.allowed)
        == (finding.variable, finding.clause, finding.because, finding.limit)
    )


def _outcome_of(name: str, pieces: Sequence[Piece]) -> Outcome:
    """Covered unless the nearest record of an uncovered piece misses by this variable."""
    worst = Outcome.COVERED
    for piece in pieces:
        if not piece.verdicts:
            return Outcome.NOT_STATED
        nearest = _nearest(piece)
        for found in nearest.worst:
            if found.variable == name and found.outcome.rank < worst.rank:
                worst = found.outcome
    return worst


def _together(outcomes: Sequence[Outcome]) -> Outcome:
    return min(outcomes, key=lambda outcome: outcome.rank) if outcomes else Outcome.NOT_STATED
