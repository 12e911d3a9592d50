"""Suggested test pieces: what is welded, and the limits that the edition itself gives for it."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from functools import lru_cache
from typing import NamedTuple

from codes.editions import edition
from codes.limits import LimitSet
from codes.readings import Settings
from codes.values import SteelPair, Value
from codes.variables import VARIABLES, Kind, label_of, unit_of
from codes.where_so import WHERE
from codes.words import value_words
from joints.demands import MECHANISED
from joints.merge import OWNED

PROCEDURE_CODE, WELDER_CODE, OPERATOR_CODE = "ISO 15614-1:2017", "ISO 9606-1:2012", "ISO 14732:2013"
WELDER, OPERATOR = "welder", "operator"
JOINT_SAYS = OWNED | {"gouging", "run_type"}
"""What the joint decides; all else a new procedure states as it was tested."""
HIDDEN = frozenset({"level", "role", "impact_tested", "hardness_tested", "functional_knowledge", "operator_method"})


class Fact(NamedTuple):
    """What is stated of a piece: a label and a text, or one of them that says it all. `is_entered`: text as somebody
    wrote it, whose figures stay in the units that they were written in.
    """

    label: str
    text: str
    is_entered: bool = False

    @property
    def words(self) -> str:
        """Example: "Position: PB · 2F", "Robot", "a single arc is used"."""
        return ": ".join(part for part in (self.label, self.text) if part)


@dataclass(frozen=True, slots=True)
class Piece:
    """One suggested test piece. `sets`: all it earns; `open_sets`: without what a new procedure would decide."""

    code: str
    kind: str
    values: Mapping[str, Value]
    sets: tuple[LimitSet, ...]
    open_sets: tuple[LimitSet, ...]

    @property
    def facts(self) -> list[Fact]:
        """Everything that is stated of it, for the page and the file."""
        shown = [
            (name, value)
            for name, value in self.values.items()
            if name not in HIDDEN and (name, value) != ("pwht", "no")
        ]
        return [_fact(name, value) for name, value in shown]

    @property
    def words(self) -> str:
        """In one line. Example: "Process: 135 · MAG; Weld type: fillet weld; Position: PB · 2F"."""
        return "; ".join(fact.words for fact in self.facts)

    def sets_for(self, filled: bool) -> tuple[LimitSet, ...]:
        """The limits that judge a demand with, or without, a procedure on file."""
        return self.sets if filled else self.open_sets


def kind_wanted(demand: Mapping[str, Value]) -> str:
    """A welder for manual and partly mechanised, an operator for fully mechanised and automatic; "" if not stated."""
    said = demand.get("mechanisation")
    if said is None:
        return ""
    return OPERATOR if said in MECHANISED else WELDER


def _fact(name: str, value: Value) -> Fact:
    if name in WHERE and value in ("yes", "no"):
        return Fact(label_of(name), "") if value == "yes" else Fact("", WHERE[name][1])
    known = VARIABLES.get(name)
    return Fact(label_of(name), _with_unit(name, value), known is not None and known.kind is Kind.TEXT)


def _with_unit(name: str, value: Value) -> str:
    if (name, value) == ("gouging", "none"):
        return "none"  # beside its label "root gouging"; "no gouging" is for where it stands alone
    if isinstance(value, SteelPair) and value.first == value.second:
        return str(value.first)  # said once, as in an answer
    text, unit = value_words(name, value), unit_of(name)
    if not unit or text.endswith(unit):
        return text
    return f"{text}{unit}" if unit == "°" else f"{text} {unit}"


def piece(code: str, kind: str, values: Mapping[str, Value], settings: Settings) -> Piece | None:
    """The piece with its limits; None where the edition refuses it as no possible test piece."""
    return _piece(code, kind, tuple(values.items()), tuple(sorted(settings.items())))


@lru_cache(maxsize=1 << 14)
def _piece(
    code: str, kind: str, values: tuple[tuple[str, Value], ...], settings: tuple[tuple[str, str], ...]
) -> Piece | None:
    """Kept, because the same pieces are suggested whenever the same joints are open."""
    stated = dict(values)
    try:
        sets = _edition(code).limit_sets([stated], dict(settings))
    except ValueError:
        return None
    return Piece(code, kind, stated, sets, tuple(left_to_joint(limits) for limits in sets))


_edition = lru_cache(maxsize=8)(edition)


def left_to_joint(limits: LimitSet) -> LimitSet:
    """The limits on what the joint decides."""
    return replace(limits, limits=tuple(limit for limit in limits.limits if limit.variable in JOINT_SAYS))


def practical(value: Decimal, rounding: str) -> Decimal:
    """Whole millimetres above 3 mm, tenths below. Example: 20.83 rounded up is 21, 2.667 is 2.7."""
    return value.quantize(Decimal(1) if value > 3 else Decimal("0.1"), rounding)


def edges(needed: Iterable[Decimal], factors: Sequence[str], fixed: Sequence[str] = ()) -> tuple[Decimal, ...]:
    """Tested sizes at which a needed size is the very edge of a row `factor` x tested, and the rows' own ends.

    Rounded both ways: up keeps an upper edge, down a lower one. Example: 25 mm and 1.2 give 20 and 21.
    """
    exact = {size / Decimal(factor) for size in needed for factor in factors}
    sizes = {practical(size, way) for size in exact for way in (ROUND_CEILING, ROUND_FLOOR)}
    # What is needed is itself a size that can be welded.
    return tuple(sorted(size for size in {*sizes, *needed, *map(Decimal, fixed)} if size > 0))
