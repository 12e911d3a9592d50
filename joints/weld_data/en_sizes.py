"""EN 1993-1-8 on fillets, for jobs to EN 1090-2: least throat and least length. Units: mm."""

from collections.abc import Iterator
from decimal import Decimal

from codes.calc.throat import LENGTH, least_effective_length
from codes.clauses import Clause, Mark
from codes.values import number
from joints.sizes import leg_of_throat
from joints.weld_data.finding import Finding
from joints.weld_data.registry import rule
from joints.weld_data.weld import Weld

LEAST = Decimal(3)
THROAT = Clause("EN 1993-1-8:2005", "4.5.2(2), throat not below 3 mm", Mark.CONFIRMED, "public engineering pages")


@rule("Fillet under 3 mm")
def throat_under_three(weld: Weld) -> Iterator[Finding]:
    """A load-bearing fillet has a throat of 3 mm or more. Example: a = 3 is right, a = 2.9 is not."""
    if not (weld.en and weld.fillet and weld.throat) or weld.throat >= LEAST:
        return
    field = "throat_mm" if weld.joint.throat_mm else "leg_mm"
    # A leg of 4.24 mm is rounded up, so that its throat is not below 3 mm.
    yield weld.find(field, "a throat of 3 mm is the least", THROAT, weld.sized(LEAST, leg_of_throat(LEAST)))


@rule("Fillet too short to carry load")
def too_short_to_carry(weld: Weld) -> Iterator[Finding]:
    """The length less 2 a is at least 30 mm and 6 a; ends of full size are not stated, so they do not count.

    Example: a = 4: 38 mm are right, 37.9 mm are not.
    """
    length, throat = weld.joint.length_mm, weld.throat
    if not (weld.en and weld.fillet and length and throat):
        return
    needed = least_effective_length(throat).figure + 2 * throat
    if length >= needed:
        return
    reason = (
        f"less 2 a it leaves {number(length - 2 * throat)} mm, under {number(needed - 2 * throat)} mm (30 mm and 6 a): "
        "it would not count as carrying load; of full size to its ends it may be shorter"
    )
    yield weld.find("length_mm", reason, LENGTH, {"length_mm": needed})
