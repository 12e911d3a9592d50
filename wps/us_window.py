"""Procedures to US codes speak of AWS positions and of legs; joints often speak of ISO positions and of throats.

Either way round a window never grows: what has no counterpart is not allowed.
"""

from collections.abc import Iterator, Mapping
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from codes.aws_positions import from_iso
from codes.clauses import Clause
from codes.editions import UnknownEdition, edition
from codes.limits import Free, Limit, OneOf, When, Within, unless, when_is
from codes.terms import tokens
from codes.us_terms import with_us_terms
from codes.values import Atom, Interval, Value, atoms
from codes.variables import label_of
from codes.words import lower_first

HALF_ROOT_OF_TWO = Decimal(2).sqrt() / 2
"""Throat over leg of a fillet with equal legs on parts at right angles."""
STEP = Decimal("0.001")
FILLET = "fillet"


class UnlessStated(When):
    """A condition that is met only where the demand leaves the variable open: a leg that is stated is judged itself."""

    __slots__ = ()

    def met_by(self, value: Value | None) -> bool | None:
        return value is None

    def __str__(self) -> str:
        return f"{lower_first(label_of(self.variable))} is not stated"


def in_terms_of(code: str, values: Mapping[str, Value]) -> dict[str, Value]:
    """The values, with those terms added that the code's limits look at and that follow from what is stated."""
    try:
        asked = edition(code).demand if code else ()
    except UnknownEdition:
        asked = ()
    return dict(values) | {
        name: value for name, value in with_us_terms(values).items() if name in asked and name not in values
    }


def iso_limits(values: Mapping[str, Value], clause: Clause) -> Iterator[Limit]:
    """What a window in US terms allows of a joint that is stated in ISO terms."""
    if "aws_position" in values and "position" not in values:
        grooves, fillets = (_positions(values, fillet) for fillet in (False, True))
        yield Limit("position", OneOf(grooves), clause, "as the procedure states", (unless("weld_type", FILLET),))
        yield Limit("position", OneOf(fillets), clause, "as the procedure states", (when_is("weld_type", FILLET),))
    if "leg_z" in values and "throat_a" not in values:
        spans = [_throat(atom) for atom in atoms(values["leg_z"])]
        if len(spans) == 1 and spans[0] is not None:
            because = "a = 0.707 z, equal legs at right angles"
            when = (when_is("weld_type", FILLET), UnlessStated("leg_z", Free()))
            yield Limit("throat_a", Within(spans[0]), clause, because, when)


def _positions(values: Mapping[str, Value], fillet: bool) -> tuple[str, ...]:
    """The ISO positions that are one of the stated AWS positions, with a stated progression where they have one."""
    positions = atoms(values["aws_position"])
    directions = atoms(values.get("progression", ()))
    found = []
    for token in tokens("position"):
        pair = from_iso(token, fillet)
        if pair and pair[0] in positions and (not pair[1] or pair[1] in directions):
            found.append(token)
    return tuple(found)


def _throat(atom: Atom) -> Interval | None:
    lo, hi = (atom.lo, atom.hi) if isinstance(atom, Interval) else (atom, atom)
    ends = [end * HALF_ROOT_OF_TWO if isinstance(end, Decimal) else None for end in (lo, hi)]
    least = None if ends[0] is None else ends[0].quantize(STEP, ROUND_CEILING)
    most = None if ends[1] is None else ends[1].quantize(STEP, ROUND_FLOOR)
    if least is not None and most is not None and least > most:
        # A single figure: its own throat, to the nearest thousandth.
        least = most
    return Interval(least, most, "mm")
