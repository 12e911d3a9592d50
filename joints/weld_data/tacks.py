"""Tacks: long enough for the parts (EN 1090-2, 7.5.7), and not longer or thicker than the weld they vanish in."""

from collections.abc import Iterator
from decimal import Decimal

from codes.clauses import Clause, Mark
from codes.en_1090_2_2018.tacks import REF, SOURCE, tack_minimum_length
from codes.values import number
from joints.weld_data.finding import PRACTICE, Finding
from joints.weld_data.registry import rule
from joints.weld_data.weld import Weld

TIMES_APART, FAR_APART = Decimal(30), Decimal(500)
"""Tacks further apart than so many times the thinner part, or than so many mm, seldom hold it (common practice)."""
TACKS = Clause("EN 1090-2:2018", REF, Mark.PART, SOURCE)


@rule("Tack shorter than the parts ask for")
def tack_too_short(weld: Weld) -> Iterator[Finding]:
    """The smaller of four times the thicker part and 50 mm. Example: 10 mm ask for 40 mm; 39.9 mm are too short."""
    length, thick = weld.joint.tack_length_mm, weld.thick
    if not weld.en or not length or thick is None or length >= tack_minimum_length(thick):
        return
    least = tack_minimum_length(thick)
    reason = (
        f"the smaller of four times the thicker part ({number(thick)} mm) and 50 mm, unless a test shows less to do"
    )
    yield weld.find("tack_length_mm", reason, TACKS, {"tack_length_mm": least})


@rule("Tack length not stated")
def tack_length_missing(weld: Weld) -> Iterator[Finding]:
    """Stated tacks without a length, where the standard asks for one."""
    if not weld.en or not weld.joint.tack_process or weld.joint.tack_length_mm or weld.thick is None:
        return
    least = tack_minimum_length(weld.thick)
    reason = f"the least for a thicker part of {number(weld.thick)} mm"
    yield weld.find("tack_length_mm", reason, TACKS, {"tack_length_mm": least})


@rule("Tack longer than the weld")
def tack_longer_than_weld(weld: Weld) -> Iterator[Finding]:
    """A tack as long as the weld is the weld. Example: 50 mm on a weld of 50 mm is right, on 49 mm it is not."""
    tack, length = weld.joint.tack_length_mm, weld.joint.length_mm
    if tack and length and tack > length:
        yield weld.find("tack_length_mm", f"the weld itself is {number(length)} mm long", PRACTICE)


@rule("Tack thicker than the weld")
def tack_thicker_than_weld(weld: Weld) -> Iterator[Finding]:
    """A tack vanishes in the fillet that is welded over it. Example: a tack of 5 mm in a = 5 is right, 5.1 is not."""
    tack, throat = weld.joint.tack_throat_mm, weld.throat
    if weld.fillet and tack and throat and tack > throat:
        reason = f"the fillet over it has a throat of {number(throat)} mm only"
        yield weld.find("tack_throat_mm", reason, PRACTICE, {"tack_throat_mm": throat})


@rule("Tacks that overlap")
def tacks_overlap(weld: Weld) -> Iterator[Finding]:
    """Spacing is centre to centre, so it is more than the length. Example: 50 mm tacks at 51 mm; not at 50 mm."""
    spacing, length = weld.joint.tack_spacing_mm, weld.joint.tack_length_mm
    if spacing and length and spacing <= length:
        reason = f"tacks of {number(length)} mm would be one weld; if the clear gap is meant, add their length"
        yield weld.find("tack_spacing_mm", reason, PRACTICE, {"tack_spacing_mm": spacing + length})


@rule("Tacks far apart")
def tacks_far_apart(weld: Weld) -> Iterator[Finding]:
    """Further than 30 times the thinner part, or 500 mm. Example: 12 mm parts: 360 mm are right, 361 mm are far."""
    spacing, thin = weld.joint.tack_spacing_mm, weld.thin
    if not spacing or thin is None:
        return
    most = min(TIMES_APART * thin, FAR_APART)
    if spacing > most:
        reason = f"30 times the thinner part ({number(thin)} mm), at most 500 mm, is usual; no standard here states it"
        yield weld.find("tack_spacing_mm", reason, PRACTICE, {"tack_spacing_mm": most})
