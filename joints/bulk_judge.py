"""One phase answered by masks: which procedures cover it, who may weld it, and where nothing does, what comes nearest.

Equal in every answer to joints.coverage, which explains it; a property test holds the two together.
"""

from collections.abc import Hashable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import count

from codes.columns import Codes, Failing, Judged, merged
from codes.limits import Limit
from codes.masks import Counts, each_bit
from codes.readings import Settings
from codes.slots import Slots
from codes.values import Value
from codes.verdict import Outcome
from joints.bulk_people import NOBODY, Able, Holders, People, outcome_of
from joints.bulk_rows import Demand, Gates, RecordKey, Rows, Windows, record_key
from joints.demands import PhaseDemand, Requirements
from joints.gates import Gate, record_facts
from joints.merge import DRIVERS, owned_by, welded
from joints.misses import Key
from joints.people import as_welded
from joints.requirements import record_gate
from qualifications.offers import CertificateOffer
from wps.offers import ProcedureOffer, RecordOffer

ALWAYS_READ = frozenset({"process", "mechanisation", "phase", "weld_detail", "position", "weld_type", "steels"})
"""What decides who is asked and what is filled in, beside what limits read."""
DECIDES = frozenset(driver.variable for driver in DRIVERS.values())


class Coder:
    """A number for each value, the same for values that no limit tells apart. No number is used twice."""

    def __init__(self, slots: Slots, numbers: Iterator[int] | None = None) -> None:
        self._slots, self._fresh = slots, numbers or count()
        self._known: dict[str, dict[Value, int]] = {}
        self._numbers: dict[object, int] = {}

    def minding(self, limits: Iterable[Limit]) -> "Coder":
        """One that minds more limits; itself where these tell nothing more apart."""
        finer = self._slots.joined(limits)
        return self if finer is self._slots else Coder(finer, self._fresh)

    def codes(self, demand: Demand) -> dict[str, int]:
        """What stands for the values of a demand that somebody reads."""
        found = {}
        for name, value in demand.items():
            known = self._known.get(name)
            if known is None:
                read = name in self._slots.read or name in ALWAYS_READ or name in DECIDES
                known = self._known[name] = {} if read else _UNREAD
            if known is not _UNREAD:
                found[name] = known[value] if value in known else self._new(name, value, known)
        return found

    def _new(self, name: str, value: Value, known: dict[Value, int]) -> int:
        key = name, self._slots.of(name, value)
        if key not in self._numbers:
            self._numbers[key] = next(self._fresh)
        known[value] = self._numbers[key]
        return known[value]


