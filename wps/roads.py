"""The prequalified road: a procedure judged by the code's own limits instead of by records.

The procedure is itself the record. Every run is a written line of its own, with the code's tolerance around what it
writes; a value counts where one of the lines allows it.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

from codes.editions import Edition, UnknownEdition, edition, editions_of
from codes.limits import Allowed, Limit, LimitSet, OneOf, Within
from codes.parse import Plain
from codes.readings import DEFAULTS, Settings
from codes.values import Interval, Value
from wps.models import ProcedureRun
from wps.window import AnyOf, demands_from

Windows = Mapping[str, Mapping[str, Plain]]


def prequalified_edition(code: str) -> Edition | None:
    """The rules of the prequalified road of a code, None where the code has none or is not held.

    A package names them by the code's own key: "AWS D1.1:2020" has "AWS D1.1:2020 prequalified".
    """
    try:
        key = edition(code).key
    except UnknownEdition:
        return None
    return next((known for known in editions_of("prequalified") if known.key == f"{key} prequalified"), None)


def own_limits(
    code: str,
    window: Mapping[str, Plain],
    process_windows: Windows,
    runs: Sequence[ProcedureRun],
    settings: Settings = DEFAULTS,
) -> tuple[LimitSet, ...]:
    """The code's own limits for what a procedure writes, process by process. Raises UnknownEdition, BadField.

    Example: two runs of 200 A and 300 A in GMAW allow 180 to 220 A or 270 to 330 A.
    """
    rules = prequalified_edition(code)
    if rules is None:
        raise UnknownEdition(f"{code} knows no prequalified procedures")
    found: list[LimitSet] = []
    for process, whole in demands_from(window, process_windows, runs, code).items():

        def written(run: ProcedureRun, process: str = process) -> Mapping[str, Value]:
            return demands_from(window, process_windows, (run,), code)[process]

        lines = _lines(process, whole, runs, written)
        found.extend(_any_line([rules.limit_sets([line], settings) for line in lines]))
    return tuple(found)


def _lines(
    process: str,
    whole: Mapping[str, Value],
    runs: Sequence[ProcedureRun],
    written: Callable[[ProcedureRun], Mapping[str, Value]],
) -> list[Mapping[str, Value]]:
    """What each run of a process writes, equal ones once; without runs all that the procedure says of it."""
    found: list[Mapping[str, Value]] = []
    for line in (written(run) for run in runs if run.process == process):
        if line not in found:
            found.append(line)
    return found or [whole]


def _any_line(lines: Sequence[tuple[LimitSet, ...]]) -> tuple[LimitSet, ...]:
    """One set for each alternative of the code, with the lines' ranges side by side."""
    if any(len(sets) != len(lines[0]) for sets in lines):
        return tuple(limits for sets in lines for limits in sets)
    return tuple(_together(same) for same in zip(*lines, strict=True))


def _together(same: Sequence[LimitSet]) -> LimitSet:
    """The same limit of every line as one; what only some lines have stands as it is.

    Limits are told apart by equality: the conditions of some cannot be hashed.
    """
    rules: list[tuple[Limit, list[Limit]]] = []
    for one in same:
        free = list(rules)
        for limit in one.limits:
            known = next((rule for rule in free if _same_rule(rule[0], limit)), None)
            if known is None:
                rules.append((limit, [limit]))
            else:
                free.remove(known)
                known[1].append(limit)
    return LimitSet(same[0].label, tuple(_joined(found) for _, found in rules), same[0].standard)


def _same_rule(one: Limit, other: Limit) -> bool:
    return (one.variable, one.clause, one.needs, one.when) == (other.variable, other.clause, other.needs, other.when)


def _joined(found: Sequence[Limit]) -> Limit:
    """The limit of all lines together: the ranges or terms of each, or the one that they share."""
    allowed: list[Allowed] = []
    for limit in found:
        if limit.allowed not in allowed:
            allowed.append(limit.allowed)
    if len(allowed) == 1:
        return found[0]
    ranges = [one.interval for one in allowed if isinstance(one, Within)]
    terms = [term for one in allowed if isinstance(one, OneOf) for term in one.terms]
    because = "; ".join(dict.fromkeys(limit.because for limit in found if limit.because))
    if len(ranges) == len(allowed):
        return replace(found[0], allowed=AnyOf(_ordered(ranges)), because=because)
    # Polarities, for example: each run writes its own.
    return replace(found[0], allowed=OneOf(tuple(dict.fromkeys(terms))), because=because) if terms else found[0]


def _ordered(ranges: Sequence[Interval]) -> tuple[Interval, ...]:
    return tuple(sorted(ranges, key=lambda one: (one.lo is not None, one.lo or 0)))
