"""Sizes of a weld that follow from other sizes. Units: mm. Own rules, stated as such where they are used."""

from decimal import ROUND_HALF_UP, Decimal

ROOT_TWO = Decimal(2).sqrt()
HUNDREDTH = Decimal("0.01")
TENTH = Decimal("0.1")
TOLERANCE = Decimal("0.5")
"""A throat and a leg that differ by more than this contradict each other (own rule)."""

THROAT_RULE = "throat a = leg z / √2, equal legs, rounded to 0.01 mm (own rule)"
DEPOSIT_RULE = "full penetration: deposited thickness is the thinner part (own rule)"


def throat_of_leg(leg: Decimal) -> Decimal:
    """Throat a of an equal-leg fillet. Example: z = 10 gives a = 7.07."""
    return (leg / ROOT_TWO).quantize(HUNDREDTH, ROUND_HALF_UP)


def leg_of_throat(throat: Decimal) -> Decimal:
    """Leg z of an equal-leg fillet. Example: a = 5 gives z = 7.07."""
    return (throat * ROOT_TWO).quantize(HUNDREDTH, ROUND_HALF_UP)


def tenths(size: Decimal) -> Decimal:
    """A size reckoned from another as it is said: no drawing states a fillet closer than 0.1 mm."""
    return size.quantize(TENTH, ROUND_HALF_UP)


def contradict(throat: Decimal, leg: Decimal) -> bool:
    """True where throat and leg cannot both be meant. Example: a = 5 and z = 5 contradict, a = 5 and z = 7 do not."""
    return abs(throat_of_leg(leg) - throat) > TOLERANCE


def thinner(*parts: Decimal | None) -> Decimal | None:
    """The thinner of the parts, or None where one is not stated."""
    stated = [part for part in parts if part is not None]
    return min(stated) if len(stated) == len(parts) else None


def welds_of(weld_type: str, weld_detail: str) -> int:
    """How many welds a row stands for: a fillet on both sides is two, each of the size and length stated.

    Common practice, and what a fillet drawn on both sides of the reference line means (ISO 2553, AWS A2.4). A butt
    weld is one weld, from however many sides it is made.
    """
    return 2 if weld_type == "fillet" and weld_detail == "bs" else 1


def welded_length(
    length: Decimal | None, intermittent: str, element: Decimal | None, gap: Decimal | None
) -> Decimal | None:
    """How much of a run is welded [mm]: all of a continuous one, the elements of an intermittent one.

    A run begins and ends with an element. Where they do not fill it whole, the part of one counts in proportion, so
    that a millimetre of rounding in the run costs no element.

    None where it is not stated. Example: 350 mm of 50 mm elements with gaps of 100 mm are 3 elements, 150 mm.
    """
    if intermittent != "yes" or length is None:
        return length
    if element is None or gap is None:
        return None
    return min(length, element * (length + gap) / (element + gap))