_UNREAD: dict[Value, int] = {}


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
    """

    demand: Demand
    window: Judged
    failing: tuple[Failing, ...]
    fit: int
    usable: int
    parts: list[int] | None = None


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
        own = [limit for offer in procedures for limit in offer.window.limits]
        held = [limit for offer in procedures for limits in offer.sets for limit in limits.limits]
        self.coder = Coder(Slots().joined([*own, *held, *self.people.limits]))
        self._records = {record_key(r): r for offer in procedures for r in offer.records}
        self._ranges = Windows.limits(procedures)
        self._windows: dict[frozenset[str], Windows] = {}
        self._serving: dict[str, int] = {}
        for index, offer in enumerate(procedures):
            for phase in offer.serves:
                self._serving[phase] = self._serving.get(phase, 0) | 1 << index
        self._filled: dict[Hashable, tuple[int, Mapping[str, Value]]] = {}
        self._alike: dict[Hashable, int] = {}
        self._read = frozenset(w for limit in self.people.limits for w in _read_by(limit)) | ALWAYS_READ

    def gates_of(self, asked: Requirements, demand: Demand, phase: str) -> dict[RecordKey, Gate | None]:
        """What decides of each record whether it counts for a job."""

        known: dict[Hashable, Gate | None] = {}

        def gate(record: RecordOffer) -> Gate | None:
            alike = tuple((one.code, one.level, tuple(sorted(record_facts(one).items()))) for one in record.each)
            if alike not in known:
                known[alike] = record_gate(record, asked, demand, phase, self.on, self.settings)
            return known[alike]

        return {key: gate(record) for key, record in self._records.items()}

    def serving(self, phase: str) -> int:
        """The procedures that serve a phase."""
        return self._serving.get(phase, 0)

    def said(self, asked: Question) -> list[Said]:
        """What everything says to each process of the phase."""
        if asked.owned not in self._windows:
            self._windows[asked.owned] = Windows(self._ranges, asked.owned)
        return [self._said(asked, demand, codes) for demand, codes in asked.each]

    def _said(self, asked: Question, demand: Demand, codes: Codes) -> Said:
        window = self._windows[asked.owned].judged(demand, codes)
        rows = self.rows.judged(demand, codes, asked.owned)
        gates = asked.gates.judged(demand, codes) if asked.gates is not None else _OPEN
        failing = (*rows.failing, *gates.failing, *self.rows.failing)
        fit = self.rows.sets & ~(rows.bad | gates.bad | self.rows.unfit)
        return Said(demand, window, failing, fit, self.rows.sets & ~gates.bad & ~rows.whole)

    def covering(self, asked: Question, said: Sequence[Said]) -> list[int]:
        """The procedures that cover the phase."""
        inside = self.serving(asked.phase.phase)
        for one in said:
            inside &= ~one.window.bad & one.window.speaks
        return [i for i in each_bit(inside) if self._all_backed(i, asked, said)]

    def _all_backed(self, procedure: int, asked: Question, said: Sequence[Said]) -> bool:
        return all(self._backed(procedure, one, asked) for one in said)

    def _backed(self, procedure: int, said: Said, asked: Question) -> bool:
        """True where one limit set of the procedure's records covers the demand, or several do together."""
        rows = self.rows.of[procedure]
        if said.fit & rows:
            return True
        usable = said.usable & rows
        if usable & (usable - 1) == 0:
            return False
        if said.parts is None:
            said.parts = list(self._parts(said, asked))
        if not all(part & usable for part in said.parts):
            return False
        return self.rows.together(procedure, usable, said.demand, asked.owned)

    def _parts(self, said: Said, asked: Question) -> Iterator[int]:
        """For each single value that the demand states with others: the rows that may cover it."""
        for name, value in said.demand.items():
            for atom in value if isinstance(value, tuple) else ():
                part = {**said.demand, name: atom}
                yield ~self.rows.judged(part, asked.coder.codes(part), asked.owned).whole

    def able(self, asked: Question, procedures: Sequence[int]) -> Able:
        """Who covers the phase as it is welded to one of the procedures, or to none where none is named."""
        code, found = asked.requirements.procedure_code, NOBODY
        if not procedures:
            return self.people.able(self._boxes(asked, None), code)
        for boxes in self._different(asked, procedures):
            found = found | self.people.able(boxes, code)
        return found

    def holders(self, asked: Question, procedures: Sequence[int]) -> Holders:
        """Which certificates cover the phase as welded to one of the procedures, on any day on which they are valid."""
        code = asked.requirements.procedure_code
        return tuple(dict.fromkeys(self.people.holders(boxes, code) for boxes in self._different(asked, procedures)))

    def _different(self, asked: Question, procedures: Sequence[int]) -> Iterator[list[tuple[Demand, Codes]]]:
        """What people see of the phase, procedure by procedure; of most it is the same."""
        met: set[tuple[int, ...]] = set()
        for index in procedures:
            alike = tuple([self._fill(demand, asked.owned, index)[0] for demand, _ in asked.each])
            if alike not in met:
                met.add(alike)
                yield self._boxes(asked, index)

    def nearest_certificate(self, asked: Question, procedure: int | None) -> tuple[CertificateOffer, Outcome] | None:
        """The certificate that comes nearest to the phase as welded to a procedure, and its answer."""
        return self.people.nearest(self._boxes(asked, procedure), asked.requirements.procedure_code)

    def _boxes(self, asked: Question, procedure: int | None) -> list[tuple[Demand, Codes]]:
        """What people see of the phase, as far as some certificate reads it."""
        boxes = as_welded([self._box(demand, asked.owned, procedure) for demand, _ in asked.each])
        return [(box, asked.coder.codes(box)) for box in boxes]

    def _box(self, demand: Demand, owned: frozenset[str], procedure: int | None) -> dict[str, Value]:
        stated = {name: value for name, value in demand.items() if name in self._read}
        if procedure is None:
            return stated
        return {**self._fill(demand, owned, procedure)[1], **stated}

    def _fill(self, demand: Demand, owned: frozenset[str], procedure: int) -> tuple[int, Mapping[str, Value]]:
        """What a procedure fills in that people look at; procedures that fill in the same share a number."""
        key = procedure, demand.get("process"), "phase" in demand, owned
        known = self._filled.get(key)
        if known is None:
            plain = {name: demand[name] for name in ("process", "phase") if name in demand}
            whole = welded(self.procedures[procedure], plain, owned)
            filled = {n: v for n, v in whole.items() if n in self._read and n not in plain}
            number = self._alike.setdefault(tuple(sorted(filled.items(), key=_name)), len(self._alike))
            known = self._filled[key] = number, filled
        return known

    def nearest(self, asked: Question, said: Sequence[Said]) -> tuple[int, Outcome] | None:
        """The procedure that comes nearest and its answer, where none covers; None where none serves."""
        serving = self.serving(asked.phase.phase)
        windows = merged(found for one in said for found in one.window.failing)
        outside = Counts(out for out, _ in windows.values())
        unstated = Counts(un & ~out for out, un in windows.values())
        best: tuple[Key, int] | None = None
        # A procedure misses at least what its own ranges miss, so those that are nearest by these come first.
        while serving:
            group = unstated.least(outside.least(serving))
            first = next(each_bit(group))
            least = True, outside.of(first), unstated.of(first)
            if best is not None and best[0] < least:
                break
            serving &= ~group
            for index in each_bit(group):
                if best is None or (least, index) < best:
                    mine = self._key(index, windows, said, asked), index
                    best = mine if best is None or mine < best else best
        return (best[1], outcome_of(best[0])) if best is not None else None

    def _key(self, index: int, windows: Mapping[str, tuple[int, int]], said: Sequence[Said], asked: Question) -> Key:
        """How far off a procedure that does not cover the phase is."""
        outside = {name for name, (out, _) in windows.items() if out >> index & 1}
        unstated = {name for name, (_, un) in windows.items() if un >> index & 1}
        for one in said:
            if not self._backed(index, one, asked):
                missed = self._best_row(index, one.failing)
                outside |= missed[0]
                unstated |= missed[1]
        return True, len(outside), len(unstated - outside)

    def _best_row(self, index: int, failing: Sequence[Failing]) -> tuple[set[str], set[str]]:
        """What the limit set of a procedure's records that comes nearest misses; the first of equals."""
        rows = self.rows.of[index]
        mine = [(name, out & rows, un & rows) for name, out, un in failing if (out | un) & rows]
        found: list[tuple[int, int, int, tuple[set[str], set[str]]]] = []
        for row in each_bit(rows):
            outside = {name for name, out, _ in mine if out >> row & 1}
            unstated = {name for name, _, un in mine if un >> row & 1}
            found.append((len(outside), len(unstated - outside), row, (outside, unstated)))
        return min(found)[3]


_OPEN = Judged(0, 0, 0, ())


def _name(item: tuple[str, Value]) -> str:
    return item[0]


def _read_by(limit: Limit) -> tuple[str, ...]:
    return limit.variable, *(when.variable for when in limit.when)


def question(phase: PhaseDemand, asked: Requirements, coder: Coder, codes: Sequence[Codes], gates: Gates) -> Question:
    """The phase as it is asked."""
    each = tuple(zip(phase.demands, codes, strict=True))
    return Question(phase, asked, each, gates, owned_by(phase.demands), coder)
