"""What a sketch is drawn from: how the parts meet, the form of the edges, and every size as stated and as drawn."""

from dataclasses import dataclass
from decimal import Decimal
from enum import Enum

from codes.units import System, amount_in, interval_in
from codes.values import Interval, number


class Arrangement(Enum):
    """How the two parts meet."""

    BUTT = "butt"
    TEE = "tee"
    CORNER = "corner"
    LAP = "lap"
    CRUCIFORM = "cruciform"
    END_PLATE = "end_plate"
    STIFFENER = "stiffener"


WORDS = {
    Arrangement.BUTT: "butt joint",
    Arrangement.TEE: "T-joint",
    Arrangement.CORNER: "corner joint",
    Arrangement.LAP: "lap joint",
    Arrangement.CRUCIFORM: "cruciform joint",
    Arrangement.END_PLATE: "end plate",
    Arrangement.STIFFENER: "stiffener",
}


@dataclass(frozen=True, slots=True)
class Size:
    """A size in its unit (mm or °): what is stated, and the one figure it is drawn with."""

    stated: Decimal | Interval
    drawn: Decimal
    unit: str = "mm"

    @property
    def is_range(self) -> bool:
        """True where the drawing shows one size of several."""
        return isinstance(self.stated, Interval) and self.stated.lo != self.stated.hi

    def __float__(self) -> float:
        return float(self.drawn)

    def text(self, system: System = System.SI) -> str:
        """The size as stated. Example: "6 to 24 mm"."""
        if isinstance(self.stated, Interval):
            return str(interval_in(self.stated, self.unit, system))
        return amount_in(self.stated, self.unit, system)

    def label(self, system: System = System.SI) -> str:
        """As a drawing writes it: short, and the same in every language. Example: "6–24 mm"."""
        if not isinstance(self.stated, Interval):
            return self.text(system)
        shown = interval_in(self.stated, self.unit, system)
        if shown.lo is None or shown.hi is None or shown.lo_open or shown.hi_open or shown.lo == shown.hi:
            return self.text(system)
        gap = "" if shown.unit == "°" else " "
        return f"{number(shown.lo)}–{number(shown.hi)}{gap}{shown.unit}"


@dataclass(frozen=True, slots=True)
class Preparation:
    """A joint as it is drawn. `groove` is a token of `wps.preparation.KINDS`; "none" is a fillet weld.

    t1 is the part that is prepared or stands (web, stiffener, left plate), t2 the other one. `angle` is the included
    angle of a V or U, and the bevel angle of a single edge. A size that is None is not stated and not labelled.
    """

    arrangement: Arrangement
    groove: str
    t1: Size
    t2: Size
    angle: Size | None = None
    gap: Size | None = None
    root_face: Size | None = None
    radius: Size | None = None
    depth: Size | None = None
    overlap: Size | None = None
    throat: Size | None = None
    leg: Size | None = None
    deposit: Size | None = None
    backing: str = ""
    both_sides: bool = False
    full_penetration: bool = True

    @property
    def is_fillet(self) -> bool:
        """True where the weld lies in the corner of unprepared parts."""
        return self.groove == "none"

    @property
    def is_double(self) -> bool:
        """True for a groove that is prepared from both sides."""
        return self.groove.startswith("double_")

    @property
    def form(self) -> str:
        """The form of a prepared edge: square, v, bevel, u or j."""
        return self.groove.removeprefix("single_").removeprefix("double_")

    @property
    def filled(self) -> Size | None:
        """What is laid into a groove where it never fills the one that is drawn, as a tack; otherwise None."""
        size = self.deposit
        if size is None or self.is_fillet or not self.full_penetration:
            return None
        most = size.stated.hi if isinstance(size.stated, Interval) else size.stated
        return (
            size
            if most is not None and most < min(self.t1.drawn, self.t2.drawn) / (2 if self.is_double else 1)
            else None
        )

    @property
    def drawn_for(self) -> tuple[tuple[str, Size], ...]:
        """The sizes of which the drawing shows one of several, by their letters."""
        same = self.t1 == self.t2
        named = (("t" if same else "t1", self.t1), ("t2", self.t2), ("a", self.throat), ("z", self.leg))
        return tuple((name, size) for name, size in named if size and size.is_range and not (same and name == "t2"))
