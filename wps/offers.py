"""What every approved procedure offers to a joint on a day: its window and the limits of its records, as values.

Read in three queries; the limits of a record are kept ready by its content (wps.tested).
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from django.db.models import Q, QuerySet

from codes.editions import UnknownEdition, edition
from codes.limits import LimitSet
from codes.parse import BadField, Plain
from codes.readings import DEFAULTS, Settings
from codes.values import Value
from wps.evidence import gate_facts
from wps.models import ProcedureRevision, ProcedureRun, Road, Status, TestRecord
from wps.roads import Windows, own_limits
from wps.tested import earned_together
from wps.window import demands, window_limits, window_values

TACK, FINAL = "tack", "final"
NO_RECORD = 0
"""In the place of a record's key where a procedure is prequalified, or where records are combined."""


@dataclass(frozen=True, slots=True)
class RecordOffer:
    """A supporting record: its limit sets, and the facts that application standards ask about. Of a prequalified
    procedure the code's own limits stand in its place (route "prequalified", no key).

    Without limit sets it supports nothing; `problem` then says why.
    """

    record_id: int
    label: str
    sets: tuple[LimitSet, ...]
    code: str = ""
    level: int | None = None
    route: str = ""
    welded_on: date | None = None
    last_used_on: date | None = None
    problem: str = ""
    facts: Mapping[str, Value] = field(default_factory=dict, hash=False)
    """Extra tests that gates ask for (wps.evidence)."""
    parts: tuple["RecordOffer", ...] = ()
    """The records that were combined, where the sets are what they earn together and neither alone (no key)."""

    @property
    def each(self) -> tuple["RecordOffer", ...]:
        """The records on file behind it: itself, or those that were combined."""
        return self.parts or (self,)


@dataclass(frozen=True, slots=True)
class ProcedureOffer:
    """An approved revision in force. `values`: what it says of all its processes; `process_values`: of each process,
    its runs included, with all the common values repeated.
    """

    revision_id: int
    procedure_id: int
    label: str
    title: str
    code: str
    serves: frozenset[str]
    window: LimitSet
    values: Mapping[str, Value] = field(hash=False)
    process_values: Mapping[str, Mapping[str, Value]] = field(hash=False)
    records: tuple[RecordOffer, ...] = ()
    approved_on: date | None = None
    problem: str = ""
    plant_id: int | None = None

    @property
    def processes(self) -> tuple[str, ...]:
        """The processes it is welded with, in order."""
        return tuple(process for process in self.process_values if process)

    @property
    def sets(self) -> tuple[LimitSet, ...]:
        """The limit sets of all its records."""
        return tuple(limits for record in self.records for limits in record.sets)


def procedure_offers(on: date, settings: Settings = DEFAULTS) -> tuple[ProcedureOffer, ...]:
    """The offers of all revisions in force on a day, by number of the procedure.

    They are kept between questions and worked out anew only where something changed (wps.reading).
    """
    from wps.reading import offers_in_force  # which reads by means of this module

    return offers_in_force(on, settings)


def in_force(on: date) -> QuerySet[ProcedureRevision]:
    """The revisions in force on a day: approved by then, and not yet ended. The day of the end is no longer covered."""
    ended = (Status.APPROVED, Status.SUPERSEDED, Status.WITHDRAWN)
    return ProcedureRevision.objects.filter(
        Q(ended_on__isnull=True) | Q(ended_on__gt=on), status__in=ended, approved_on__lte=on
    ).order_by("procedure__number", "pk")


def fetched(revisions: QuerySet[ProcedureRevision]) -> QuerySet[ProcedureRevision]:
    """Revisions with procedure, records and runs: all that `offer` reads, in three queries."""
    return revisions.select_related("procedure").prefetch_related("records", "runs")


