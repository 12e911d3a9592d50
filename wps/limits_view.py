"""A record as its page shows it: what was tested and what it earned, variable by variable."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from codes.editions import UnknownEdition, edition
from codes.limits import Free, Limit, LimitSet, Within
from codes.parse import BadField
from codes.readings import DEFAULTS, Settings
from codes.units import System
from codes.values import Interval
from codes.variables import label_of
from codes.words import term_words
from register.own_units.words import ranges_in, sentence_in, typed_of
from wps.forms.measured import COLUMNS, METHODS, unit_of_head
from wps.models import TestRecord
from wps.own_figures import headed, limit_in, measured_in, said_of_test


@dataclass(frozen=True, slots=True)
class LimitLine:
    """One limit in words, with its interval for the ruler. `allowed`: what it allows, in the reader's units."""

    label: str
    tested: str
    allowed: str
    limit: Limit
    interval: Interval | None
    conditions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Earned:
    """One alternative: all its limits hold together. `free`: what the code looked at and does not restrict."""

    label: str
    lines: tuple[LimitLine, ...]
    free: tuple[LimitLine, ...] = ()


@dataclass(frozen=True, slots=True)
class RecordView:
    """All of a record. `problem` says why it earns nothing."""

    earned: tuple[Earned, ...]
    pieces: tuple[tuple[tuple[str, str], ...], ...]
    results: tuple[tuple[str, str], ...]
    run_heads: tuple[str, ...]
    runs: tuple[tuple[tuple[str, str], ...], ...]
    problem: str = ""


def record_view(record: TestRecord, settings: Settings = DEFAULTS, system: System = System.SI) -> RecordView:
    """The view of a record as it stands, in the reader's units."""
    try:
        earned, problem = tuple(_earned(limits, system) for limits in record.limit_sets(settings)), ""
    except (ValueError, LookupError) as bad:
        earned, problem = (), str(bad)
    heads = tuple((key, head) for key, head in COLUMNS if any(run.get(key) for run in record.runs))
    return RecordView(
        earned=earned,
        pieces=_pieces(record, system),
        results=_results(record.results),
        run_heads=tuple(headed(head, system) for _, head in heads),
        runs=tuple(
            tuple((headed(head, system), _measured(run, key, system)) for key, head in heads) for run in record.runs
        ),
        problem=problem,
    )


def _measured(run: Mapping[str, str], key: str, system: System) -> str:
    text = str(run.get(key) or "")
    if key == "process":
        return term_words("process", text)
    return measured_in(text, unit_of_head(key), system)


def _earned(limits: LimitSet, system: System) -> Earned:
    lines = [_line(limit, system) for limit in limits.limits]
    free = tuple(line for line in lines if isinstance(line.limit.allowed, Free))
    return Earned(limits.label, tuple(line for line in lines if line not in free), free)


def _line(judged: Limit, system: System) -> LimitLine:
    limit = limit_in(judged, system)
    interval = limit.allowed.interval if isinstance(limit.allowed, Within) else None
    bounded = interval if interval and (interval.lo is not None or interval.hi is not None) else None
    # Some codes give the tested term by its token.
    first, _, second = limit.tested.partition(" to ")
    # Two parts of one steel are named once.
    once = first if first == second else limit.tested
    beside = (judged.allowed.interval,) if isinstance(judged.allowed, Within) else ranges_in(judged.words)
    typed = typed_of(limit.variable, limit.words, once)
    tested = sentence_in(term_words(limit.variable, once), system, *beside, typed=typed)
    allowed = sentence_in(limit.words, system, typed=typed)
    conditions = tuple(str(when) for when in limit.when)
    return LimitLine(label_of(limit.variable), tested, allowed, limit, bounded, conditions)


def _pieces(record: TestRecord, system: System) -> tuple[tuple[tuple[str, str], ...], ...]:
    """Each test piece as (label, value), in the order of the code's fields."""
    try:
        tested = record.tested()
        order: Sequence[str] = [field.name for field in edition(record.code).fields]
    except (BadField, UnknownEdition):
        return tuple(tuple((label_of(name), str(value)) for name, value in piece.items()) for piece in record.pieces)
    return tuple(
        tuple(
            (label_of(name), said_of_test(name, piece[name], system))
            for name in dict.fromkeys([*order, *piece])
            if name in piece
        )
        for piece in tested
    )


def _results(results: dict[str, str]) -> tuple[tuple[str, str], ...]:
    labels = dict(METHODS)
    return tuple((labels.get(key, key), str(value)) for key, value in results.items())
