"""One phase answered by masks: which procedures cover it, who may weld it, and where nothing does, what comes nearest.

Equal in every answer to joints.coverage, which explains it; a property test holds the two together.
"""

from collections.abc import Hashable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property

from codes.columns import Codes, Judged, merged
from codes.masks import Counts, any_of, each_bit
from codes.readings import Settings
from codes.values import Value
from codes.verdict import Outcome
from joints.bulk_coder import Coder
from joints.bulk_people import NOBODY, Able, Box, Holders, People, outcome_of
from joints.bulk_rows import Demand, Gates, RecordKey, Rows, Windows, record_key
from joints.demands import PhaseDemand, Requirements
from joints.gates import Gate, record_facts
from joints.merge import owned_by, welded
from joints.requirements import could_count, record_gate
from qualifications.offers import CertificateOffer
from wps.offers import ProcedureOffer, RecordOffer


@dataclass(frozen=True, slots=True)
class Question:
    """A phase with what stands for its values, and what its job asks of the evidence."""

    phase: PhaseDemand
    requirements: Requirements
    each: tuple[tuple[Demand, Codes], ...]
    gates: Gates | None
    owned: frozenset[str]
    coder: Coder


@dataclass(slots=True)
class Said:
    """What windows, limit sets and gates say to one process of a phase. `fit`, `usable`: rows that cover it alone,
    and rows that may cover it together with others. `parts`: rows that may cover each single value of several.
    `decided`: whether the rows of a procedure cover it together, where that was asked.
    """

    demand: Demand
    window: Judged
    ranges: Judged
    gates: Judged
    fit: int
    usable: int
    parts: list[int] | None = None
    decided: dict[int, bool] = field(default_factory=dict)


