"""The parts of the bulk answer that concern procedures: their own ranges, their records, and the gates before these.

The limit sets of all records are bits of a mask, those of a procedure side by side, and the last of them stands for the
procedure. A record that earns no range is a row only where its procedure has no other; a procedure without records has
one row that says so.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from codes.columns import Codes, Columns, Failing, Fill, Judged, Sorted
from codes.cover import is_covered_together
from codes.limits import LimitSet
from codes.masks import Runs, any_of, each_bit
from codes.values import Value
from joints.gates import Gate
from joints.merge import DRIVERS, counts, fill_of, merged
from wps.offers import ProcedureOffer, RecordOffer

Demand = Mapping[str, Value]
RecordKey = tuple[int, str, tuple[int, ...]]


def record_key(record: RecordOffer) -> RecordKey:
    """What tells records apart: a prequalified procedure has none of its own, and its code takes the place; records
    that are combined are known by their parts.
    """
    return record.record_id, record.code, tuple(part.record_id for part in record.parts)


class Windows:
    """The ranges that the procedures state themselves, for demands that own the same."""

    def __init__(self, limits: Sorted, owned: frozenset[str]) -> None:
        self._columns = Columns(limits, counts=lambda name, demand: counts(name, demand, owned))

    @staticmethod
    def limits(procedures: Sequence[ProcedureOffer], runs: Runs) -> Sorted:
        """The ranges, which are the same whatever a demand owns."""
        rows = ((1 << last, offer.window.limits) for last, offer in zip(runs.lasts, procedures, strict=True))
        return Sorted(rows, free=True, more={name: driver.variable for name, driver in DRIVERS.items()})

    def judged(self, demand: Demand, codes: Codes) -> Judged:
        """What they say; a procedure that says nothing of the demand does not hold it."""
        return self._columns.judged(demand, codes)


@dataclass(frozen=True, slots=True)
class Row:
    """One limit set of a record (None where it earns no range, or where there is no record) of one procedure."""

    procedure: int
    record: RecordOffer | None
    limits: LimitSet | None


class Rows:
    """The rows of all procedures, and which belong to which."""

    def __init__(self, procedures: Sequence[ProcedureOffer]) -> None:
        self.procedures = procedures
        each = [_rows(index, offer) for index, offer in enumerate(procedures)]
        self.all = [row for rows in each for row in rows]
        self.runs = Runs(map(len, each))
        self.several = any_of(1 << last for last, rows in zip(self.runs.lasts, each, strict=True) if len(rows) > 1)
        """The procedures with several rows."""
        self.sets = sum(1 << i for i, row in enumerate(self.all) if row.limits is not None)
        self._silent = sum(1 << i for i, row in enumerate(self.all) if row.limits is None and row.record is not None)
        self._without = sum(1 << i for i, row in enumerate(self.all) if row.record is None)
        # A limit set without limits covers nothing, and says no more than that.
        self._empty = sum(1 << i for i, row in enumerate(self.all) if row.limits is not None and not row.limits.limits)
        self.unfit = self._silent | self._without | self._empty
        self.limits = Sorted(
            (1 << i, row.limits.limits if row.limits is not None else ()) for i, row in enumerate(self.all)
        )
        self._columns: dict[frozenset[str], Columns] = {}

    @property
    def failing(self) -> tuple[Failing, ...]:
        """What keeps rows without a range from covering anything."""
        return (("records", self._without, self._silent),) if self._without | self._silent else ()

    def judged(self, demand: Demand, codes: Codes, owned: frozenset[str]) -> Judged:
        """What the limit sets say to the demand as it is welded to their procedures."""
        columns = self._columns.get(owned)
        if columns is None:
            columns = self._columns[owned] = Columns(self.limits, self._filling(owned))
        return columns.judged(demand, codes)

    def _filling(self, owned: frozenset[str]) -> Fill:
        """What the rows fill in: what their procedures state of a process beyond what the joint owns."""
        known: dict[Value | None, list[tuple[Mapping[str, Value], int]]] = {}

        def fill(process: Value | None) -> list[tuple[Mapping[str, Value], int]]:
            if process not in known:
                said: Demand = {} if process is None else {"process": process}
                alike: dict[frozenset[tuple[str, Value]], list[int]] = {}
                for offer, rows in zip(self.procedures, self.runs.rows, strict=True):
                    alike.setdefault(frozenset(fill_of(offer, said, owned).items()), []).append(rows)
                known[process] = [(dict(items), any_of(rows)) for items, rows in alike.items()]
            return known[process]

        return fill

    def together(
        self, procedure: int, usable: int, failing: Sequence[Failing], demand: Demand, owned: frozenset[str]
    ) -> bool:
        """True where several limit sets of a procedure cover the demand together; `failing`: what keeps them."""
        rows = list(each_bit(usable & self.runs.rows[procedure]))
        sets = [limits for row in rows if (limits := self.all[row].limits) is not None]
        if len(sets) < 2:
            return False
        fails = [{name for name, outside, unstated in failing if (outside | unstated) >> row & 1} for row in rows]
        return is_covered_together(merged(self.procedures[procedure], demand, owned), sets, fails)


def _rows(index: int, offer: ProcedureOffer) -> list[Row]:
    found = [Row(index, record, limits) for record in offer.records for limits in record.sets]
    silent = [Row(index, record, None) for record in offer.records]
    return found or silent or [Row(index, None, None)]


class Gates:
    """The gates before all records, for one kind of question (job and phase), by row; alike records share a gate."""

    def __init__(self, rows: Rows, gates: Mapping[RecordKey, Gate | None]) -> None:
        shared: dict[int, tuple[Gate, list[int]]] = {}
        for index, row in enumerate(rows.all):
            gate = gates[record_key(row.record)] if row.record is not None else None
            if gate is not None:
                shared.setdefault(id(gate), (gate, []))[1].append(1 << index)
        each = list(shared.values())
        self.limits = [limit for gate, _ in each for limit in gate.limits]
        limits = Sorted((any_of(masks), gate.limits) for gate, masks in each)
        filled = [(gate.extra, any_of(masks)) for gate, masks in each]
        self._columns = Columns(limits, lambda process: filled)

    def judged(self, demand: Demand, codes: Codes) -> Judged:
        """What keeps the gates shut."""
        return self._columns.judged(demand, codes)
