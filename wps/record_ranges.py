"""What a test record earned, for paper: what all its alternatives share once, then what only each of them says."""

from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal, InvalidOperation

from django.utils.translation import gettext

from codes.limits import Within, allowed_words
from codes.units import System, interval_in, unit_in
from codes.variables import unit_of
from register.calculations.us_words import in_us_words
from wps.limits_view import Earned, LimitLine
from wps.sheet_figures import span_in

Row = dict[str, str]


def rows(earned: Earned, system: System) -> Iterator[Row]:
    """Each limit of one alternative, then what the code looks at and does not restrict."""
    for line in (*earned.lines, *earned.free):
        yield {
            "label": line.label,
            "tested": _tested(line, system),
            "allowed": _allowed(line, system),
            "clause": str(line.limit.clause),
            "mark": line.limit.clause.mark.value,
            "because": line.limit.because,
        }


def ranges(earned: Sequence[Earned], pieces: int, system: System) -> list[tuple[str, list[Row]]]:
    """Heading and rows. Example of headings: "", or "in all", "test piece 1", "test piece 2".

    An alternative is what "in all" says together with its own rows.
    """
    found = [list(rows(one, system)) for one in earned]
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


def _tested(line: LimitLine, system: System) -> str:
    """The tested figure; its words stay in SI where the code gives words only."""
    return line.tested if system is System.SI or line.interval is None else ""


def _allowed(line: LimitLine, system: System) -> str:
    limit, unit = line.limit, unit_of(line.limit.variable)
    if isinstance(limit.allowed, Within) and unit and system is not System.SI:
        said = str(interval_in(limit.allowed.interval, unit, system))
    else:
        said = allowed_words(limit.variable, limit.allowed)
    conditions, needs = "; ".join(line.conditions), limit.needs
    if system is not System.SI:
        conditions, needs = in_us_words(conditions), in_us_words(needs)
    when = f", where {conditions}" if conditions else ""
    return f"{said}{when}" + (f"; outside it only with {needs}" if needs else "")


MEASURED = (
    ("run", "Run", ""),
    ("process", "Process", ""),
    ("filler_diameter_mm", "Filler", "mm"),
    ("current_a", "Current", "A"),
    ("voltage_v", "Voltage", "V"),
    ("speed_mm_min", "Speed", "mm/min"),
    ("wire_feed_m_min", "Wire feed", "m/min"),
    ("gas_flow_l_min", "Gas flow", "l/min"),
    ("heat_kj_mm", "Heat input", "kJ/mm"),
)
"""Key of what was measured run by run, its head and unit."""


def measured(runs: Sequence[Mapping[str, object]], system: System) -> tuple[list[str], list[list[str]]]:
    """Heads and rows of what was measured, columns without anything left out."""
    columns = [one for one in MEASURED if any(run.get(one[0]) for run in runs)]
    heads = [f"{head}, {unit_in(unit, system)}" if unit else head for _, head, unit in columns]
    return heads, [[_figure(str(run.get(key) or ""), unit, system) for key, _, unit in columns] for run in runs]


def _figure(said: str, unit: str, system: System) -> str:
    """A measured figure or range in the reader's units; what is neither stays as it was written."""
    if not said or not unit:
        return said or "–"
    lo, _, hi = said.replace("–", "-").partition("-")
    try:
        return span_in(Decimal(lo.strip()), Decimal((hi or lo).strip()), unit, system)
    except InvalidOperation:
        return said
