"""What the facts of the trail are called on the screens: by the names of the codes, of the columns else."""

import re

from codes.variables import VARIABLES, Variable
from codes.words import lower_first

OTHERWISE_MEANT = frozenset({"on", "unit", "place", "level", "piece", "standard", "phase", "role"})
"""Facts of acts that bear the name of a variable of the codes and are another thing."""
OWN_NAMES = {
    "road": "rests on", "serves_final": "final welding", "serves_tack": "tack welding", "digest": "SHA-256",
    "sha256": "SHA-256",
}  # fmt: skip
UNITS = {
    "_mm_min": "mm/min", "_m_min": "m/min", "_l_min": "l/min", "_mm": "mm", "_um": "µm", "_mpa": "MPa", "_deg": "°",
    "_kg": "kg", "_pct": "%", "_j": "J", "_c": "°C", "_a": "A", "_v": "V",
}  # fmt: skip
"""What the name of a column ends with, and the unit that it stands for; the longer first."""


def name_words(name: str) -> str:
    """What a fact is called. Example: "speed_min_mm_min" is "speed from", "parent_t" is "parent thickness"."""
    if (known := _variable(name)) is not None:
        return lower_first(known.label)
    bare = name.removesuffix(_ending(name)).replace("_", " ")
    return OWN_NAMES.get(name) or re.sub(r" max$", " to", re.sub(r" min$", " from", bare))


def unit_of(name: str) -> str:
    """The unit of a fact, "" where it has none. Example: "speed_min_mm_min" gives "mm/min"."""
    known = _variable(name)
    return known.unit if known is not None else UNITS.get(_ending(name), "")


def _variable(name: str) -> Variable | None:
    return None if name in OTHERWISE_MEANT else VARIABLES.get(name)


def _ending(name: str) -> str:
    return next((ending for ending in UNITS if name.endswith(ending)), "")
