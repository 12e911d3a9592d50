"""What a test record earned: what all its alternatives share once, then what only each of them says.

In the units of the view (`wps.limits_view`) that it is made from.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from django.utils.translation import gettext

from wps.limits_view import Earned, LimitLine

Row = dict[str, str]


def rows(earned: Earned) -> Iterator[Row]:
    """Each limit of one alternative, then what the code looks at and does not restrict."""
    return map(_row, (*earned.lines, *earned.free))


def ranges(earned: Sequence[Earned], pieces: int) -> list[tuple[str, list[Row]]]:
    """Heading and rows of each part. Example of headings: "", or "what all of them share", "test piece 1 alone"."""
    return [(one.label, list(rows(one))) for one in apart(earned, pieces)]


def apart(earned: Sequence[Earned], pieces: int) -> list[Earned]:
    """What all alternatives share, then what each says beside it, labelled so; one alternative as it is, unlabelled.

    An alternative is what all share together with its own limits.
    """
    if len(earned) < 2:
        return [replace(one, label="") for one in earned]
    said = [list(rows(one)) for one in earned]
    shared = [row for row in said[0] if all(row in other for other in said[1:])]
    parts = [_only(earned[0], gettext("what all of them share"), lambda row: row in shared)]
    parts += [_only(one, _name(earned, at, pieces), lambda row: row not in shared) for at, one in enumerate(earned)]
    return [part for part in parts if part.lines or part.free]


def _only(one: Earned, label: str, belongs: Callable[[Row], bool]) -> Earned:
    lines, free = (tuple(line for line in found if belongs(_row(line))) for found in (one.lines, one.free))
    return Earned(label, lines, free)


def _row(line: LimitLine) -> Row:
    return {
        "label": line.label,
        "tested": line.tested,
        "allowed": _allowed(line),
        "clause": str(line.limit.clause),
        "mark": line.limit.clause.mark.value,
        "because": line.limit.because,
    }


def _name(earned: Sequence[Earned], at: int, pieces: int) -> str:
    if len(earned) == pieces:
        return gettext("test piece %(number)d alone") % {"number": at + 1}
    label = earned[at].label
    alike = sum(one.label == label for one in earned) > 1
    return f"{label} ({at + 1})" if alike else label


def _allowed(line: LimitLine) -> str:
    when = f", where {'; '.join(line.conditions)}" if line.conditions else ""
    return f"{line.allowed}{when}" + (f"; outside it only with {line.limit.needs}" if line.limit.needs else "")
