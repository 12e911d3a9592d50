"""Intermittent welds: what states them, how long an element is, how wide a gap, how a run ends. Units: mm.

The gap is clear, from the end of one element to the start of the next on the same side. Staggering is not stated, so
each side is judged alone, which is the strict reading of EN 1993-1-8, 4.3.2.2(3).
"""

from collections.abc import Iterator
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from codes.aws_d1_1.book import BOOK_2015, BOOK_2020, D11_2015
from codes.aws_d1_1.unit_sets import Size, Units
from codes.aws_d1_1_look_ups import minimum_length
from codes.calc.throat import LENGTH, least_effective_length
from codes.clauses import Clause, Mark
from codes.values import number
from joints.weld_data.finding import PRACTICE, Finding
from joints.weld_data.registry import rule
from joints.weld_data.weld import TENTH, Weld

GAPS = Clause("EN 1993-1-8:2005", "4.3.2.2(2), Figure 4.1", Mark.MEMORY, "from memory")
ENDS = Clause("EN 1993-1-8:2005", "4.3.2.2(4)", Mark.MEMORY, "from memory")
BUTTS = Clause("EN 1993-1-8:2005", "4.3.4, no intermittent butt welds", Mark.MEMORY, "from memory")
SPACING = Clause("AWS D1.1", "4.12.2 [2015: 2.12.2], spacing in built-up members", Mark.MEMORY, "from memory")
# In compression or shear, in tension: times the thinner part; and never more than.
PRESSED, PULLED, WIDEST = Decimal(12), Decimal(16), Decimal(200)
US_TIMES, US_WIDEST = Decimal(24), Size("12", "300")
SLACK = Decimal(1)
"""A millimetre of rounding is no difference."""


@rule("Elements stated of a weld that is not called intermittent")
def elements_of_continuous(weld: Weld) -> Iterator[Finding]:
    """Length or gap of elements, and the weld called continuous or neither."""
    joint = weld.joint
    if joint.intermittent != "yes" and (joint.element_length_mm or joint.element_gap_mm):
        reason = "the length or the gap of elements is stated, which only an intermittent weld has"
        yield weld.find("intermittent", reason, PRACTICE, {"intermittent": "yes"})


@rule("Intermittent weld without its elements")
def elements_missing(weld: Weld) -> Iterator[Finding]:
    """Both length and gap are the designer's to say."""
    for name in ("element_length_mm", "element_gap_mm") if _is_intermittent(weld) else ():
        if not getattr(weld.joint, name):
            yield weld.find(name, "neither its load nor its weld metal can be judged without it", PRACTICE)


@rule("Intermittent butt weld")
def intermittent_butt(weld: Weld) -> Iterator[Finding]:
    """Butt welds are continuous in jobs to EN 1090-2."""
    if weld.en and weld.butt and _is_intermittent(weld):
        yield weld.find("intermittent", "a butt weld is not interrupted", BUTTS, {"intermittent": "no"})


@rule("Element longer than the weld")
def element_longer_than_weld(weld: Weld) -> Iterator[Finding]:
    """Example: elements of 50 mm in a run of 50 mm are right, in one of 49 mm they are not."""
    element, length = weld.joint.element_length_mm, weld.joint.length_mm
    if element and length and element > length:
        yield weld.find("element_length_mm", f"the whole run is {number(length)} mm long", PRACTICE)


@rule("Element of an intermittent fillet too short")
def element_too_short(weld: Weld) -> Iterator[Finding]:
    """AWS D1.1: four legs and 1-1/2 in; EN 1993-1-8: less 2 a, 30 mm and 6 a. Example: a = 5 asks for 40 mm (EN)."""
    element, throat, leg = weld.joint.element_length_mm, weld.throat, weld.leg
    if not (weld.fillet and _is_intermittent(weld) and element and throat and leg):
        return
    if weld.aws:
        book = BOOK_2015 if weld.job.procedure_code == D11_2015 else BOOK_2020
        least = minimum_length(leg, weld.units, intermittent=True, book=book)
        if least.value is not None and element < least.value:
            needed = least.value.quantize(TENTH, ROUND_CEILING)
            yield weld.find("element_length_mm", least.because, least.clause, {"element_length_mm": needed})
    if weld.en:
        needed = least_effective_length(throat).figure + 2 * throat
        if element < needed:
            reason = "less 2 a at its ends it would be under 30 mm or 6 a, and not count as carrying load"
            yield weld.find("element_length_mm", reason, LENGTH, {"element_length_mm": needed})


@rule("Gap of an intermittent fillet too wide")
def gap_too_wide(weld: Weld) -> Iterator[Finding]:
    """EN 1993-1-8: 12 times the thinner part in compression or shear, 16 in tension, never over 200 mm.

    How it is loaded is not stated, so 12 times is asked. Example: 10 mm parts allow 120 mm; 120.1 mm are too wide.
    """
    gap, thin = weld.joint.element_gap_mm, weld.thin
    if not (weld.en and weld.fillet and _is_intermittent(weld) and gap and thin):
        return
    most, pulled = min(PRESSED * thin, WIDEST), min(PULLED * thin, WIDEST)
    if gap > most:
        more = f"; in tension alone {number(pulled)} mm would do" if gap <= pulled else ""
        reason = f"12 times the thinner part ({number(thin)} mm), at most 200 mm{more}"
        yield weld.find("element_gap_mm", reason, GAPS, {"element_gap_mm": most})


@rule("Pitch of an intermittent fillet too wide")
def pitch_too_wide(weld: Weld) -> Iterator[Finding]:
    """AWS D1.1, plates of built-up members: 24 times the thinner part, at most 12 in [300 mm]; centre to centre.

    Measured centre to centre, the strict reading. Example: 10 mm parts allow 240 mm.
    """
    element, gap, thin = weld.joint.element_length_mm, weld.joint.element_gap_mm, weld.thin
    if not (weld.aws and weld.fillet and _is_intermittent(weld) and element and gap and thin):
        return
    most = min(US_TIMES * thin, US_WIDEST.mm(Units(weld.units)))
    if element + gap > most > element:
        reason = (
            f"a pitch of {number(element + gap)} mm; 24 times the thinner part ({number(thin)} mm), at most "
            f"{US_WIDEST}, where it builds up a member"
        )
        yield weld.find("element_gap_mm", reason, SPACING, {"element_gap_mm": most - element})


@rule("Intermittent weld that does not end with an element")
def ends_without_element(weld: Weld) -> Iterator[Finding]:
    """A run begins and ends with an element. Example: 50 mm elements, 100 mm gaps: 350 mm are right, 400 mm are not."""
    element, gap, length = weld.joint.element_length_mm, weld.joint.element_gap_mm, weld.joint.length_mm
    if not (weld.en and weld.fillet and _is_intermittent(weld) and element and gap and length) or length <= element:
        return
    over = (length + gap) % (element + gap)
    if min(over, element + gap - over) <= SLACK:
        return
    elements = ((length + gap) / (element + gap)).to_integral_value(ROUND_CEILING)
    fits = ((length - elements * element) / (elements - 1)).quantize(TENTH, ROUND_FLOOR)
    if fits <= 0:
        yield weld.find("intermittent", "its elements leave no gaps in this length", ENDS, {"intermittent": "no"})
        return
    reason = (
        f"{number(elements)} elements of {number(element)} mm fill {number(length)} mm with gaps of {number(fits)} mm"
    )
    yield weld.find("element_gap_mm", reason, ENDS, {"element_gap_mm": fits})


def _is_intermittent(weld: Weld) -> bool:
    return bool(weld.joint.intermittent == "yes")
