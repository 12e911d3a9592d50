"""Which column is which: the headings that lists of welds carry, own wording and trade terms."""

import difflib
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field

from django.utils.translation import gettext

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
    "heat_1": ("heat 1", "heat number 1", "heat no 1", "cast 1", "heat part 1", "heat a"),
    "heat_2": ("heat 2", "heat number 2", "heat no 2", "cast 2", "heat part 2", "heat b"),
    "t_both": ("t", "thickness", "plate thickness", "parent thickness", "wall thickness"),
    "t1_mm": ("t1", "thickness 1", "plate thickness 1", "thickness part 1", "parent thickness 1", "thickness a"),
    "t2_mm": ("t2", "thickness 2", "plate thickness 2", "thickness part 2", "parent thickness 2", "thickness b"),
    "throat_mm": ("a", "throat", "throat a", "throat thickness", "fillet throat", "fillet throat a", "a size"),
    "leg_mm": ("z", "leg", "leg z", "leg length", "fillet leg", "fillet leg z", "leg size"),
    "penetration_mm": ("s", "weld depth", "penetration", "depth of penetration", "effective throat", "pjp depth"),
    "length_mm": ("length", "weld length", "l", "seam length"),
    "intermittent": ("intermittent", "intermittent weld", "stitch", "stitch weld"),
    "element_length_mm": ("element length", "segment length", "length of elements", "length of each element"),
    "element_gap_mm": ("element gap", "gap between elements", "clear gap", "clear gap between elements"),
    "element_pitch": ("pitch", "element pitch", "weld pitch", "centre to centre", "pitch of elements"),
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
    "tack_spacing_mm": ("tack spacing", "tack pitch", "spacing of tacks", "tack spacing centre to centre"),
    "weld_date": ("weld date", "welding date", "date", "to be welded on", "planned date"),
    "remarks": ("remarks", "remark", "note", "notes", "comment", "comments"),
    "model_id": ("model id", "identity in the model", "global id", "globalid", "guid", "ifc guid"),
}  # fmt: skip

TITLES: Mapping[str, str] = {
    "assembly": "Assembly",
    "assembly_title": "Assembly title",
    "assembly_kind": "Assembly kind",
    "number": "Joint number",
    "weld_type": "Weld type",
    "joint_type": "Joint type",
    "product": "Product",
    "grade_1": "Grade 1",
    "grade_2": "Grade 2",
    "grade_both": "Grade of both parts",
    "heat_1": "Heat 1",
    "heat_2": "Heat 2",
    "t1_mm": "Thickness 1",
    "t2_mm": "Thickness 2",
    "t_both": "Thickness of both parts",
    "throat_mm": "Throat a",
    "leg_mm": "Leg z",
    "penetration_mm": "Weld depth",
    "length_mm": "Length",
    "intermittent": "Intermittent",
    "element_length_mm": "Element length",
    "element_gap_mm": "Gap between elements",
    "element_pitch": "Pitch of elements",
    "diameter_mm": "Outside diameter",
    "rotated": "Pipe rotated",
    "branch_angle_deg": "Branch angle",
    "position": "Position",
    "weld_detail": "Weld detail",
    "gouging": "Root gouging",
    "preparation": "Joint preparation",
    "final_process": "Process",
    "final_workstation": "Workstation",
    "tack_process": "Tack process",
    "tack_workstation": "Tack workstation",
    "tack_length_mm": "Tack length",
    "tack_throat_mm": "Tack throat",
    "tack_spacing_mm": "Tack spacing",
    "weld_date": "Weld date",
    "remarks": "Remarks",
    "model_id": "Model id",
}
"""Our columns in the order of the list, each with the heading that is written and read best."""

NEEDED: Mapping[str, str] = {name: TITLES[name] for name in ("assembly", "number", "weld_type", "t1_mm")}
"""The columns that every list must have."""

LENGTHS = frozenset(name for name in TITLES if name.endswith("_mm")) | {"t_both", "element_pitch"}
INCH = "in"
INCHES, FEET = {"in", "inch", "inches", '"'}, {"ft", "foot", "feet", "'"}


@dataclass(frozen=True, slots=True)
class Columns:
    """Column index -> field, the headings as written, what was not read, and the columns in inches."""

    fields: Mapping[int, str]
    headings: tuple[str, ...]
    ignored: tuple[str, ...]
    inches: Collection[int] = field(default_factory=frozenset)

    def heading(self, field: str) -> str:
        """The heading under which a field was found, or its name in words."""
        found = (self.headings[index] for index, name in self.fields.items() if name == field)
        return next(found, field.replace("_", " "))


@dataclass(frozen=True, slots=True)
class Guess:
    """One column of a list beside the best guess; `field` is "" where nothing is near it.

    `taken_by`: the heading that is nearer to what this one says too, so that it was left open.
    """

    index: int
    heading: str
    field: str
    unit: str
    is_sure: bool
    taken_by: str = ""


def columns(head: Sequence[Cell]) -> Columns:
    """The fields of a heading row by their names alone. Raises Refusal where one is missing or doubled."""
    headings = written_headings(head)
    sure = _sure(headings)
    feet = [headings[i] for i, name in sure.items() if name in LENGTHS and FEET & _units(headings[i])]
    if feet:
        raise Refusal(
            gettext("The column “%(feet)s” is in feet; sizes are read in mm or in inches. Convert it first.")
            % {"feet": feet[0]}
        )
    return named(head, sure, {i for i in sure if _in_inches(headings[i])})


