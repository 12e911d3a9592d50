"""The parts of the bulk answer: windows, records and certificates as bit masks by variable."""

from collections.abc import Mapping, Sequence
from datetime import date

from codes.bulk import Compiled
from codes.check import outcome_of
from codes.clauses import Clause, Mark
from codes.limits import Free, Limit, LimitSet
from codes.values import Value
from codes.verdict import Outcome
from joints.answers import CertificateAnswer
from joints.demands import PhaseDemand
from joints.gates import Gate
from joints.merge import counts, owned_by
from joints.misses import COVERED, Key, Misses, misses
from joints.people import as_welded, certificate_answer, kinds_wanted, nearest_certificate, validity_misses
from joints.requirements import system_of
from qualifications.offers import CertificateOffer
from wps.offers import ProcedureOffer, RecordOffer

Demand = Mapping[str, Value]
RecordKey = tuple[int, str]


def bits(mask: int) -> list[int]:
    """The indexes of the set bits. Example: bits(0b101) is [0, 2]."""
    found = []
    while mask:
        low = mask & -mask
        found.append(low.bit_length() - 1)
        mask ^= low
    return found


class Windows:
    """The ranges that the procedures state, by variable; bit i stands for procedure i."""

    def __init__(self, procedures: Sequence[ProcedureOffer]) -> None:
        self._all = (1 << len(procedures)) - 1
        self._limits: dict[str, list[tuple[int, Limit]]] = {}
        for index, offer in enumerate(procedures):
            for limit in offer.window.limits:
                self._limits.setdefault(limit.variable, []).append((index, limit))
        self._reads = {name: _read_by(name, found) for name, found in self._limits.items()}
        self._known: dict[tuple[str, tuple[Value | None, ...]], tuple[int, int, int]] = {}
        self._serving: dict[str, int] = {}
        for index, offer in enumerate(procedures):
            for phase in offer.serves:
                self._serving[phase] = self._serving.get(phase, 0) | 1 << index

    def serving(self, phase: str) -> int:
        """The procedures that serve a phase."""
        return self._serving.get(phase, 0)

    def holding(self, demand: Demand, owned: frozenset[str]) -> int:
        """The procedures whose own ranges hold the demand; one that says nothing of it holds nothing."""
        holding, speaking = self._all, 0
        for variable in self._limits:
            if variable in demand or counts(variable, demand, owned):
                outside, unstated, speaks = self._column(variable, demand)
                holding &= ~(outside | unstated)
                speaking |= speaks
        return holding & speaking

    def keys(self, phase: PhaseDemand) -> list[Key]:
        """How far the own ranges of each procedure that serves the phase are off; as `window_misses(...).key`."""
        owned = owned_by(phase.demands)
        covered = self._all
        failing: list[tuple[str, int, int]] = []
        for demand in phase.demands:
            covered &= self.holding(demand, owned)
            columns = ((v, self._column(v, demand)) for v in self._limits if v in demand or counts(v, demand, owned))
            failing += [(variable, out, open_) for variable, (out, open_, _) in columns if out | open_]
        outside, unstated = by_index(failing)
        none: set[str] = set()
        return [
            (not covered >> i & 1, len(out := outside.get(i, none)), len(unstated.get(i, none) - out))
            for i in bits(self.serving(phase.phase))
        ]

    def misses(self, index: int, offer: ProcedureOffer, demand: Demand, owned: frozenset[str]) -> Misses:
        """What the own ranges of one procedure miss of one demand."""
        if self.holding(demand, owned) >> index & 1:
            return COVERED
        outside, unstated = set[str](), set[str]()
        for limit in offer.window.limits:
            if limit.variable in demand or counts(limit.variable, demand, owned):
                out, open_, _ = self._column(limit.variable, demand)
                outside |= {limit.variable} if out >> index & 1 else set()
                unstated |= {limit.variable} if open_ >> index & 1 else set()
        return looked_up(demand, offer.window.limits, outside, unstated)

    def _column(self, variable: str, demand: Demand) -> tuple[int, int, int]:
        """(outside, not stated, speaking) as masks."""
        key = variable, tuple(map(demand.get, self._reads[variable]))
        known = self._known.get(key)
        if known is None:
            outside = unstated = speaks = 0
            for index, limit in self._limits[variable]:
                outcome = outcome_of(demand, limit)
                speaks |= (outcome is not None) << index
                outside |= (outcome is Outcome.OUTSIDE) << index
                unstated |= (outcome is Outcome.NOT_STATED) << index
            known = self._known[key] = outside, unstated, speaks
        return known


