"""What is found of one run: how long it was welded, and what left its window, by how much and for how long."""

from dataclasses import dataclass, field
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, Decimal
from typing import Any

from codes.units import System, figure_in, unit_in
from codes.values import Interval, number
from codes.variables import label_of

MICRO = Decimal(1_000_000)
LOW, HIGH = "below", "above"
Window = dict[str, Interval]
"""Variable to its range."""


@dataclass(slots=True)
class Excursion:
    """One variable on one side of its window. Times in microseconds; `worst` is the value that lay furthest off."""

    variable: str
    side: str
    limit: Decimal
    times: int = 0
    micros: int = 0
    longest: int = 0
    worst: Decimal = Decimal(0)
    by: Decimal = Decimal(0)
    worst_at: int = 0

    def plain(self, start: int) -> dict[str, Any]:
        """As it is kept: figures as text, the time counted from the start of the run."""
        return {
            "variable": self.variable,
            "side": self.side,
            "limit": number(self.limit),
            "times": self.times,
            "seconds": seconds(self.micros),
            "longest_seconds": seconds(self.longest),
            "worst": number(self.worst),
            "by": number(self.by),
            "worst_at_seconds": seconds(self.worst_at - start),
        }


@dataclass(slots=True)
class RunLog:
    """One run of one joint. `window` None: the procedure has no such run. `unread`: variable to samples without one;
    `unlogged`: variables of the window that the log has no column for. Times in microseconds.
    """

    joint: str
    run: str
    window: Window | None
    start: int
    samples: int = 0
    arc_micros: int = 0
    idle_micros: int = 0
    gap_micros: int = 0
    gaps: int = 0
    unread: dict[str, int] = field(default_factory=dict)
    unlogged: tuple[str, ...] = ()
    excursions: dict[tuple[str, str], Excursion] = field(default_factory=dict)

    @property
    def outcome(self) -> str:
        """Covered, outside, or not stated: no window, no sample with the arc on, or a value that was not logged."""
        if self.excursions:
            return "outside"
        if not self.window or not self.arc_micros or self.unread or self.unlogged or self.gaps:
            return "not stated"
        return "covered"

    def plain(self) -> dict[str, Any]:
        """The summary that is kept."""
        window = self.window or {}
        worst_first = sorted(self.excursions.values(), key=lambda one: (-one.micros, one.variable, one.side))
        return {
            "window": {name: [_end(span.lo), _end(span.hi)] for name, span in window.items()},
            "arc_seconds": seconds(self.arc_micros),
            "idle_seconds": seconds(self.idle_micros),
            "gaps": self.gaps,
            "gap_seconds": seconds(self.gap_micros),
            "unread": self.unread,
            "unlogged": list(self.unlogged),
            "excursions": [one.plain(self.start) for one in worst_first],
        }


def seconds(micros: int) -> str:
    """Microseconds as seconds. Example: seconds(1_500_000) is "1.5"."""
    return number(Decimal(micros) / MICRO)


def _end(value: Decimal | None) -> str | None:
    return number(value) if value is not None else None


def sentence(plain: dict[str, Any], unit: str, system: System = System.SI) -> str:
    """An excursion in words.

    Example: "Current above 260 A for 0.4 s in 2 places, up to 271 A (11 A above), longest 0.3 s."
    """
    # An end is rounded inwards and a miss up, so that nobody who sets what is read here lies outside.
    roundings = {"limit": ROUND_FLOOR if plain["side"] == HIGH else ROUND_CEILING, "worst": ROUND_HALF_EVEN}
    roundings["by"] = ROUND_CEILING
    figures = {key: figure_in(Decimal(plain[key]), unit, system, how) for key, how in roundings.items()}
    one, unit = {**plain, **figures}, unit_in(unit, system)
    many = "in one place" if one["times"] == 1 else f"in {one['times']} places"
    way = "up to" if one["side"] == HIGH else "down to"
    return (
        f"{label_of(one['variable'])} {one['side']} {one['limit']} {unit} for {one['seconds']} s {many}, {way} "
        f"{one['worst']} {unit} ({one['by']} {unit} {one['side']}, {one['worst_at_seconds']} s into the run), "
        f"longest {one['longest_seconds']} s."
    )