def offer(revision: ProcedureRevision, on: date, settings: Settings = DEFAULTS) -> ProcedureOffer:
    """The offer of one revision. One whose window cannot be read offers nothing and says why."""
    phases = {TACK: revision.serves_tack, FINAL: revision.serves_final}
    try:
        values, each, problem = window_values(revision), demands(revision), ""
        records = record_offers(revision, on, settings)
    except BadField as bad:
        values, each, records, problem = {}, {}, (), f"the window cannot be read: {bad}"
    return ProcedureOffer(
        revision_id=revision.pk,
        procedure_id=revision.procedure_id,
        label=str(revision),
        title=revision.procedure.title,
        code=revision.code,
        serves=frozenset(phase for phase, serves in phases.items() if serves),
        window=window_limits(revision, values),
        values=values,
        process_values=each,
        records=records,
        approved_on=revision.approved_on,
        problem=problem,
        plant_id=revision.procedure.plant_id,
    )


def record_offers(revision: ProcedureRevision, on: date, settings: Settings = DEFAULTS) -> tuple[RecordOffer, ...]:
    """The supporting records of a revision on a day, by number; of a prequalified one the code's own limits."""
    if revision.is_prequalified:
        runs = tuple(revision.runs.all())
        return (own_offer(revision.code, revision.window, revision.process_windows, runs, settings),)
    return offers_of(revision.records.all(), revision.code, on, settings)


def own_offer(
    code: str,
    window: Mapping[str, Plain],
    process_windows: Windows,
    runs: Sequence[ProcedureRun],
    settings: Settings = DEFAULTS,
) -> RecordOffer:
    """The code's own limits for what a procedure writes, in the place of a record. It has no number of a record."""
    sets: tuple[LimitSet, ...] = ()
    problem = ""
    try:
        sets = own_limits(code, window, process_windows, runs, settings)
    except (ValueError, LookupError) as bad:
        problem = str(bad)
    return RecordOffer(NO_RECORD, f"{code} prequalified", sets, code, route=Road.PREQUALIFIED, problem=problem)


def offers_of(
    records: Iterable[TestRecord], code: str, on: date, settings: Settings = DEFAULTS
) -> tuple[RecordOffer, ...]:
    """Records as support of a procedure under one code, then what those that count earn two by two."""
    pairs = [(record, record_offer(record, code, on, settings)) for record in records]
    usable = [(record, found) for record, found in pairs if found.sets]
    return (*(found for _, found in pairs), *_combined(usable, settings))


def _combined(pairs: Sequence[tuple[TestRecord, RecordOffer]], settings: Settings) -> Iterator[RecordOffer]:
    """The combinations that the code allows, each with all its limit sets (ASME IX, QW-200.4(b), 403.5, 403.6)."""
    if not pairs:
        return
    known = [(record.number, record.pieces, record.level) for record, _ in pairs]
    sets: dict[tuple[int, int], list[LimitSet]] = {}
    for found in earned_together(pairs[0][0].code, known, settings):
        sets.setdefault(found.records, []).append(found.limits)
    for places, earned in sets.items():
        parts = tuple(pairs[at][1] for at in places)
        label = " with ".join(part.label for part in parts)
        yield RecordOffer(NO_RECORD, label, tuple(earned), parts[0].code, route=parts[0].route, parts=parts)


def record_offer(record: TestRecord, code: str, on: date, settings: Settings = DEFAULTS) -> RecordOffer:
    """One record as support of a procedure under `code` on a day."""
    problem = unfit(record, code, on)
    sets: tuple[LimitSet, ...] = ()
    facts: Mapping[str, Value] = {}
    if not problem:
        try:
            sets = record.limit_sets(settings)
            facts = gate_facts(record)
        except (ValueError, LookupError) as bad:
            problem = f"not judged: {bad}"
    return RecordOffer(
        record_id=record.pk,
        label=record.number,
        sets=sets,
        code=record.code,
        level=record.level,
        route=record.route,
        welded_on=record.welded_on,
        last_used_on=record.last_used_on,
        problem=problem,
        facts=facts,
    )


def unfit(record: TestRecord, code: str, on: date) -> str:
    """Why a record supports nothing under this code on this day, or "". A record counts only for its own edition."""
    if record.withdrawn_on is not None and record.withdrawn_on <= on:
        return f"no longer used from {record.withdrawn_on}"
    if record.welded_on > on:
        return f"welded on {record.welded_on}, after the date asked about"
    try:
        same = edition(record.code).key == edition(code).key
    except UnknownEdition as unknown:
        return f"not judged: {unknown}"
    return "" if same else f"made to {record.code}, not to {code}"
