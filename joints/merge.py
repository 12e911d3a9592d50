"""Who says what: the joint owns its own variables, the procedure fills the rest.

A variable that the joint owns and does not state is never filled from the procedure, so that it is answered
'not stated'. Root gouging is the exception: where the drawing leaves it open, the procedure decides how.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from codes.aws_positions import WITH_VERTICAL
from codes.limits import LimitSet
from codes.us_terms import with_us_terms
from codes.values import Value, atoms
from joints.us_demands import SIZES, TACK
from wps.offers import ProcedureOffer

OWNED = frozenset(
    {
        "process", "mechanisation", "robot", "weld_type", "joint_type", "product", "steels", "parent_t", "deposit_t",
        "throat_a", "diameter", "rotated", "branch_angle", "position", "weld_detail", "impact_required",
        "impact_temperature", "hardness_required", "execution_class", "level", "pwht", "role",
        "joint_processes", "joint_deposit_t",
    }
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Driver:
    """A variable only counts where another one has one of these terms."""

    variable: str
    terms: frozenset[str]


BUTT = frozenset({"butt_cjp", "butt_pjp", "branch", "buttering", "buildup"})
DRIVERS: Mapping[str, Driver] = {
    "leg_z": Driver("weld_type", frozenset({"fillet"})),
    "progression": Driver("aws_position", frozenset(WITH_VERTICAL)),
    "throat_a": Driver("weld_type", frozenset({"fillet"})),
    "deposit_t": Driver("weld_type", BUTT),
    "weld_detail": Driver("weld_type", frozenset({"butt_cjp", "butt_pjp", "branch"})),
    "gouging": Driver("weld_detail", frozenset({"bs"})),
    "diameter": Driver("product", frozenset({"pipe"})),
    "rotated": Driver("product", frozenset({"pipe"})),
    "branch_angle": Driver("joint_type", frozenset({"branch"})),
    "impact_temperature": Driver("impact_required", frozenset({"yes"})),
    "robot": Driver("mechanisation", frozenset({"automatic"})),
    "role": Driver("mechanisation", frozenset({"fully_mechanised", "automatic"})),
}


SHARED = OWNED - {"deposit_t"}
"""What a joint owns where several processes share one weld: the procedure says how much each deposits."""

US_OWNED = frozenset({"leg_z", "aws_position", "progression", "p_number"})
"""What a joint owns besides under AWS D1.1 and ASME IX."""


def counts(variable: str, demand: Mapping[str, Value], owned: frozenset[str] = OWNED) -> bool:
    """True where a procedure's own range of the variable says something about this demand.

    What the demand states counts; what the joint owns counts unless its driver shows that it has no meaning here.
    Example: a throat range says nothing about a butt weld; a position range counts even if no position is stated.
    """
    if variable in demand:
        return True
    if variable not in owned:
        return False
    driver = DRIVERS.get(variable)
    if driver is None:
        return True
    said = demand.get(driver.variable)
    return said is not None and any(atom in driver.terms for atom in atoms(said))


def window_for(window: LimitSet, demand: Mapping[str, Value], owned: frozenset[str] = OWNED) -> LimitSet:
    """The procedure's ranges that count for this demand."""
    kept = tuple(limit for limit in window.limits if counts(limit.variable, demand, owned))
    return LimitSet(window.label, kept, window.standard)


def fill_of(offer: ProcedureOffer, demand: Mapping[str, Value], owned: frozenset[str] = OWNED) -> dict[str, Value]:
    """What a procedure states of the demand's process beyond what the joint owns."""
    process = demand.get("process")
    values = offer.process_values.get(process, offer.values) if isinstance(process, str) else offer.values
    return {name: value for name, value in values.items() if name not in owned}


def merged(offer: ProcedureOffer, demand: Mapping[str, Value], owned: frozenset[str] = OWNED) -> dict[str, Value]:
    """The demand as it is welded to the procedure: the procedure's values, overridden by the joint's."""
    return {**fill_of(offer, demand, owned), **demand}


def welded(offer: ProcedureOffer, demand: Mapping[str, Value], owned: frozenset[str] = OWNED) -> dict[str, Value]:
    """The same as people see it: under a US code the F-number of the procedure's filler is said too."""
    whole = merged(offer, demand, owned)
    return with_us_terms(whole) if "phase" in demand else whole


def owned_by(demands: Sequence[Mapping[str, Value]]) -> frozenset[str]:
    """What the joint owns: by how many processes share it, and under US codes (demands that state a phase) by it."""
    owned = OWNED if len(demands) < 2 else SHARED
    phase = demands[0].get("phase") if demands else None
    if phase is None:
        return owned
    return (owned | US_OWNED) - SIZES if phase == TACK else owned | US_OWNED