def guesses(head: Sequence[Cell]) -> list[Guess]:
    """What each column may be; of several that say the same only the nearest is guessed, the others are left open.

    Example: of "No", "Seam" and "Joint number" the last is guessed to be the joint number.
    """
    headings = written_headings(head)
    sure = _sure(headings)
    near = {i: _INDEX.get(near_headings(h), "") if h and i not in sure else "" for i, h in enumerate(headings)}
    said = {i: sure.get(i) or name for i, name in near.items()}
    nearest: dict[str, int] = {}
    for index in sorted(said, key=lambda i: (i not in sure, _distance(headings[i], said[i]), i)):
        nearest.setdefault(said[index], index)
    found = []
    for index, heading in enumerate(headings):
        name = said[index]
        stands = bool(name) and nearest[name] == index
        other = "" if stands or not name else headings[nearest[name]]
        unit = INCH if _in_inches(heading) else "mm"
        found.append(Guess(index, heading, name if stands else "", unit, stands and index in sure, other))
    return found


def _sure(headings: Sequence[str]) -> dict[int, str]:
    """The columns whose heading is one that is known, each with its field."""
    return {i: _INDEX[plain(h)] for i, h in enumerate(headings) if h and plain(h) in _INDEX}


def _distance(heading: str, name: str) -> int:
    """How far a heading is from the one that our lists write; headings that we do not know stand last."""
    known = [plain(one) for one in (TITLES.get(name, ""), *HEADINGS.get(name, ()))]
    return known.index(plain(heading)) if plain(heading) in known else len(known)


def named(head: Sequence[Cell], fields: Mapping[int, str], inches: Collection[int] = ()) -> Columns:
    """The columns as somebody named them. Raises Refusal where one is missing, doubled or none of ours."""
    headings = written_headings(head)
    kept: dict[int, str] = {}
    for index, name in sorted(fields.items()):
        if name not in TITLES or not 0 <= index < len(headings):
            raise Refusal(
                gettext("Column %(index)s is named “%(name)s”, which is no column of ours. Choose it again.")
                % {"index": index + 1, "name": name[:40]}
            )
        if name in kept.values():
            other = headings[next(i for i, n in kept.items() if n == name)]
            raise Refusal(
                gettext("Two columns say the same: “%(other)s” and “%(headings)s”. Keep one of them.")
                % {"other": other, "headings": headings[index]}
            )
        kept[index] = name
    _complete(kept, headings)
    ignored = tuple(h for i, h in enumerate(headings) if h and i not in kept)
    lengths = frozenset(i for i in inches if kept.get(i) in LENGTHS)
    return Columns(kept, headings, ignored, lengths)


def written_headings(head: Sequence[Cell]) -> tuple[str, ...]:
    """The headings as text."""
    return tuple(str(cell).strip() for cell in head)


def _complete(found: Mapping[int, str], headings: Sequence[str]) -> None:
    held = set(found.values())
    both = {"t1_mm": "t_both"}
    missing = [label for name, label in NEEDED.items() if name not in held and both.get(name) not in held]
    pairs = (
        ("t_both", ("t1_mm", "t2_mm")),
        ("grade_both", ("grade_1", "grade_2")),
        ("element_pitch", ("element_gap_mm",)),
    )
    for one, two in pairs:
        if one in held and held & set(two):
            raise Refusal(
                gettext("Two columns speak of the same in two ways (%(found)s). Keep one kind.")
                % {"found": ", ".join(headings[i] for i, f in found.items() if f == one or f in two)}
            )
    if missing:
        raise Refusal(_refusal(missing, ", ".join(h for h in headings if h) or "none", any_known=bool(held)))


def _refusal(missing: Sequence[str], row: str, any_known: bool) -> str:
    if any_known:
        return gettext("%(missing)s The list has: %(value)s.") % {"missing": _columns_missing(missing), "value": row}
    names = ", ".join(f"“{label}”" for label in missing)
    return gettext(
        "The first row holds no heading that is known: it reads %(row)s. A row of headings with at least %(names)s "
        "must stand above the welds."
    ) % {"row": row[:300], "names": names}


def _columns_missing(missing: Sequence[str]) -> str:
    names = ", ".join(f"“{label}”" for label in missing)
    return (
        gettext("The column %(names)s is missing.") % {"names": names}
        if len(missing) == 1
        else gettext("The columns %(names)s are missing.") % {"names": names}
    )


def _in_inches(heading: str) -> bool:
    return bool(INCHES & _units(heading))


def _units(heading: str) -> set[str]:
    return {(found[0] or "").strip().casefold() for found in UNIT.findall(heading)}


def near_headings(heading: str) -> str:
    """The nearest heading that would be read, or "". Example: near_headings("Thickness 11") names "thickness 1"."""
    return next(iter(difflib.get_close_matches(plain(heading), _INDEX, n=1, cutoff=0.75)), "")


_INDEX = {plain(name): field for field, names in HEADINGS.items() for name in names}
