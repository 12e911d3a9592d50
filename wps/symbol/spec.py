"""What a welding symbol says, before it is drawn after either standard: the form and the sizes of each side."""

from dataclasses import dataclass, replace
from decimal import Decimal
from enum import Enum

from wps.sketch.preparation import Preparation, Size

BROAD_ROOT_FACE_MM = Decimal(4)
"""From this root face on the groove is drawn with a stem. Our own bound: the standards give no figure."""
REMOVED = ("ceramic", "copper", "flux", "removable", "removed", "temporary")
"""Words of a backing that does not stay in the joint."""


class Form(Enum):
    """Elementary symbols; the value is what a reader of the description hears."""

    FILLET = "fillet weld"
    SQUARE = "square butt weld"
    V = "single V butt weld"
    BROAD_V = "single V butt weld with broad root face"
    BEVEL = "single bevel butt weld"
    BROAD_BEVEL = "single bevel butt weld with broad root face"
    U = "single U butt weld"
    J = "single J butt weld"
    BACK_RUN = "back run"
    BACKING = "backing that stays"
    BACKING_REMOVED = "backing that is taken off"


GROOVES = {"square": Form.SQUARE, "v": Form.V, "bevel": Form.BEVEL, "u": Form.U, "j": Form.J}
BROAD = {Form.V: Form.BROAD_V, Form.BEVEL: Form.BROAD_BEVEL}
ONE_EDGE = (Form.BEVEL, Form.BROAD_BEVEL, Form.J)
"""Of these one part is prepared; the kinked arrow points at it."""


@dataclass(frozen=True, slots=True)
class Side:
    """One side of a joint. Sizes are None where not stated.

    `groove_depth`: how deep the edge is prepared; `penetration`: how deep the weld reaches, of a partial one.
    `length`: of one weld; `count` welds with `gap_between` clear between two of them (None: a single weld).
    """

    form: Form
    throat: Size | None = None
    leg: Size | None = None
    groove_depth: Size | None = None
    penetration: Size | None = None
    angle: Size | None = None
    root_gap: Size | None = None
    length: Size | None = None
    count: int | None = None
    gap_between: Size | None = None

    @property
    def intermittent(self) -> bool:
        """True where the weld is laid in pieces."""
        return self.length is not None and self.gap_between is not None


@dataclass(frozen=True, slots=True)
class Symbol:
    """A joint as both standards write it. `processes`: ISO 4063 numbers; `reference`: what stands in the tail last."""

    arrow: Side
    other: Side | None = None
    processes: tuple[str, ...] = ()
    reference: str = ""

    @property
    def symmetric(self) -> bool:
        """True where both sides are alike."""
        return self.arrow == self.other

    @property
    def kinked(self) -> bool:
        """True where the arrow has to say which of the two parts is prepared."""
        return self.arrow.form in ONE_EDGE


def symbol_of(
    one: Preparation, processes: tuple[str, ...] = (), reference: str = "", **stated: Size | int | None
) -> Symbol:
    """The symbol of a joint that a procedure or a list states. The side that is prepared first is the arrow side.

    `stated`: more fields of a `Side` that the joint states of each of its welds, such as `length` or `penetration`.
    """
    arrow = replace(_fillet(one) if one.is_fillet else _groove(one), **stated)
    return Symbol(arrow, _other(one, arrow), processes, reference)


def _fillet(one: Preparation) -> Side:
    return Side(Form.FILLET, throat=one.throat, leg=one.leg)


def _groove(one: Preparation) -> Side:
    form = GROOVES[one.form]
    if one.root_face is not None and one.root_face.drawn >= BROAD_ROOT_FACE_MM:
        form = BROAD.get(form, form)
    depth = None if one.full_penetration and not one.is_double else one.depth
    return Side(form, groove_depth=depth, angle=one.angle, root_gap=one.gap)


def _other(one: Preparation, arrow: Side) -> Side | None:
    """What stands on the other side: the same weld, a back run, a backing, or nothing."""
    if one.is_double or (one.both_sides and (one.is_fillet or one.form == "square")):
        return arrow
    if one.both_sides:
        return Side(Form.BACK_RUN)
    if one.backing:
        off = any(word in one.backing.lower() for word in REMOVED)
        return Side(Form.BACKING_REMOVED if off else Form.BACKING)
    return None
