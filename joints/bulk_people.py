"""The part of the bulk answer that concerns people: all certificates of a kind and family of codes, as bit masks."""

from collections.abc import Hashable, Mapping, Sequence
from datetime import date
from functools import cached_property

from codes.columns import Codes, Columns, Failing, Sorted, merged
from codes.masks import Counts, each_bit
from codes.slots import Slots
from codes.values import Value
from codes.verdict import Outcome
from joints.bulk_coder import Coder
from joints.misses import Key
from joints.people import as_welded, kinds_wanted, nearest_certificate, suitable, validity_misses
from joints.requirements import system_of
from qualifications.offers import CertificateOffer

Demand = Mapping[str, Value]
Box = tuple[Demand, Codes]
"""What people see of a weld by one process, as far as some certificate reads it, and what stands for its values."""
Rank = tuple[bool, Key]
"""How far off a certificate is: first of all whether it is for another process."""
Way = tuple[frozenset[int], ...]
"""Certificates by key, a set for each process of a weld: a person needs one of each."""
Holders = tuple[Way, ...]
"""Every way in which a weld can be made."""
WANTS = frozenset({"mechanisation", "phase", "process"})
"""What decides which certificates are asked, beside what their limits read."""


class _Group:
    """The certificates of one kind and family of codes; a bit for each limit set."""

    def __init__(self, offers: Sequence[CertificateOffer], on: date) -> None:
        self.offers = offers
        self._owners = [index for index, offer in enumerate(offers) for _ in offer.sets]
        self._several = [0] * len(offers)
        for row, owner in enumerate(self._owners):
            self._several[owner] |= 1 << row
        sets = [limits for offer in offers for limits in offer.sets]
        self._columns = Columns(Sorted((1 << i, limits.limits) for i, limits in enumerate(sets)))
        self._empty = sum(1 << i for i, limits in enumerate(sets) if not limits.limits)
        states = [validity_misses(offers[owner].validity.state(on)) for owner in self._owners]
        outside = sum(1 << i for i, found in enumerate(states) if found.outside)
        unstated = sum(1 << i for i, found in enumerate(states) if found.unstated)
        self._all = (1 << len(sets)) - 1
        self._invalid: Failing = ("on", outside, unstated)

    def able(self, demand: Demand, codes: Codes) -> int:
        """The limit sets of valid certificates that cover the demand."""
        return self.fitting(demand, codes) & ~(self._invalid[1] | self._invalid[2])

    def fitting(self, demand: Demand, codes: Codes) -> int:
        """Those that would cover it if they were valid."""
        return self._all & ~(self._columns.judged(demand, codes).bad | self._empty)

    def certificates(self, rows: int) -> frozenset[int]:
        """Which certificates they belong to, by key."""
        return frozenset([self.offers[self._owners[row]].certificate_id for row in each_bit(rows)])

    def ids(self, rows: int) -> frozenset[int]:
        """Whose they are."""
        return frozenset([self.offers[self._owners[row]].person_id for row in each_bit(rows)])

    def nearest(self, demand: Demand, codes: Codes) -> tuple[Rank, int] | None:
        """How far off, and the index of, the certificate that comes nearest; first of all of the right process."""
        if not self._owners:
            return None
        found = merged((*self._columns.judged(demand, codes).failing, self._invalid))
        failing = [(name, outside, unstated) for name, (outside, unstated) in found.items()]
        other = next((outside for name, outside, _ in failing if name == "process"), 0)
        outside = Counts(out for _, out, _ in failing)
        unstated = Counts(un & ~out for _, out, un in failing)
        bad = self._empty
        for _, out, un in failing:
            bad |= out | un
        alive = self._all
        while True:
            row = self._least(alive, other, bad, outside, unstated)
            best = self._best_of(self._owners[row], failing)
            if row == best:
                key: Key = (bool(bad >> row & 1), outside.of(row), unstated.of(row))
                return (bool(other >> row & 1), key), self._owners[row]
            # Each certificate is judged by the limit set that comes nearest, whatever its process.
            alive &= ~(1 << row)

    @staticmethod
    def _least(alive: int, other: int, bad: int, outside: Counts, unstated: Counts) -> int:
        among = alive & ~other or alive
        among = among & ~bad or among
        least = unstated.least(outside.least(among))
        return (least & -least).bit_length() - 1

    def _best_of(self, owner: int, failing: Sequence[Failing]) -> int:
        """The limit set of a certificate that comes nearest, its validity apart; the first of equals."""
        rows = self._several[owner]
        if rows & (rows - 1) == 0:
            return rows.bit_length() - 1
        return min(each_bit(rows), key=lambda row: (*self._key(row, failing), row))

    def _key(self, row: int, failing: Sequence[Failing]) -> Key:
        outside = [name for name, out, _ in failing if out >> row & 1 and name != "on"]
        unstated = [name for name, out, un in failing if un >> row & 1 and not out >> row & 1 and name != "on"]
        return bool(outside or unstated or self._empty >> row & 1), len(outside), len(unstated)


