"""Which column of a log file is which."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from django.utils.translation import gettext, ngettext

from register.lists.headings import plain
from register.lists.table import Cell, Refusal

HEADINGS: Mapping[str, tuple[str, ...]] = {
    "moment": ("time stamp", "timestamp", "time", "date time", "datetime", "date", "started", "start", "weld start"),
    "person": ("person", "operator id", "operator", "welder", "welder id", "stamp", "payroll number", "person id"),
    "process": ("process", "welding process", "weld process"),
    "mechanisation": ("mechanisation", "mechanization", "mode", "degree of mechanisation"),
    "workstation": ("workstation", "station", "cell", "bay", "robot", "machine"),
    "wps": ("procedure", "wps", "wps no", "wps number", "program", "job program"),
    "joint": ("joint", "joint no", "weld", "weld no", "weld id", "seam", "seam no"),
    "weld_type": ("weld type", "type of weld"),
    "position": ("position", "welding position"),
    "current_a": ("current", "welding current", "amps", "amperage"),
    "voltage_v": ("voltage", "arc voltage", "volts"),
    "travel_mm_min": ("speed", "travel speed", "welding speed"),
    "note": ("note", "remark", "remarks", "comment"),
}
LABELS: Mapping[str, str] = {
    "moment": "Time stamp",
    "person": "Person",
    "process": "Process",
    "mechanisation": "Mechanisation",
    "workstation": "Workstation",
    "wps": "Procedure",
    "joint": "Joint",
    "weld_type": "Weld type",
    "position": "Position",
    "current_a": "Current [A]",
    "voltage_v": "Voltage [V]",
    "travel_mm_min": "Travel speed [mm/min]",
    "note": "Note",
}
NEEDED = ("moment", "person", "process", "mechanisation")
EVIDENCE = ("workstation", "wps", "joint")
"""What makes a weld traceable; a file without them is taken, and says so."""

_INDEX = {plain(name): field for field, names in HEADINGS.items() for name in names}


@dataclass(frozen=True, slots=True)
class Columns:
    """Column index -> field, the headings as written, and what was not read."""

    fields: Mapping[int, str]
    headings: tuple[str, ...]
    ignored: tuple[str, ...]

    def heading(self, field: str) -> str:
        """The heading under which a field was found, or the one to write."""
        found = (self.headings[index] for index, name in self.fields.items() if name == field)
        return next(found, LABELS[field])


def columns(head: Sequence[Cell]) -> Columns:
    """The fields of a heading row. Raises Refusal where one is missing or doubled."""
    headings = tuple(str(cell).strip() for cell in head)
    found: dict[int, str] = {}
    for index, heading in enumerate(headings):
        field = _INDEX.get(plain(heading))
        if field is None:
            continue
        if field in found.values():
            other = headings[next(i for i, name in found.items() if name == field)]
            raise Refusal(
                gettext("Two columns say the same: “%(other)s” and “%(heading)s”. Keep one of them.")
                % {"other": other, "heading": heading}
            )
        found[index] = field
    missing = [f"“{LABELS[field]}”" for field in NEEDED if field not in found.values()]
    if missing:
        held = ", ".join(h for h in headings if h) or "none"
        said = ngettext(
            "The column %(names)s is missing. The file has: %(held)s.",
            "The columns %(names)s are missing. The file has: %(held)s.",
            len(missing),
        )
        raise Refusal(said % {"names": ", ".join(missing), "held": held})
    return Columns(found, headings, tuple(h for i, h in enumerate(headings) if h and i not in found))


def notes(found: Columns) -> list[str]:
    """What to know of the columns."""
    lacking = [f"“{LABELS[field]}”" for field in EVIDENCE if field not in found.fields.values()]
    said = [f"No column {', '.join(lacking)}: the evidence will not name it."] if lacking else []
    return said + ([f"Not read: {', '.join(f'“{h}”' for h in found.ignored)}."] if found.ignored else [])
