"""A small code made up for these tests, so that they stand apart from the figures of any real one."""

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal

from codes.clauses import Clause, Mark
from codes.editions import Edition, Field, Tested
from codes.limits import Free, Limit, LimitSet, OneOf, Unrecorded, span, times, when_is
from codes.readings import Settings
from codes.values import atoms

KEY = "Trial code:2000"


def _clause(ref: str) -> Clause:
    return Clause(KEY, ref, Mark.OWN)


def _limits(piece: Tested) -> tuple[Limit, ...]:
    t, heat = piece.get("parent_t"), piece.get("heat_input")
    double = Decimal(2)
    thickness = span(t / double, double * t, "mm") if isinstance(t, Decimal) else Unrecorded("parent thickness")
    hot = span(None, heat, "kJ/mm") if isinstance(heat, Decimal) else Unrecorded("heat input")
    return (
        Limit("process", OneOf((str(piece["process"]),)), _clause("1")),
        Limit("parent_t", thickness, _clause("2"), times(double, t) if isinstance(t, Decimal) else ""),
        Limit("position", OneOf(tuple(str(p) for p in atoms(piece.get("position", ())))), _clause("3")),
        Limit("heat_input", hot, _clause("4"), when=(when_is("impact_required", "yes"),)),
        Limit("gas", Free(), _clause("5")),
    )


def limit_sets(pieces: Sequence[Tested], settings: Settings) -> tuple[LimitSet, ...]:
    """One alternative for each piece: tested process and positions, half to double the thickness."""
    return tuple(LimitSet(f"piece {at}", _limits(piece), KEY) for at, piece in enumerate(pieces, start=1))


TRIAL = Edition(
    key=KEY,
    title="A code for tests",
    kinds=("procedure",),
    fields=(
        Field("process", "always"),
        Field("parent_t", "always", clause="2"),
        Field("position", "always", many=True, clause="3"),
        Field("steels", "always"),
        Field("heat_input", help="as measured"),
        Field("gas", many=True),
        Field("filler_designation"),
    ),
    demand=("process", "parent_t", "position", "heat_input", "impact_required"),
    limit_sets=limit_sets,
    aliases=("EN Trial code:2001",),
    recorded_only=("travel_speed",),
)
OTHER = replace(TRIAL, key="Other code:1999", aliases=())
