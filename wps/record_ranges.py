"""What a test record earned, for paper: what all its alternatives share once, then what only each of them says.

In the units of the view (`wps.limits_view`) that it is made from.
"""

from collections.abc import Iterator, Sequence

from django.utils.translation import gettext

from wps.limits_view import Earned, LimitLine

Row = dict[str, str]


def rows(earned: Earned) -> Iterator[Row]:
    """Each limit of one alternative, then what the code looks at and does not restrict."""
    for line in (*earned.lines, *earned.free):
        yield {
            "label": line.label,
            "tested": line.tested,
            "allowed": _allowed(line),
            "clause": str(line.limit.clause),
            "mark": line.limit.clause.mark.value,
            "because": line.limit.because,
        }


def ranges(earned: Sequence[Earned], pieces: int) -> list[tuple[str, list[Row]]]:
    """Heading and rows. Example of headings: "", or "in all", "test piece 1", "test piece 2".

    An alternative is what "in all" says together with its own rows.
    """
    found = [list(rows(one)) for one in earned]
    if len(found) < 2:
        return [("", one) for one in found]
    shared = [row for row in found[0] if all(row in other for other in found[1:])]
    own = [[row for row in one if row not in shared] for one in found]
    names = [_name(earned, at, pieces) for at in range(len(earned))]
    return [
        (name, listed)
        for name, listed in ((gettext("what all of them share"), shared), *zip(names, own, strict=True))
        if listed
    ]


def _name(earned: Sequence[Earned], at: int, pieces: int) -> str:
    if len(earned) == pieces:
        return gettext("test piece %(number)d alone") % {"number": at + 1}
    label = earned[at].label
    alike = sum(one.label == label for one in earned) > 1
    return f"{label} ({at + 1})" if alike else label


def _allowed(line: LimitLine) -> str:
    when = f", where {'; '.join(line.conditions)}" if line.conditions else ""
    return f"{line.allowed}{when}" + (f"; outside it only with {line.limit.needs}" if line.limit.needs else "")