class MaskJudge:
    """The offers of one day as masks."""

    def __init__(
        self,
        procedures: Sequence[ProcedureOffer],
        certificates: Sequence[CertificateOffer],
        on: date,
        settings: Settings,
    ) -> None:
        self.procedures, self.on, self.settings = procedures, on, settings
        self.rows, self.people = Rows(procedures), People(certificates, on)
        self._records = {record_key(r): r for offer in procedures for r in offer.records}
        self._ranges = Windows.limits(procedures, self.rows.runs)
        self.coder = Coder(self.people.slots.joined([*self._ranges.limits, *self.rows.limits.limits]))
        self._windows: dict[frozenset[str], Windows] = {}
        self._serving: dict[tuple[str, str], int] = {}
        self._fills: dict[Hashable, _Fills] = {}

    def gates_of(self, asked: Requirements, demand: Demand, phase: str) -> dict[RecordKey, Gate | None]:
        """What decides of each record whether it counts for a job."""

        known: dict[Hashable, Gate | None] = {}
        for alike, record in self._facts:
            if alike not in known:
                known[alike] = record_gate(record, asked, demand, phase, self.on, self.settings)
        return {key: known[alike] for key, (alike, _) in zip(self._records, self._facts, strict=True)}

    @cached_property
    def _facts(self) -> list[tuple[Hashable, RecordOffer]]:
        """The records in their order, each with all that decides about its gate."""

        def facts(record: RecordOffer) -> Hashable:
            return tuple([(one.code, one.level, tuple(sorted(record_facts(one).items()))) for one in record.each])

        return [(facts(record), record) for record in self._records.values()]

    def serving(self, asked: Question) -> int:
        """The procedures for a phase that could count for the job, each by the bit of its last row."""
        phase, code = key = asked.phase.phase, asked.requirements.procedure_code
        if key not in self._serving:
            rows = zip(self.rows.runs.lasts, self.procedures, strict=True)
            able = (1 << last for last, one in rows if phase in one.serves and could_count(one, code))
            self._serving[key] = any_of(able)
        return self._serving[key]

    def said(self, asked: Question) -> list[Said]:
        """What everything says to each process of the phase."""
        if asked.owned not in self._windows:
            self._windows[asked.owned] = Windows(self._ranges, asked.owned)
        return [self._said(asked, demand, codes) for demand, codes in asked.each]

    def _said(self, asked: Question, demand: Demand, codes: Codes) -> Said:
        window = self._windows[asked.owned].judged(demand, codes)
        rows = self.rows.judged(demand, codes, asked.owned)
        gates = asked.gates.judged(demand, codes) if asked.gates is not None else _OPEN
        fit = self.rows.sets & ~(rows.bad | gates.bad | self.rows.unfit)
        return Said(demand, window, rows, gates, fit, self.rows.sets & ~gates.bad & ~rows.whole)

    def covering(self, asked: Question, said: Sequence[Said]) -> int:
        """The procedures that cover the phase, each by the bit of its last row."""
        inside = self.serving(asked)
        for one in said:
            inside &= ~one.window.bad & one.window.speaks
        for one in said:
            alone = self.rows.runs.any(one.fit) & inside
            together = self._perhaps(one, asked, inside & ~alone)
            inside = alone | any_of(1 << last for last in each_bit(together) if self._together(last, one, asked))
        return inside

    def offers(self, chosen: int) -> tuple[ProcedureOffer, ...]:
        """Procedures by their bits."""
        return tuple([self.procedures[self.rows.runs.things[last]] for last in each_bit(chosen)])

    def _perhaps(self, said: Said, asked: Question, among: int) -> int:
        """Those of some procedures of which several limit sets may cover the demand together."""
        any_of_run = self.rows.runs.any
        left = among & self.rows.several & any_of_run(said.usable)
        if not left:
            return 0
        if said.parts is None:
            said.parts = list(self._parts(said, asked))
        for part in said.parts:
            left &= any_of_run(part & said.usable)
        return left

    def _parts(self, said: Said, asked: Question) -> Iterator[int]:
        """For each single value that the demand states with others: the rows that may cover it."""
        for name, value in said.demand.items():
            for atom in value if isinstance(value, tuple) else ():
                part = {**said.demand, name: atom}
                yield ~self.rows.judged(part, asked.coder.codes(part), asked.owned).whole

    def _together(self, last: int, said: Said, asked: Question) -> bool:
        """True where several limit sets of a procedure cover the demand together."""
        known = said.decided.get(last)
        if known is None:
            procedure, failing = self.rows.runs.things[last], said.ranges.failing
            known = self.rows.together(procedure, said.usable, failing, said.demand, asked.owned)
            said.decided[last] = known
        return known

    def able(self, asked: Question, procedures: int) -> Able:
        """Who covers the phase as it is welded to one of the procedures, or to none where none is named."""
        code, found = asked.requirements.procedure_code, NOBODY
        for boxes in self._different(asked, procedures):
            found = found | self.people.able(boxes, code)
        return found

    def holders(self, asked: Question, procedures: int) -> Holders:
        """Which certificates cover the phase as welded to one of the procedures, on any day on which they are valid."""
        code = asked.requirements.procedure_code
        ways = (self.people.holders(boxes, code) for boxes in self._different(asked, procedures)) if procedures else ()
        return tuple(dict.fromkeys(ways))

    def nearest_certificate(self, asked: Question, procedures: int) -> tuple[CertificateOffer, Outcome] | None:
        """The certificate that comes nearest to the phase as welded to the first of some procedures, and its answer."""
        boxes = next(iter(self._different(asked, procedures & -procedures)))
        return self.people.nearest(boxes, asked.requirements.procedure_code)

    def _different(self, asked: Question, procedures: int) -> Iterator[list[Box]]:
        """What people see of the phase, procedure by procedure; of most it is the same. One where none is named."""
        if not procedures:
            yield self.people.boxes([(demand, _NOTHING) for demand, _ in asked.each])
            return
        alike: list[tuple[int, tuple[Demand, ...]]] = [(procedures, ())]
        for demand, _ in asked.each:
            fills = self._filling(demand, asked.owned)
            alike = [
                (both, (*before, filled))
                for mask, before in alike
                for filled, same in fills.of(mask)
                if (both := mask & same)
            ]
        for _, filled in alike:
            yield self.people.boxes([(demand, more) for (demand, _), more in zip(asked.each, filled, strict=True)])

    def _filling(self, demand: Demand, owned: frozenset[str]) -> "_Fills":
        """What the procedures fill in for demands of one process."""
        key = demand.get("process"), demand.get("phase"), owned
        known = self._fills.get(key)
        if known is None:
            plain = {name: demand[name] for name in ("process", "phase") if name in demand}
            known = self._fills[key] = _Fills(self.rows, plain, owned, self.people.read)
        return known

    def nearest(self, asked: Question, said: Sequence[Said]) -> tuple[int, Outcome] | None:
        """The procedure that comes nearest, by its bit, and its answer, where none covers; None where none serves."""
        serving, any_of_run = self.serving(asked), self.rows.runs.any
        if not serving:
            return None
        windows = merged(found for one in said for found in one.window.failing)
        missed = [self._missed(one) for one in said]
        alone = [any_of_run(one.fit) & serving for one in said]
        perhaps = [self._perhaps(one, asked, serving & ~able) for one, able in zip(said, alone, strict=True)]
        while True:
            # Those whose records may cover it together are taken to do so until they come nearest.
            outside, unstated = _counted(windows, missed, [a | p for a, p in zip(alone, perhaps, strict=True)])
            least = unstated.least(outside.least(serving))
            first = (least & -least).bit_length() - 1
            asks = [index for index, mask in enumerate(perhaps) if mask >> first & 1]
            if not asks:
                return 1 << first, outcome_of((True, outside.of(first), unstated.of(first)))
            for index in asks:
                perhaps[index] &= ~(1 << first)
                if self._together(first, said[index], asked):
                    alone[index] |= 1 << first

    def _missed(self, said: Said) -> dict[str, tuple[int, int]]:
        """What the limit set of each procedure's records that comes nearest misses, the first of equals: by variable
        the procedures of which it is outside, and of which it is not stated.
        """
        runs = self.rows.runs
        found = merged((*self.rows.failing, *said.gates.failing, *said.ranges.failing))
        counts = Counts(out for out, _ in found.values()), Counts(un & ~out for out, un in found.values())
        best = runs.least(counts)
        return {name: (runs.any(out & best), runs.any(un & best)) for name, (out, un) in found.items()}


