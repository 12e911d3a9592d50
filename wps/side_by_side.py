"""Which variables the side-by-side table shows, and in how few lines: equal limits of several records are one line."""

from dataclasses import dataclass

from codes.limits import Free
from codes.verdict import Finding, Outcome
from wps.judgement import Allows, ProcessJudgement, VariableView


@dataclass(frozen=True, slots=True)
class Line:
    """What one record, or several in the same words, allow of a variable."""

    records: str
    finding: Finding


def lines(view: VariableView) -> tuple[Line, ...]:
    """The lines of a variable; what a code leaves free has none. Records in the same words share a line."""
    shared: dict[tuple[str, ...], list[Allows]] = {}
    for allows in view.allows:
        if not isinstance(allows.limit.allowed, Free):
            shared.setdefault(_words(allows.finding), []).append(allows)
    return tuple(
        Line(", ".join(_short(tuple(dict.fromkeys(one.record for one in same)))), same[0].finding)
        for same in shared.values()
    )


def _short(names: tuple[str, ...]) -> tuple[str, ...]:
    """The names without those of combinations that take the limit from a record that is named too."""
    return tuple(name for name in names if not any(name.startswith(f"{other}, ") for other in names))


def _words(found: Finding) -> tuple[str, ...]:
    return (found.allowed, found.margin_text, str(found.clause), found.because, found.missing, found.outcome.value)


def judged(process: ProcessJudgement) -> list[VariableView]:
    """What the table shows: limited, and stated or missing."""
    return [view for view in process.variables if lines(view) and (view.says or view.outcome is not Outcome.COVERED)]


def only_stated(process: ProcessJudgement) -> list[VariableView]:
    """What the procedure states and no record limits."""
    return [view for view in process.variables if view.says and not lines(view)]


def only_limited(process: ProcessJudgement) -> list[VariableView]:
    """What a record limits, the procedure does not state, and need not."""
    shown = {view.variable for view in judged(process)}
    return [view for view in process.variables if lines(view) and view.variable not in shown]