class Able:
    """People by the certificates that count; who they are is looked up when somebody asks."""

    def __init__(self, rows: Mapping[_Group, int] | None = None, known: frozenset[int] = frozenset()) -> None:
        self._rows, self._known = dict(rows or {}), known

    def __bool__(self) -> bool:
        return bool(self._known) or any(self._rows.values())

    def __or__(self, other: "Able") -> "Able":
        rows = {group: self._rows.get(group, 0) | other._rows.get(group, 0) for group in {**self._rows, **other._rows}}
        return Able(rows, self._known | other._known)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Able) and self.ids == other.ids

    def __hash__(self) -> int:
        return hash(self.ids)

    @cached_property
    def ids(self) -> frozenset[int]:
        """The people by key."""
        return self._known.union(*(group.ids(rows) for group, rows in self._rows.items()))


NOBODY = Able()


class People:
    """All certificates, by the kind and family of codes that is asked for."""

    def __init__(self, certificates: Sequence[CertificateOffer], on: date) -> None:
        self._certificates, self._on = certificates, on
        self._groups: dict[tuple[frozenset[str], str], _Group] = {}
        self._able: dict[Hashable, Able] = {}
        self.slots = Slots().joined(limit for offer in certificates for limits in offer.sets for limit in limits.limits)
        # People tell less apart than procedures do, so their own numbers make fewer questions.
        self._coder = Coder(self.slots, always=WANTS)
        self.read = self.slots.read | WANTS
        """What certificates read, and what decides which are asked."""

    def boxes(self, demands: Sequence[tuple[Demand, Demand]]) -> list[Box]:
        """The processes of a phase, root first, each with what its procedure fills in, as people see them."""
        read = self.read
        seen = [{**filled, **{n: v for n, v in demand.items() if n in read}} for demand, filled in demands]
        return [(box, self._coder.codes(box)) for box in as_welded(seen)]

    def _group(self, demand: Demand, code: str) -> _Group:
        key = kinds_wanted(demand), system_of(code)
        if key not in self._groups:
            self._groups[key] = _Group(suitable(self._certificates, demand, code), self._on)
        return self._groups[key]

    def able(self, boxes: Sequence[Box], code: str) -> Able:
        """The people who cover every demand."""
        each = [self._one(demand, codes, code) for demand, codes in boxes]
        if len(each) == 1:
            return each[0]
        return Able(known=frozenset.intersection(*(one.ids for one in each)))

    def holders(self, boxes: Sequence[Box], code: str) -> Way:
        """The certificates that cover each demand on any day on which they are valid."""
        found = []
        for demand, codes in boxes:
            group = self._group(demand, code) if kinds_wanted(demand) else None
            found.append(group.certificates(group.fitting(demand, codes)) if group is not None else frozenset[int]())
        return tuple(found)

    def _one(self, demand: Demand, codes: Codes, code: str) -> Able:
        if not kinds_wanted(demand):
            return NOBODY
        key = (system_of(code), *sorted(codes.values()))
        known = self._able.get(key)
        if known is None:
            group = self._group(demand, code)
            known = self._able[key] = Able({group: group.able(demand, codes)})
        return known

    def nearest(self, boxes: Sequence[Box], code: str) -> tuple[CertificateOffer, Outcome] | None:
        """The certificate that comes nearest and its answer, as joints.people.nearest_certificate finds it."""
        best: tuple[Rank, CertificateOffer] | None = None
        for demand, codes in boxes:
            group = self._group(demand, code)
            found = group.nearest(demand, codes) if kinds_wanted(demand) else None
            if found is None:
                return self._slowly([box for box, _ in boxes], code)
            if best is None or found[0] < best[0]:
                best = found[0], group.offers[found[1]]
        return (best[1], outcome_of(best[0][1])) if best is not None else None

    def _slowly(self, demands: Sequence[Demand], code: str) -> tuple[CertificateOffer, Outcome] | None:
        """Asked of each in turn, where the kind is not known or none earns a range."""
        found = nearest_certificate(self._certificates, demands, "", self._on, code)
        if found is None:
            return None
        offer = next(one for one in self._certificates if one.certificate_id == found.certificate_id)
        return offer, found.outcome


def outcome_of(key: Key) -> Outcome:
    """The answer that a key stands for. Example: (True, 0, 1) is not stated."""
    off, outside, _ = key
    return Outcome.OUTSIDE if outside else Outcome.NOT_STATED if off else Outcome.COVERED
