"""AWS D1.1 on sizes, for jobs to it: least and largest fillet, its length, least partial penetration. Units: mm.

The figures are those of the set that the thicknesses are in: whole sixteenths of an inch, else millimetres (own rule).
"""

from collections.abc import Iterator
from decimal import ROUND_CEILING, Decimal

from codes.aws_d1_1.book import BOOK_2015, BOOK_2020, D11_2015, Book
from codes.aws_d1_1_look_ups import maximum_edge_fillet, minimum_fillet, minimum_length, minimum_pjp_size
from codes.calc.exact import exact
from joints.sizes import throat_of_leg
from joints.weld_data.finding import Finding, Plain
from joints.weld_data.registry import rule
from joints.weld_data.weld import TENTH, Weld

ALMOST = Decimal("0.01")
"""A leg worked out from a throat is rounded to 0.01 mm, so that much is no difference."""


@rule("Fillet under the minimum")
def fillet_under_minimum(weld: Weld) -> Iterator[Finding]:
    """Table 7.7. Example: 12 mm parts by GMAW ask for a leg of 5 mm; 4.9 is under it."""
    leg, parts = weld.leg, _parts(weld)
    if not (weld.aws and weld.fillet and leg and parts):
        return
    least = minimum_fillet(parts, weld.units, weld.low_hydrogen, book=_book(weld))
    if least.value is not None and leg < least.value - ALMOST:
        yield weld.find(_size(weld), least.because, least.clause, _sized(weld, least.value))


@rule("Fillet over the maximum along an edge")
def fillet_over_edge(weld: Weld) -> Iterator[Finding]:
    """Along the edge of the thinner part of a lap joint. Example: 6 mm allow a leg of 4 mm, 5.9 mm one of 5.9 mm."""
    leg, thin = weld.leg, weld.thin
    if not (weld.aws and weld.fillet and weld.joint.joint_type == "lap" and leg and thin):
        return
    most = maximum_edge_fillet(thin, weld.units, book=_book(weld))
    if most.value is not None and leg > most.value + ALMOST:
        reason = f"{most.because}; on the end of a part, or shown as built out, it may stay"
        yield weld.find(_size(weld), reason, most.clause, _sized(weld, most.value, up=False))


@rule("Fillet shorter than four legs")
def fillet_under_four_legs(weld: Weld) -> Iterator[Finding]:
    """Example: a leg of 8 mm asks for 32 mm; 31.9 mm are too short."""
    leg, length = weld.leg, weld.joint.length_mm
    if not (weld.aws and weld.fillet and leg and length):
        return
    least = minimum_length(leg, weld.units, book=_book(weld))
    if least.value is not None and length < least.value:
        needed = least.value.quantize(TENTH, ROUND_CEILING)
        reason = f"{least.because}; else the leg counts as a quarter of the length"
        yield weld.find("length_mm", reason, least.clause, {"length_mm": needed})


@rule("Partial penetration under the minimum")
def pjp_under_minimum(weld: Weld) -> Iterator[Finding]:
    """Least size of a prequalified PJP weld. Example: 12 mm parts ask for 5 mm; 4.9 is under it."""
    size, parts = weld.joint.penetration_mm, _parts(weld)
    if not (weld.aws and weld.joint.weld_type == "butt_pjp" and size and parts):
        return
    least = minimum_pjp_size(parts, weld.units, weld.low_hydrogen, book=_book(weld))
    if least.value is not None and size < least.value:
        yield weld.find("penetration_mm", least.because, least.clause, {"penetration_mm": least.value})


def _book(weld: Weld) -> Book:
    return BOOK_2015 if weld.job.procedure_code == D11_2015 else BOOK_2020


def _parts(weld: Weld) -> tuple[Decimal, Decimal] | None:
    return None if weld.thin is None else (weld.joint.t1_mm, weld.joint.t2_mm)


def _size(weld: Weld) -> str:
    return "throat_mm" if weld.joint.throat_mm else "leg_mm"


@exact
def _sized(weld: Weld, leg: Decimal, up: bool = True) -> dict[str, Plain]:
    return weld.sized(throat_of_leg(leg), leg, up)
