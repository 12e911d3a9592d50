"""What one weld takes: pure functions from its sizes and how it is welded. Units: mm, mm², kg, min, l.

Nominal sizes: no reinforcement, no convexity, no gap that opens. What cannot be known is named, never taken as nought.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from decimal import Decimal

from codes.calc.consumables import EFFICIENCIES, arc_time, deposit, filler_to_buy
from codes.calc.deposition import melt_off
from codes.calc.fillet import fillet_area
from codes.calc.gas import shielding_gas
from codes.calc.groove import groove_area
from codes.calc.result import Refused
from codes.terms import both_names

CORED_SHARE = Decimal(86)
"""Mass of a cored wire against solid wire [%]: the middle of the usual 80 to 92, for planning."""
CORED = ("114", "132", "133", "136", "138")
NO_WIRE = ("111",)
"""Processes of a deposition efficiency that feed no wire, from which the arc time would follow."""
_EFFICIENCY = {
    "111": "smaw_14_in",
    "114": "fcaw_self_shielded",
    "121": "saw",
    "12": "saw",
    "132": "fcaw_gas",
    "133": "metal_cored",
    "135": "gmaw_ar_co2",
    "136": "fcaw_gas",
    "138": "metal_cored",
}
BOTH_EDGES = ("single_u", "double_u")
"""Preparations whose included angle the procedure states and whose area is reckoned with half of it."""


@dataclass(frozen=True, slots=True)
class Sizes:
    """What a joint states of its weld [mm]; None is not stated. `length`: what is welded of it, gaps left out;
    `unknown`: why it is not known; `welds`: how many welds of that size and length it stands for."""

    weld_type: str
    length: Decimal | None = None
    throat: Decimal | None = None
    leg: Decimal | None = None
    thickness: Decimal | None = None
    penetration: Decimal | None = None
    unknown: str = "the length of the weld is not stated"
    welds: int = 1


@dataclass(frozen=True, slots=True)
class Recipe:
    """What the procedure states of how it is welded; None or "" is not stated. `feed`: m/min, `flow`: l/min.

    Of a range the middle counts: these are planning figures.
    """

    label: str
    process: str = ""
    filler: str = ""
    kind: str = ""
    angle: Decimal | None = None
    gap: Decimal | None = None
    root_face: Decimal | None = None
    radius: Decimal | None = None
    depth: Decimal | None = None
    wire: Decimal | None = None
    feed: Decimal | None = None
    flow: Decimal | None = None
    gas: str = ""


@dataclass(frozen=True, slots=True)
class Amounts:
    """What a joint takes (`area`: of each of its welds); None where it is not known, `missing` says why."""

    area: Decimal | None = None
    deposited: Decimal | None = None
    filler: Decimal | None = None
    arc_minutes: Decimal | None = None
    gas: Decimal | None = None
    how: str = ""
    missing: tuple[str, ...] = field(default=())


def amounts(sizes: Sizes, recipe: Recipe) -> Amounts:
    """All that is known of a weld, in the order area, mass, filler, time, gas; each rests on the one before it.

    Example: a fillet a 5, 1000 mm, 135 with wire 1.2 at 10 m/min: 25 mm², 0.196 kg, filler 0.204 kg, 2.3 min.
    """
    missing: list[str] = []
    area, how = _tried(missing, lambda: _area(sizes, recipe))
    deposited = _mass(sizes, area, missing)
    if not recipe.label:
        missing += ["filler, arc time and gas: no procedure covers the joint"] if deposited is not None else []
        return Amounts(area, deposited, how=how, missing=tuple(missing))
    filler = _filler(recipe, deposited, missing)
    minutes = _minutes(recipe, deposited, missing)
    gas = _gas(recipe, minutes, missing)
    return Amounts(area, deposited, filler, minutes, gas, how, tuple(missing))


def _tried(missing: list[str], work: Callable[[], tuple[Decimal, str]]) -> tuple[Decimal | None, str]:
    """The area and how it is reckoned, or nothing with the reason kept."""
    try:
        return work()
    except Refused as refusal:
        missing.append(f"weld metal: {refusal.field.replace('_', ' ')} {refusal.problem}")
        return None, ""


def _area(sizes: Sizes, recipe: Recipe) -> tuple[Decimal, str]:
    if sizes.weld_type == "fillet":
        return _fillet(sizes)
    if sizes.weld_type not in ("butt_cjp", "butt_pjp"):
        raise Refused("weld_type", "is not a fillet or a butt weld, whose section is reckoned here")
    return _groove(sizes, recipe)


def _fillet(sizes: Sizes) -> tuple[Decimal, str]:
    if sizes.throat is None and sizes.leg is None:
        raise Refused("throat", "or leg is not stated")
    each = f", {sizes.welds} welds" if sizes.welds > 1 else ""
    if sizes.throat is not None:
        return fillet_area(throat=sizes.throat).figure, f"a²{each}"
    return fillet_area(leg=sizes.leg).figure, f"z²/2{each}"


def _groove(sizes: Sizes, recipe: Recipe) -> tuple[Decimal, str]:
    """A partial penetration is a groove as deep as the weld, without root face."""
    partial = sizes.weld_type == "butt_pjp"
    depth = sizes.penetration if partial else sizes.thickness
    if depth is None:
        raise Refused("penetration" if partial else "thickness", "is not stated")
    if recipe.kind in ("", "none"):
        either = f"nor by {recipe.label}" if recipe.label else "and no procedure covers the joint"
        raise Refused("preparation", f"is not stated, {either}")
    if recipe.gap is None:
        raise Refused("gap", f"is not stated as one figure by {recipe.label}")
    square = recipe.kind == "square"
    if square and recipe.gap == 0:
        raise Refused("gap", "of a square butt is 0, so geometry gives no section")
    rounded = recipe.kind.endswith(("_u", "_j"))
    angle = recipe.angle / 2 if recipe.angle is not None and recipe.kind in BOTH_EDGES else recipe.angle
    found = groove_area(
        preparation=recipe.kind,
        thickness=depth,
        gap=recipe.gap,
        root_face=None if square else Decimal(0) if partial else recipe.root_face,
        angle=None if square else angle,
        radius=recipe.radius if rounded else None,
        depth=None if partial or not recipe.kind.startswith("double") else recipe.depth,
    )
    return found.figure, f"{recipe.kind.replace('_', ' ')} of {recipe.label}"


def _mass(sizes: Sizes, area: Decimal | None, missing: list[str]) -> Decimal | None:
    if area is None:
        return None
    if sizes.length is None:
        missing.append(f"mass: {sizes.unknown}")
        return None
    return deposit(area).figure * sizes.length * sizes.welds / 1000


def efficiency_of(recipe: Recipe) -> Decimal | None:
    """Deposition efficiency [%] by process, and for solid wire by gas; None where none is on file."""
    if recipe.process == "135" and recipe.gas.startswith("C"):
        return EFFICIENCIES["gmaw_co2"][0]
    key = _EFFICIENCY.get(recipe.process)
    return EFFICIENCIES[key][0] if key else None


def _filler(recipe: Recipe, deposited: Decimal | None, missing: list[str]) -> Decimal | None:
    if deposited is None:
        return None
    share = efficiency_of(recipe)
    if share is None:
        process = both_names("process", recipe.process) if recipe.process else "not stated"
        missing.append(f"filler, arc time and gas: no deposition efficiency is on file for process {process}")
        return None
    return filler_to_buy(deposited, share).figure


def _minutes(recipe: Recipe, deposited: Decimal | None, missing: list[str]) -> Decimal | None:
    share = efficiency_of(recipe)
    if deposited is None:
        return None
    if share is None:
        return None  # said of the filler already
    if recipe.wire is None or recipe.feed is None:
        missing.append(_no_rate(recipe))
        return None
    cored = CORED_SHARE if recipe.process in CORED else None
    rate = melt_off(recipe.wire, recipe.feed, metal_share=cored, efficiency=share).number("deposition_rate")
    return arc_time(deposited, rate).figure


def _no_rate(recipe: Recipe) -> str:
    """What keeps the arc time, and with it the gas, from being reckoned."""
    what = "arc time and gas" if recipe.gas else "arc time"
    if recipe.process in NO_WIRE:
        return f"{what}: process {both_names('process', recipe.process)} has no wire feed to reckon from"
    if recipe.wire is None and recipe.feed is None:
        return f"{what}: the runs state neither wire diameter nor wire feed"
    return f"{what}: the runs state no {'wire feed' if recipe.feed is None else 'wire diameter'}"


def _gas(recipe: Recipe, minutes: Decimal | None, missing: list[str]) -> Decimal | None:
    if minutes is None or recipe.flow is None:
        if minutes is not None and recipe.gas:
            missing.append("gas: the runs state no flow")
        return None
    return shielding_gas(flow=recipe.flow, arc_time=minutes).figure
