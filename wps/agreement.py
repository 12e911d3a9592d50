"""Where the window of a procedure and its preparation state the same thing of a groove: they must agree.

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
    kind, grooves = str(preparation.get(KIND) or ""), atoms(values.get(GROOVE, ()))
    can_differ = kind and "fillet" not in atoms(values.get("weld_type", ())) and dict(KINDS).keys() >= set(grooves)
    if can_differ and grooves and kind not in grooves:
        yield GROOVE, _apart(GROOVE, ", ".join(kind_words(str(one)) for one in grooves), kind_words(kind))


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