def _read_by(variable: str, limits: Sequence[tuple[int, Limit]]) -> tuple[str, ...]:
    """The variables that decide what some limits on a variable say: itself, and those of their conditions."""
    return tuple({variable: None} | {when.variable: None for _, limit in limits for when in limit.when})


class Records:
    """The limit sets of the records of one procedure; a bit for each."""

    def __init__(self, offer: ProcedureOffer) -> None:
        self.owners = [record for record in offer.records for _ in record.sets]
        self.compiled = Compiled([limits for record in offer.records for limits in record.sets])

    def misses(self, box: Demand) -> list[Misses]:
        """What each limit set misses."""
        outside, unstated = by_index(self.compiled.failing(box))
        return [self._missed(i, box, outside.get(i), unstated.get(i)) for i in range(len(self.owners))]

    def _missed(self, index: int, box: Demand, outside: set[str] | None, unstated: set[str] | None) -> Misses:
        if outside is None and unstated is None:
            return COVERED if self.compiled.all >> index & 1 else Misses(False)
        return looked_up(box, self.compiled.sets[index].limits, outside or set(), unstated or set())


def record_key(record: RecordOffer) -> RecordKey:
    """What tells records apart: a prequalified procedure has none of its own, and its code takes the place."""
    return record.record_id, record.code


class Gates:
    """The gates before all records, for one kind of question (job and phase); a bit for each record."""

    def __init__(self, gates: Mapping[RecordKey, Gate]) -> None:
        self._order = list(gates)
        self._gates = gates
        # A limit that is always met, so that gates whose conditions are not met stand open.
        always = Limit("standard", Free(), Clause("Register", "gates", Mark.OWN))
        self._compiled = Compiled([LimitSet(gate.label, (*gate.limits, always)) for gate in gates.values()])
        self._extra = {name: value for gate in gates.values() for name, value in gate.extra.items()}

    def misses(self, demand: Demand) -> dict[RecordKey, Misses]:
        """What keeps the gate of each record shut, by the record's key."""
        outside, unstated = by_index(self._compiled.failing({**self._extra, **demand}))
        return {record: self._missed(i, record, demand, outside, unstated) for i, record in enumerate(self._order)}

    def _missed(
        self,
        index: int,
        record: RecordKey,
        demand: Demand,
        outside: Mapping[int, set[str]],
        unstated: Mapping[int, set[str]],
    ) -> Misses:
        if index not in outside and index not in unstated:
            return COVERED
        whole = {**self._extra, **demand}
        limits = self._gates[record].limits
        return looked_up(whole, limits, outside.get(index, set()), unstated.get(index, set()))


def looked_up(demand: Demand, limits: Sequence[Limit], outside: set[str], unstated: set[str]) -> Misses:
    """Misses by variable; which limits they are is found out when somebody asks, among those of these variables."""
    if not outside and not unstated:
        return Misses(False)
    failing = outside | unstated
    return Misses(
        False,
        frozenset(outside),
        frozenset(unstated),
        lambda: misses(demand, [limit for limit in limits if limit.variable in failing]).failing(),
    )


def by_index(failing: Sequence[tuple[str, int, int]]) -> tuple[dict[int, set[str]], dict[int, set[str]]]:
    """Masks by variable turned round: index -> the variables outside, and those not stated."""
    outside: dict[int, set[str]] = {}
    unstated: dict[int, set[str]] = {}
    for variable, out, open_ in failing:
        for index in bits(out):
            outside.setdefault(index, set()).add(variable)
        for index in bits(open_):
            unstated.setdefault(index, set()).add(variable)
    return outside, unstated


