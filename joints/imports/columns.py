"""Which column is which: the headings that lists of welds carry, own wording and trade terms."""

import difflib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from register.lists.headings import UNIT, plain
from register.lists.table import Cell, Refusal

HEADINGS: Mapping[str, tuple[str, ...]] = {
    "assembly": (
        "assembly", "assembly mark", "assembly no", "assembly number", "mark", "main part", "piece mark", "ship mark",
    ),
    "assembly_title": ("assembly title", "assembly name", "assembly description"),
    "assembly_kind": ("assembly kind", "assembly type", "member", "member type", "kind"),
    "number": (
        "joint", "joint no", "joint number", "weld", "weld no", "weld number", "weld id", "seam", "seam no", "no",
        "number",
    ),
    "weld_type": ("weld type", "type of weld", "type", "weld kind"),
    "joint_type": ("joint type", "type of joint", "joint kind"),
    "product": ("product", "product form", "product type"),
    "grade_both": ("grade", "steel", "steel grade", "material", "material grade", "parent material"),
    "grade_1": ("grade 1", "steel 1", "steel grade 1", "material 1", "steel part 1", "parent material 1", "grade a"),
    "grade_2": ("grade 2", "steel 2", "steel grade 2", "material 2", "steel part 2", "parent material 2", "grade b"),
    "t_both": ("t", "thickness", "plate thickness", "parent thickness", "wall thickness"),
    "t1_mm": ("t1", "thickness 1", "plate thickness 1", "thickness part 1", "parent thickness 1", "thickness a"),
    "t2_mm": ("t2", "thickness 2", "plate thickness 2", "thickness part 2", "parent thickness 2", "thickness b"),
    "throat_mm": ("a", "throat", "throat a", "throat thickness", "fillet throat", "fillet throat a", "a size"),
    "leg_mm": ("z", "leg", "leg z", "leg length", "fillet leg", "fillet leg z", "leg size"),
    "penetration_mm": ("s", "weld depth", "penetration", "depth of penetration", "effective throat", "pjp depth"),
    "length_mm": ("length", "weld length", "l", "seam length"),
    "diameter_mm": ("d", "od", "diameter", "outside diameter", "pipe diameter"),
    "rotated": ("rotated", "pipe rotated", "pipe turned while welding"),
    "branch_angle_deg": ("branch angle", "angle", "alpha"),
    "position": ("position", "welding position", "weld position", "pos"),
    "weld_detail": ("weld detail", "weld details", "sides and backing", "backing", "sides"),
    "gouging": ("gouging", "root gouging", "back gouging"),
    "preparation": ("preparation", "joint preparation", "weld preparation", "edge preparation", "groove"),
    "final_process": ("process", "welding process", "final process", "weld process"),
    "final_workstation": ("workstation", "station", "bay", "cell", "final workstation", "welded at"),
    "tack_process": ("tack process", "tacking process", "process tack"),
    "tack_workstation": ("tack workstation", "tack station", "tacked at", "tacking workstation"),
    "tack_length_mm": ("tack length", "length of tacks"),
    "tack_throat_mm": ("tack throat", "tack size", "tack thickness", "tack throat or thickness"),
    "weld_date": ("weld date", "welding date", "date", "to be welded on", "planned date"),
    "remarks": ("remarks", "remark", "note", "notes", "comment", "comments"),
}  # fmt: skip

LABELS: Mapping[str, str] = {
    "assembly": "Assembly",
    "number": "Joint number",
    "weld_type": "Weld type",
    "t1_mm": "Thickness 1",
}
"""The columns that every list must have, with the heading to write."""

INCHES = {"in", "inch", "inches", '"', "ft"}


@dataclass(frozen=True, slots=True)
class Columns:
    """Column index -> field, the headings as written, and what was not read."""

    fields: Mapping[int, str]
    headings: tuple[str, ...]
    ignored: tuple[str, ...]

    def heading(self, field: str) -> str:
        """The heading under which a field was found, or its name in words."""
        found = (self.headings[index] for index, name in self.fields.items() if name == field)
        return next(found, field.replace("_", " "))


def columns(head: Sequence[Cell]) -> Columns:
    """The fields of a heading row. Raises Refusal where one is missing, doubled, or in inches."""
    headings = tuple(str(cell).strip() for cell in head)
    found: dict[int, str] = {}
    for index, heading in enumerate(headings):
        field = _INDEX.get(plain(heading))
        if field is None:
            continue
        if field in found.values():
            other = headings[next(i for i, name in found.items() if name == field)]
            raise Refusal(f"Two columns say the same: “{other}” and “{heading}”. Keep one of them.")
        if _in_inches(heading):
            raise Refusal(
                f"The column “{heading}” is in inches; sizes are read in mm. Convert it and send the list again."
            )
        found[index] = field
    _complete(found, headings)
    return Columns(found, headings, tuple(h for i, h in enumerate(headings) if h and i not in found))


def _complete(found: Mapping[int, str], headings: Sequence[str]) -> None:
    held = set(found.values())
    both = {"t1_mm": "t_both"}
    missing = [label for field, label in LABELS.items() if field not in held and both.get(field) not in held]
    for one, two in (("t_both", ("t1_mm", "t2_mm")), ("grade_both", ("grade_1", "grade_2"))):
        if one in held and held & set(two):
            raise Refusal(
                "One column speaks of both parts and another of one part "
                f"({', '.join(headings[i] for i, f in found.items() if f == one or f in two)}). Keep one kind."
            )
    if missing:
        raise Refusal(f"{_columns_missing(missing)} The list has: {', '.join(h for h in headings if h) or 'none'}.")


def _columns_missing(missing: Sequence[str]) -> str:
    names = ", ".join(f"“{label}”" for label in missing)
    return f"The column {names} is missing." if len(missing) == 1 else f"The columns {names} are missing."


def _in_inches(heading: str) -> bool:
    return any((found[0] or "").strip().casefold() in INCHES for found in UNIT.findall(heading))


def near_headings(heading: str) -> str:
    """The nearest heading that would be read, or "". Example: near_headings("Thickness 11") names "thickness 1"."""
    return next(iter(difflib.get_close_matches(plain(heading), _INDEX, n=1, cutoff=0.75)), "")


_INDEX = {plain(name): field for field, names in HEADINGS.items() for name in names}