class _Fills:
    """What the procedures fill in that people look at, for demands of one process; worked out when it is asked."""

    def __init__(self, rows: Rows, plain: Demand, owned: frozenset[str], read: frozenset[str]) -> None:
        self._rows, self._plain, self._owned, self._read = rows, plain, owned, read
        self._known = 0
        self._alike: dict[Hashable, tuple[Demand, int]] = {}

    def of(self, procedures: int) -> list[tuple[Demand, int]]:
        """What procedures fill in, and which fill in the same."""
        for last in each_bit(procedures & ~self._known):
            offer = self._rows.procedures[self._rows.runs.things[last]]
            whole = welded(offer, self._plain, self._owned)
            filled = {n: v for n, v in whole.items() if n in self._read and n not in self._plain}
            key = tuple(sorted(filled.items(), key=_name))
            self._alike[key] = filled, self._alike.get(key, (filled, 0))[1] | 1 << last
        self._known |= procedures
        return list(self._alike.values())


def _counted(
    windows: Mapping[str, tuple[int, int]], missed: Sequence[Mapping[str, tuple[int, int]]], backed: Sequence[int]
) -> tuple[Counts, Counts]:
    """In how many variables each procedure is outside and not stated: its own ranges, and its records, which count
    where they do not back it.
    """
    whole = dict(windows)
    for found, able in zip(missed, backed, strict=True):
        for name, (out, un) in found.items():
            before = whole.get(name, (0, 0))
            whole[name] = before[0] | out & ~able, before[1] | un & ~able
    return Counts(out for out, _ in whole.values()), Counts(un & ~out for out, un in whole.values())


_NOTHING: Demand = {}
_OPEN = Judged(0, 0, 0, ())


def _name(item: tuple[str, Value]) -> str:
    return item[0]


def question(phase: PhaseDemand, asked: Requirements, coder: Coder, codes: Sequence[Codes], gates: Gates) -> Question:
    """The phase as it is asked."""
    each = tuple(zip(phase.demands, codes, strict=True))
    return Question(phase, asked, each, gates, owned_by(phase.demands), coder)
