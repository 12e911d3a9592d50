"""Joint preparations of butt welds: missing, or square edges on parts too thick for them. Units: mm."""

from collections.abc import Iterator
from decimal import Decimal

from codes.clauses import Clause, Mark
from codes.values import number
from joints.weld_data.finding import Finding
from joints.weld_data.registry import rule
from joints.weld_data.weld import Weld
from wps.preparation import kind_words

PREPARATION = Clause("ISO 9692-1:2013", "Tables 1 and 2", Mark.MEMORY, "from memory, with common practice")
SUBMERGED = Clause("ISO 9692-2:1998", "Tables 1 and 2", Mark.MEMORY, "from memory, with common practice")
# Largest thickness with square edges: from one side, from both sides.
SQUARE = {"arc": (Decimal(4), Decimal(8)), "submerged": (Decimal(8), Decimal(20))}
# Thickness up to -> preparation from one side, from both sides; butt joints, then T- and corner joints.
BUTT = ((Decimal(12), "single_v", "single_v"), (Decimal(40), "single_v", "double_v"), (None, "single_u", "double_u"))
TEE = (
    (Decimal(12), "single_bevel", "single_bevel"),
    (Decimal(40), "single_bevel", "double_bevel"),
    (None, "single_j", "double_j"),
)


@rule("Preparation not stated for the thickness")
def preparation_missing(weld: Weld) -> Iterator[Finding]:
    """A butt weld without one gets the usual one. Example: 12 mm from both sides a single V, 12.1 mm a double."""
    thin = weld.thin
    if not weld.butt or thin is None or weld.joint.preparation:
        return
    if not weld.joint.weld_detail:
        yield weld.find("preparation", "it hangs on the sides and backing, which are not stated either", PREPARATION)
        return
    usual = usual_preparation(weld, thin)
    sides = "both sides" if _both(weld) else "one side"
    reason = f"{number(thin)} mm from {sides}: usual is {kind_words(usual)}"
    yield weld.find("preparation", reason, _clause(weld), {"preparation": usual})


@rule("Square edges on parts too thick for them")
def square_too_thick(weld: Weld) -> Iterator[Finding]:
    """Arc welding from one side up to 4 mm, from both up to 8 mm. Example: 4 mm from one side is right, 4.1 is not."""
    thin = weld.thin
    if not weld.butt or weld.joint.preparation != "square" or thin is None or thin <= square_up_to(weld):
        return
    reason = f"square edges do up to {number(square_up_to(weld))} mm here; the part is {number(thin)} mm"
    yield weld.find("preparation", reason, _clause(weld), {"preparation": usual_preparation(weld, thin)})


def square_up_to(weld: Weld) -> Decimal:
    """The largest thickness with square edges; a partial penetration needs none of it, so its depth is not asked."""
    one, both = SQUARE["submerged" if _submerged(weld) else "arc"]
    return both if _both(weld) else one


def usual_preparation(weld: Weld, thickness: Decimal) -> str:
    """The usual preparation of a thickness by joint type and sides."""
    if weld.joint.weld_type != "butt_pjp" and weld.joint.joint_type == "butt" and thickness <= square_up_to(weld):
        return "square"
    rows = BUTT if weld.joint.joint_type == "butt" else TEE
    _, one, both = next(row for row in rows if row[0] is None or thickness <= row[0])
    return both if _both(weld) else one


def _both(weld: Weld) -> bool:
    return bool(weld.joint.weld_detail == "bs")


def _submerged(weld: Weld) -> bool:
    return any(process.startswith("12") for process in weld.processes)


def _clause(weld: Weld) -> Clause:
    return SUBMERGED if _submerged(weld) else PREPARATION