class _Group:
    """The certificates of one kind and family of codes; a bit for each limit set."""

    def __init__(self, offers: Sequence[CertificateOffer], on: date) -> None:
        self.offers = offers
        self.validity = [validity_misses(offer.validity.state(on)).key for offer in offers]
        self.owners = [index for index, offer in enumerate(offers) for _ in offer.sets]
        self.compiled = Compiled([limits for offer in offers for limits in offer.sets])

    def people(self, demand: Demand) -> set[int]:
        """Whoever covers the demand with a certificate that is valid."""
        owners = {self.owners[index] for index in self.compiled.covering(demand)}
        return {self.offers[owner].person_id for owner in owners if not self.validity[owner][0]}

    def nearest(self, demand: Demand) -> tuple[tuple[bool, Key], int] | None:
        """How far off, and the index of, the certificate that comes nearest; first of all of the right process."""
        outside, unstated = [0] * len(self.owners), [0] * len(self.owners)
        other_process = 0
        for variable, out, open_ in self.compiled.failing(demand):
            other_process |= out if variable == "process" else 0
            for index in bits(out):
                outside[index] += 1
            for index in bits(open_):
                unstated[index] += 1
        best: dict[int, tuple[Key, int]] = {}
        for index, owner in enumerate(self.owners):
            covers = self.compiled.all >> index & 1 and not outside[index] and not unstated[index]
            mine = (not covers, outside[index], unstated[index]), index
            best[owner] = min(best.get(owner, mine), mine)
        return self._nearest_owner(best, other_process)

    def _nearest_owner(
        self, best: Mapping[int, tuple[Key, int]], other_process: int
    ) -> tuple[tuple[bool, Key], int] | None:
        """Among certificates that earn a range; where none does, the first of all."""
        if not best:
            silent: Key = (True, 0, 1)
            return min((((False, _added(silent, key)), i) for i, key in enumerate(self.validity)), default=None)
        return min(
            ((bool(other_process >> index & 1), _added(key, self.validity[owner])), owner)
            for owner, (key, index) in best.items()
        )


def _added(first: Key, second: Key) -> Key:
    return first[0] or second[0], first[1] + second[1], first[2] + second[2]


class People:
    """All certificates, by the kind and family of codes that is asked for."""

    def __init__(self, certificates: Sequence[CertificateOffer], on: date) -> None:
        self._certificates, self._on = certificates, on
        self._groups: dict[tuple[frozenset[str], str], _Group] = {}

    def _group(self, demand: Demand, code: str) -> _Group:
        key = kinds_wanted(demand), system_of(code)
        if key not in self._groups:
            kinds, system = key
            chosen = [o for o in self._certificates if o.kind in kinds and system in ("", system_of(o.code))]
            self._groups[key] = _Group(chosen, self._on)
        return self._groups[key]

    def able(self, demands: Sequence[Demand], code: str) -> set[int]:
        """The people who cover every demand."""
        return set.intersection(*(self._able(demand, code) for demand in as_welded(demands)))

    def _able(self, demand: Demand, code: str) -> set[int]:
        return self._group(demand, code).people(demand)

    def nearest(
        self, offers: Sequence[CertificateOffer], demands: Sequence[Demand], procedure: str, on: date, code: str
    ) -> CertificateAnswer | None:
        """The certificate that comes nearest, as joints.people.nearest_certificate finds it."""
        best: tuple[tuple[bool, Key], CertificateOffer, Demand] | None = None
        for demand in as_welded(demands):
            if not kinds_wanted(demand):
                return nearest_certificate(offers, demands, procedure, on, code)
            group = self._group(demand, code)
            found = group.nearest(demand)
            if found is not None and (best is None or found[0] < best[0]):
                best = found[0], group.offers[found[1]], demand
        return certificate_answer(best[1], best[2], procedure, on) if best is not None else None
