"""Where a procedure states the same thing twice, the window and the preparation of a groove, or wires: they must agree.

The window is judged; the preparation is drawn and is what the fitter works to. A gap that only the drawing has was
never judged, and two figures on one sheet leave the choice to the bench.
"""

from collections.abc import Iterator, Mapping
from decimal import Decimal

from django.utils.translation import gettext

from codes.limits import Within
from codes.parse import BadField, Plain, parse_value
from codes.units import System
from codes.values import Atom, Interval, Value, atoms
from codes.variables import VARIABLES, label_of
from codes.words import lower_first
from wps.own_figures import said
from wps.preparation import KINDS, kind_words

FIGURES = (
    ("root_opening", "gap_mm"), ("groove_angle", "angle_deg"), ("root_face", "root_face_mm"),
    ("groove_depth", "depth_mm"),
)  # fmt: skip
"""Variable of the window -> where the preparation keeps the same figure."""
GROOVE, KIND = "groove_type", "kind"
"""A flare groove is no kind of preparation, so that nothing is asked where one is stated."""
SYSTEM, COUNT = "wire_system", "electrodes"
WIRES = {"single": Decimal(1), "twin": Decimal(2), "tandem": Decimal(2)}
"""Wire system -> the fewest electrodes that it is; a single wire is one and no more."""


def disagreements(values: Mapping[str, Value], preparation: Mapping[str, Plain]) -> Iterator[tuple[str, str]]:
    """What the two state differently: the variable, and both in words. What only one states is no disagreement.

    Example: root opening 6.35 mm with {"gap_mm": "8"} disagrees; a range of 6 to 8 mm holds it.
    """
    for name, key in FIGURES:
        drawn = preparation.get(key)
        if name in values and drawn not in (None, ""):
            found = _figure(name, drawn)
            if found is None or not any(_holds(atom, found) for atom in atoms(values[name])):
                shown = str(drawn) if found is None else _in_units(name, found, values)
                yield name, _apart(name, _in_units(name, values[name], values), shown)
    yield from _wires(values)
    kind, grooves = str(preparation.get(KIND) or ""), atoms(values.get(GROOVE, ()))
    can_differ = kind and "fillet" not in atoms(values.get("weld_type", ())) and dict(KINDS).keys() >= set(grooves)
    if can_differ and grooves and kind not in grooves:
        yield GROOVE, _apart(GROOVE, ", ".join(kind_words(str(one)) for one in grooves), kind_words(kind))


def _wires(values: Mapping[str, Value]) -> Iterator[tuple[str, str]]:
    """A single wire is one electrode, twin wire and tandem are two or more; some codes name, some count."""
    fewest = [WIRES[one] for one in atoms(values.get(SYSTEM, ())) if isinstance(one, str) and one in WIRES]
    if not fewest or COUNT not in values:
        return
    span = Interval(min(fewest), Decimal(1) if max(fewest) == 1 else None, "")
    if not all(_holds(span, one) for one in atoms(values[COUNT]) if isinstance(one, Decimal | Interval)):
        facts = {name: said(name, values[name], System.SI) for name in (SYSTEM, COUNT)}
        yield (
            COUNT,
            gettext("One number of wires: the wire system is %(wire_system)s, the number of electrodes %(electrodes)s")
            % facts,
        )


def _figure(name: str, drawn: Plain) -> Decimal | Interval | None:
    """The figure or range of the preparation, None where it cannot be read."""
    try:
        found = parse_value(VARIABLES[name], drawn)
    except BadField:
        return None
    return found if isinstance(found, Decimal | Interval) else None


def _holds(stated: Atom, drawn: Decimal | Interval) -> bool:
    """True where all that is drawn lies in what is stated; the edges are inside."""
    span = Interval(stated, stated) if isinstance(stated, Decimal) else stated
    return isinstance(span, Interval) and Within(span).admits(drawn)


def _in_units(name: str, value: Value, values: Mapping[str, Value]) -> str:
    """In SI; of a procedure in US customary units in those too."""
    si, us = (said(name, value, system) for system in (System.SI, System.US))
    return f"{si} ({us})" if "us" in atoms(values.get("unit_system", ())) and us != si else si


def _apart(name: str, stated: str, drawn: str) -> str:
    return gettext("One %(what)s: the values state %(stated)s, the joint preparation %(drawn)s") % {
        "what": lower_first(label_of(name)), "stated": stated, "drawn": drawn,
    }  # fmt: skip
