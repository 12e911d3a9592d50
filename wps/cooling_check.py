"""The cooling time t8/5 over the whole window of a revision, for steels whose makers name a window for it. Advice.

Least: least heat input, least preheat, greatest thickness. Greatest: greatest heat input, greatest interpass
temperature, least thickness.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from codes.calc.cooling import FORMS, cooling_time
from codes.calc.heat import efficiency
from codes.calc.result import Refused, printed
from codes.parse import BadField
from codes.terms import both_names
from codes.values import Interval, SteelPair, Value, atoms
from wps.models import ProcedureRevision
from wps.window import demands

FINE_GRAIN_MPA = Decimal(420)
"""From this yield strength on, fine-grain steels are welded within a window of t8/5 (own rule on where to show it)."""
COLD = Decimal(5)


@dataclass(frozen=True, slots=True)
class Cooling:
    """The times in words, for one process, or why they are not known."""

    process: str
    sentence: str
    clause: str = ""

    @property
    def name(self) -> str:
        """The process by both its names."""
        return both_names("process", self.process) if self.process else "the procedure"


def cooling_advice(revision: ProcedureRevision) -> tuple[Cooling, ...]:
    """A line for each process that welds a fine-grain steel of high yield."""
    try:
        each = demands(revision)
    except BadField:
        return ()
    return tuple(_cooling(process, values) for process, values in each.items() if fine_grain(values))


def fine_grain(values: Mapping[str, Value]) -> bool:
    """True where a steel has a specified yield strength of 420 MPa or more."""
    pairs = [atom for atom in atoms(values.get("steels", ())) if isinstance(atom, SteelPair)]
    return any(s.yield_mpa is not None and s.yield_mpa >= FINE_GRAIN_MPA for pair in pairs for s in pair)


def _cooling(process: str, values: Mapping[str, Value]) -> Cooling:
    heat, thickness = _ends(values, "heat_input"), _ends(values, "parent_t")
    warm, hot = _ends(values, "preheat"), _ends(values, "interpass")
    missing = [w for w, e in (("heat input", heat), ("parent thickness", thickness), ("interpass", hot)) if e is None]
    k = efficiency(process) if "arc_energy" in atoms(values.get("heat_measure", ())) else Decimal(1)
    if heat is None or thickness is None or hot is None or k is None:
        return Cooling(process, f"t8/5 is not known: {', '.join(missing) or 'thermal efficiency'} not stated.")
    form = "tee_fillet" if "fillet" in atoms(values.get("weld_type", ())) else "butt_fill"
    try:
        shortest = Decimal(FORMS[form][1])
        least = cooling_time(heat[0] * k, warm[0] if warm else COLD, thickness[1], form, f2=shortest)
        greatest = cooling_time(heat[1] * k, hot[1], thickness[0], form)
    except Refused as refusal:
        return Cooling(process, f"t8/5 is not known: {refusal.field.replace('_', ' ')} {refusal.problem}.")
    span = f"{printed(least.figure, 's')} to {printed(greatest.figure, 's')}"
    said = f"t8/5 is {span} over all that the procedure allows; hold it against the window of the steel's maker."
    return Cooling(process, said, str(greatest.clause))


def _ends(values: Mapping[str, Value], name: str) -> tuple[Decimal, Decimal] | None:
    """The least and greatest figure stated of a variable, or None."""
    found: list[Decimal] = []
    for atom in atoms(values.get(name, ())):
        if isinstance(atom, Interval):
            found += [end for end in (atom.lo, atom.hi) if end is not None]
        elif isinstance(atom, Decimal):
            found.append(atom)
    return (min(found), max(found)) if found else None
